/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What target, greys and a flat field tell of the light: its fall, its colour, and how much of a cast the
 * correction has to take out. */
#include <gsl/gsl_linalg.h>
#include <math.h>

#include "colour/lab.h"
#include "colour/sample.h"
#include "colour/target.h"
#include "measure/quality_parts.h"

enum { PLANE = 3, FEWEST_PATCHES = 12 };
static const double mid_grey = 0.18; /* linear light */

/* A difference of colour, and how sure it is. */
typedef struct finding {
    double chroma, doubt;
} finding;

/* By what is sure of it, as a warning goes by that. */
static finding larger(finding one, finding other)
{
    return isnan(one.chroma) || other.chroma - 2 * other.doubt > one.chroma - 2 * one.doubt ? other : one;
}

double tdm_quality_cast(const tdm_calibration *calibration)
{
    double least = INFINITY, most = 0;
    if (calibration->method == TDM_CALIBRATION_ICC)
        return NAN;
    for (int channel = 0; channel < 3; channel++) {
        const double out = tdm_calibration_channel(calibration, channel, mid_grey);
        least = fmin(least, out);
        most = fmax(most, out);
    }
    return least > 0 && isfinite(most) ? log2(most / least) : INFINITY;
}

void tdm_quality_uneven(const tdm_calibration *calibration, double x, double y, double *percent,
                        double *doubt)
{
    *percent = NAN;
    *doubt = 0;
    const double dx = x - calibration->middle[0], dy = y - calibration->middle[1];
    const double *v = calibration->drift_var;
    const double variance = v[0] * dx * dx + 2 * v[1] * dx * dy + v[2] * dy * dy;
    const bool even = calibration->light.degree > 0; /* taken out, but for what it was shown by */
    const double stops =
        even ? calibration->light.misfit : fabs(calibration->drift[0] * dx + calibration->drift[1] * dy);
    if (!even && (calibration->method == TDM_CALIBRATION_ICC || !isfinite(variance) || !isfinite(stops)))
        return;
    *percent = 100 * (exp2(stops) - 1);
    /* A flat field shows every place; greys, or the target, only their own. */
    if (isfinite(variance) && (!even || calibration->method == TDM_CALIBRATION_GREY))
        *doubt = 100 * exp2(stops) * log(2) * sqrt(fmax(variance, 0));
}

/* Sums of a plane through what the patches' a* and b* are off by, over the block: x and y from -1/2 to 1/2.
 */
typedef struct sums {
    double matrix[PLANE * PLANE], right[2][PLANE], squares;
    int count;
} sums;

static sums add_patches(const tdm_patch_result *results, const tdm_reference *reference)
{
    sums out = {0};
    for (int i = 0; i < TDM_PATCHES; i++) {
        const double term[PLANE] = {1, (i % TDM_TARGET_COLUMNS) / (TDM_TARGET_COLUMNS - 1.0) - 0.5,
                                    (i / TDM_TARGET_COLUMNS) / (TDM_TARGET_ROWS - 1.0) - 0.5};
        if (results[i].state != TDM_PATCH_KEPT || !isfinite(results[i].after[1]))
            continue;
        for (int c = 0; c < 2; c++) {
            const double off = results[i].after[c + 1] - reference->lab[i][c + 1];
            for (int k = 0; k < PLANE; k++)
                out.right[c][k] += term[k] * off;
            out.squares += off * off;
        }
        for (int k = 0; k < PLANE * PLANE; k++)
            out.matrix[k] += term[k / PLANE] * term[k % PLANE];
        out.count++;
    }
    return out;
}

/* From one corner of the block to the opposite one, whichever pair differs more. */
static finding over_target(const tdm_patch_result *results, const tdm_reference *reference)
{
    finding most = {NAN, 0};
    sums all = add_patches(results, reference);
    double slope[2][PLANE], explained = 0;
    gsl_matrix_view matrix = gsl_matrix_view_array(all.matrix, PLANE, PLANE);
    if (all.count < FEWEST_PATCHES || gsl_linalg_cholesky_decomp1(&matrix.matrix) != GSL_SUCCESS)
        return most;
    for (int c = 0; c < 2; c++) {
        const gsl_vector_const_view right = gsl_vector_const_view_array(all.right[c], PLANE);
        gsl_vector_view solved = gsl_vector_view_array(slope[c], PLANE);
        if (gsl_linalg_cholesky_solve(&matrix.matrix, &right.vector, &solved.vector) != GSL_SUCCESS)
            return most;
        for (int k = 0; k < PLANE; k++)
            explained += slope[c][k] * all.right[c][k];
    }
    const double variance = fmax(all.squares - explained, 0) / (2.0 * (all.count - PLANE));
    for (int way = -1; way <= 1; way += 2) {
        double way_of[PLANE] = {0, 1, way}, spread;
        gsl_vector_view vector = gsl_vector_view_array(way_of, PLANE);
        const double chroma = hypot(slope[0][1] + way * slope[0][2], slope[1][1] + way * slope[1][2]);
        (void)gsl_linalg_cholesky_svx(&matrix.matrix, &vector.vector);
        spread = way_of[1] + way * way_of[2];
        most = larger(most, (finding){chroma, sqrt(variance * spread)});
    }
    return most;
}

static double left_colour(const tdm_calibration *calibration, const double rgb[3], const double at[2])
{
    double corrected[3], factors[3], xyz[3], lab[3];
    tdm_light_at(&calibration->light, at[0], at[1], factors);
    for (int c = 0; c < 3; c++)
        corrected[c] = factors[c] * tdm_calibration_channel(calibration, c, rgb[c]);
    tdm_calibration_mix(calibration, corrected, xyz);
    tdm_xyz_to_lab(xyz, lab);
    return tdm_chroma(lab);
}

static void middle_of(const tdm_polyline *polygon, double at[2])
{
    at[0] = at[1] = 0;
    for (size_t i = 0; i < 2 * polygon->count; i++)
        at[i % 2] += polygon->xy[i] / (double)polygon->count;
}

/* Greys are neutral: colour on them that the target's correction leaves is the light's. */
static tdm_code on_greys(const tdm_quality_input *input, finding *most, tdm_error *error)
{
    for (size_t i = 0; i < input->marks->grey_count; i++) {
        const tdm_polyline *polygon = &input->marks->greys[i].polygon;
        tdm_sample sample;
        const tdm_code code =
            tdm_sample_polygon(input->device, input->pixels, polygon->xy, polygon->count, &sample, error);
        if (code != TDM_OK)
            return code;
        if (sample.used == 0)
            continue;
        double at[2];
        middle_of(polygon, at);
        *most = larger(*most,
                       (finding){left_colour(input->calibration, sample.rgb, at), input->calibration->u_ab});
    }
    return TDM_OK;
}

/* A neutral surface of L* 50 in the light of each zone, as the flat field shows it. */
static finding over_zones(const tdm_quality_input *input)
{
    finding most = {NAN, 0};
    static const double neutral = 0.1842; /* Y of L* 50 */
    for (size_t i = 0; i < input->marks->zone_count; i++) {
        const tdm_polyline *path = &input->marks->zones[i].path;
        const double *at = path->xy + 2 * (path->count / 2);
        double factors[3], rgb[3], xyz[3], lab[3];
        tdm_light_at(&input->calibration->light, at[0], at[1], factors);
        for (int c = 0; c < 3; c++)
            rgb[c] = neutral / factors[c];
        const double *m = tdm_device_primaries(input->device);
        for (int c = 0; c < 3; c++)
            xyz[c] = m[3 * c] * rgb[0] + m[3 * c + 1] * rgb[1] + m[3 * c + 2] * rgb[2];
        tdm_xyz_to_lab(xyz, lab);
        most = larger(most, (finding){tdm_chroma(lab), 0});
    }
    return most;
}

tdm_code tdm_quality_mixed(const tdm_quality_input *input, double *chroma, double *doubt, tdm_error *error)
{
    const tdm_calibration *calibration = input->calibration;
    finding most = {NAN, 0};
    tdm_code code = TDM_OK;
    if (calibration->light.degree > 0)
        most = larger(most, over_zones(input));
    if (input->results && input->reference)
        most = larger(most, over_target(input->results, input->reference));
    if (calibration->method == TDM_CALIBRATION_TARGET)
        code = on_greys(input, &most, error);
    *chroma = most.chroma;
    *doubt = most.doubt;
    return code;
}
