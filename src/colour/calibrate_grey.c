/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Exposure, white balance, tone and uneven light from neutral references of known lightness. */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/greys_parts.h"

enum { ROUNDS = 20 };
static const double alike_lstar = 1;  /* within it references are of one lightness, and show the light */
static const double disagreement = 2; /* L*: from here on a warning */

/* Standard uncertainty: a camera's own contrast (choice: exponent 1 +- 0.15) moves hair of L* 30 against the
 * card; mixing of channels and a card that isn't quite neutral leave about 3 in a* and b* (choice). */
static const double contrast_u = 0.15, hair_lstar = 30, u_ab_grey = 3;

typedef struct fitting {
    tdm_grey_measured *greys;
    size_t count;
    uint32_t width, height;
    double at[2]; /* the references' middle, whose light counts as 1 */
    double half;  /* of the picture's longer side */
    size_t *group;
    tdm_plane_row *rows;
    double *misfits, *scratch, *weights;
    const tdm_light *known; /* NULL: to be found */
    bool pairs, curved;     /* references of one lightness; three steps or more */
    tdm_plane plane;
    tdm_calibration calibration;
} fitting;

static bool start_fitting(fitting *work, size_t count, uint32_t width, uint32_t height)
{
    *work = (fitting){.count = count, .width = width, .height = height, .plane.significance = 0};
    work->half = (width > height ? width : height) / 2.0;
    work->greys = calloc(count, sizeof *work->greys);
    work->group = calloc(count, sizeof *work->group);
    work->rows = calloc(count, sizeof *work->rows);
    work->misfits = calloc(3 * count, sizeof *work->misfits);
    if (!work->greys || !work->group || !work->rows || !work->misfits)
        return false;
    work->scratch = work->misfits + count;
    work->weights = work->scratch + count;
    return true;
}

static void end_fitting(fitting *work)
{
    free(work->greys);
    free(work->group);
    free(work->rows);
    free(work->misfits);
}

/* Each reference joins the first one that is of its lightness. */
static void find_groups(fitting *work)
{
    for (size_t i = 0; i < work->count; i++) {
        work->at[0] += work->greys[i].middle[0] / (double)work->count;
        work->at[1] += work->greys[i].middle[1] / (double)work->count;
        work->group[i] = i;
        for (size_t j = 0; j < i; j++) {
            if (work->group[j] == j && fabs(work->greys[i].lstar - work->greys[j].lstar) <= alike_lstar) {
                work->group[i] = j;
                work->pairs = true;
                break;
            }
        }
    }
}

/* Per channel the factor on cube roots, in which errors are about even in lightness. */
static void fit_gains(fitting *work)
{
    for (int c = 0; c < 3; c++) {
        double product = 0, square = 0;
        for (size_t i = 0; i < work->count; i++) {
            const tdm_grey_measured *grey = &work->greys[i];
            double factors[3];
            tdm_light_at(&work->calibration.light, grey->middle[0], grey->middle[1], factors);
            const double in = cbrt(grey->rgb[c]), wanted = cbrt(grey->wanted / factors[c]);
            product += grey->weight * in * wanted;
            square += grey->weight * in * in;
        }
        work->calibration.gain[c] = pow(product / square, 3);
    }
}

static void fit_tone(fitting *work)
{
    work->curved = tdm_greys_curve(work->greys, work->count, &work->calibration.light, &work->calibration);
    if (!work->curved) {
        work->calibration.knots = 0;
        fit_gains(work);
    }
}

/* Corrected over wanted, stops a channel; lit: with the light taken out. */
static void ratio_of(const fitting *work, size_t index, bool lit, double stops[3])
{
    const tdm_grey_measured *grey = &work->greys[index];
    double factors[3] = {1, 1, 1};
    if (lit)
        tdm_light_at(&work->calibration.light, grey->middle[0], grey->middle[1], factors);
    for (int c = 0; c < 3; c++)
        stops[c] =
            log2(factors[c] * tdm_calibration_channel(&work->calibration, c, grey->rgb[c]) / grey->wanted);
}

/* Place and ratio against the mean of the reference's group: tone cancels, light stays. */
static void fill_rows(fitting *work)
{
    for (size_t i = 0; i < work->count; i++) {
        const tdm_grey_measured *grey = &work->greys[i];
        tdm_plane_row *row = &work->rows[i];
        *row = (tdm_plane_row){.weight = grey->weight};
        row->basis[1] = (grey->middle[0] - work->at[0]) / work->half;
        row->basis[2] = (grey->middle[1] - work->at[1]) / work->half;
        ratio_of(work, i, false, row->y);
    }
}

static void take_group_mean(fitting *work, size_t group)
{
    double sum = 0, mean[6] = {0};
    for (size_t i = 0; i < work->count; i++) {
        const tdm_plane_row *row = &work->rows[i];
        if (work->group[i] != group)
            continue;
        sum += row->weight;
        for (int k = 0; k < 3; k++) {
            mean[k] += row->weight * row->basis[k];
            mean[3 + k] += row->weight * row->y[k];
        }
    }
    for (size_t i = 0; sum > 0 && i < work->count; i++) {
        for (int k = 0; work->group[i] == group && k < 3; k++) {
            work->rows[i].basis[k] -= mean[k] / sum;
            work->rows[i].y[k] -= mean[3 + k] / sum;
        }
    }
}

static void fit_light(fitting *work)
{
    const double prior[3] = {1, tdm_slope_prior, tdm_slope_prior};
    fill_rows(work);
    for (size_t i = 0; i < work->count; i++) {
        if (work->group[i] == i)
            take_group_mean(work, i);
    }
    tdm_plane_fit(work->rows, work->count, prior, &work->plane);
    work->calibration.light = tdm_light_of_plane(&work->plane, work->width, work->height, work->at, 0);
}

static void weigh(fitting *work)
{
    for (size_t i = 0; i < work->count; i++) {
        double stops[3];
        ratio_of(work, i, true, stops);
        work->misfits[i] = sqrt((stops[0] * stops[0] + stops[1] * stops[1] + stops[2] * stops[2]) / 3);
    }
    tdm_huber_weights(work->misfits, work->count, work->scratch, work->weights);
    for (size_t i = 0; i < work->count; i++)
        work->greys[i].weight = work->weights[i];
}

/* Tone and light in turns: each is judged with the other taken out. */
static void fit(fitting *work, bool with_light)
{
    work->calibration.light = work->known ? *work->known : (tdm_light){0};
    for (size_t i = 0; i < work->count; i++)
        work->greys[i].weight = 1;
    for (int round = 0; round < ROUNDS; round++) {
        fit_tone(work);
        if (with_light)
            fit_light(work);
        weigh(work);
    }
    fit_tone(work);
}

/* Root mean square of what is left: in L* as cube roots say it, and in stops for the light. */
static double misfit(fitting *work)
{
    double square = 0, stops_square = 0;
    for (size_t i = 0; i < work->count; i++) {
        double stops[3];
        ratio_of(work, i, true, stops);
        for (int c = 0; c < 3; c++) {
            const double miss = cbrt(work->greys[i].wanted) * (exp2(stops[c] / 3) - 1);
            square += miss * miss / (3 * (double)work->count);
            stops_square += stops[c] * stops[c] / (3 * (double)work->count);
        }
    }
    tdm_light *light = &work->calibration.light;
    if (light->degree > 0 && !work->known)
        light->misfit = tdm_plane_misfit(light, work->greys, work->count, sqrt(stops_square));
    return 116 * sqrt(square); /* L* is 116 cube roots of Y, less 16 */
}

static void set_drift(fitting *work)
{
    const double one = 1 / work->half;
    for (int k = 0; k < 2; k++) {
        for (int c = 0; work->calibration.light.degree == 0 && c < 3; c++)
            work->calibration.drift[k] += work->plane.terms[c][1 + k] * one / 3;
    }
    work->calibration.drift_var[0] = work->plane.variance[4] * one * one;
    work->calibration.drift_var[1] = work->plane.variance[5] * one * one;
    work->calibration.drift_var[2] = work->plane.variance[8] * one * one;
}

/* What the camera's contrast may still do to hair. */
static double contrast_left(const fitting *work, const tdm_step_check *steps)
{
    double nearest = work->greys[0].lstar;
    if (work->curved)
        return tdm_contrast_error(hair_lstar, steps->below, steps->above, contrast_u);
    for (size_t i = 1; i < work->count; i++) {
        if (fabs(work->greys[i].lstar - hair_lstar) < fabs(nearest - hair_lstar))
            nearest = work->greys[i].lstar;
    }
    return tdm_contrast_error(hair_lstar, nearest <= hair_lstar ? nearest : NAN,
                              nearest > hair_lstar ? nearest : NAN, contrast_u);
}

static tdm_code warn_disagreement(double spread, const tdm_step_check *steps, tdm_warnings *warnings,
                                  tdm_error *error)
{
    if (spread > disagreement)
        return tdm_warn(
            warnings, error, "grey-disagrees", NULL,
            "the grey references disagree by %ld in L* after the correction: the light is uneven in a way "
            "that they don't show, or a stated lstar is wrong; check them, or mark greys of one lightness at "
            "several places",
            lround(spread));
    if (steps->worst > 0)
        return tdm_warn(
            warnings, error, "grey-disagrees", NULL,
            "the grey references around L* %ld don't go together: one is further off the others' curve "
            "than a camera's tone is; check its lstar, and that no shadow or glare lies on it",
            lround(steps->worst_lstar));
    return TDM_OK;
}

static tdm_code judge(fitting *work, tdm_warnings *warnings, tdm_error *error)
{
    tdm_calibration *out = &work->calibration;
    const double spread = misfit(work);
    const tdm_step_check steps =
        work->curved ? tdm_greys_check_steps(out, hair_lstar) : (tdm_step_check){.near = 0};
    out->method = TDM_CALIBRATION_GREY;
    /* A step is only half as far off as a curve that leaps over it. */
    out->u_lstar = hypot(hypot(contrast_left(work, &steps), spread), steps.near / 2);
    out->u_ab = u_ab_grey;
    out->middle[0] = work->at[0];
    out->middle[1] = work->at[1];
    if (work->pairs && !work->known)
        set_drift(work);
    tdm_code code = warn_disagreement(spread, &steps, warnings, error);
    if (code == TDM_OK && out->light.degree > 0 && !work->known)
        code = tdm_warn_uneven(&out->light, work->greys, work->count, warnings, error);
    return code;
}

tdm_code tdm_calibrate_grey(const tdm_device *device, const tdm_pixels *pixels, const tdm_grey *greys,
                            size_t count, uint32_t width, uint32_t height, const tdm_light *light,
                            const char *file, tdm_warnings *warnings, tdm_calibration *out, tdm_error *error)
{
    if (count == 0)
        return tdm_fail(error, TDM_ERR_USAGE, file, "grey", "no grey reference was given");
    fitting work;
    tdm_code code = start_fitting(&work, count, width, height) ? TDM_OK : tdm_fail_memory(error, file);
    if (code == TDM_OK)
        code = tdm_greys_measure(device, pixels, greys, count, file, work.greys, error);
    if (code == TDM_OK) {
        work.calibration = tdm_calibration_none(device);
        work.known = light;
        find_groups(&work);
        fit(&work, work.pairs && !light);
        if (work.pairs && !light && work.plane.significance < tdm_clearly_uneven)
            fit(&work, false);
        code = judge(&work, warnings, error);
    }
    if (code == TDM_OK)
        *out = work.calibration;
    end_fitting(&work);
    return code;
}
