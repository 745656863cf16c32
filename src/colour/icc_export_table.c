/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves, table, curves and a matrix (lutAToBType). The table is over the corrected channels' lightness, or
 * over the device's own numbers, and gives the lightness of channels that the calibration's matrix takes to
 * XYZ: neutrals lie on straight lines in it, and saturated colours that are small differences of large
 * numbers are left to the matrix. */
#include <math.h>
#include <stdlib.h>

#include "colour/icc_export_parts.h"
#include "colour/matrix.h"

enum { SIDE = 33, NODES = SIDE * SIDE * SIDE };

static const double lowest = -1000;                   /* lightness; a profile's numbers end at 32768 */
static const double full_scale = 1 + 32767.0 / 32768; /* of XYZ in a profile */
/* Cube root of linear light below which the table's scale is straight. A short straight part keeps root terms
 * smooth where a channel goes to zero; over a device's own numbers the scale is of the output alone, and a
 * long one keeps channels smooth that go through zero. Found by trial; choices. */
static const double kink_of_curves = 0.1, kink_of_device = 0.2;

/* Cube root of a channel, from its tangent at the kink down straight on, also below zero; 0 at 0, 1 at 1. As
 * CIE L* is built. */
static double lightness(double kink, double linear)
{
    const double zero = 2 * kink / 3;
    const double root = linear > kink * kink * kink ? cbrt(linear) : zero + linear / (3 * kink * kink);
    return (root - zero) / (1 - zero);
}

static double linear_of(double kink, double light)
{
    const double zero = 2 * kink / 3, root = zero + (1 - zero) * light;
    return root > kink ? root * root * root : 3 * kink * kink * (root - zero);
}

/* What the table holds, and between which ends. */
typedef struct content {
    double (*node)[3]; /* lightness of the matrix's channels, the last device channel runs fastest */
    double largest[3]; /* largest value of those channels, which the matrix brings back */
    double low[3];     /* lightness at the table's 0; 1 is at its 1 */
    double kink;
} content;

/* The channels that the calibration's matrix would need for the colour at a point of 0 to 1 each. */
static void channels_at(const tdm_device *device, const tdm_calibration *calibration, const double inverse[9],
                        const double *scale, const double point[3], double channels[3])
{
    if (scale) {
        for (int c = 0; c < 3; c++)
            channels[c] = scale[c] * linear_of(kink_of_curves, point[c]);
        tdm_calibration_mix(calibration, channels, channels);
    } else {
        const float rgb[3] = {(float)point[0], (float)point[1], (float)point[2]};
        tdm_icc_corrected(device, calibration, rgb, channels);
    }
    tdm_matrix_apply(inverse, channels, channels);
}

/* scale: the device's curves' largest values, NULL where it has none. False where the matrix can't be
 * inverted or all is dark. */
static bool sample(const tdm_device *device, const tdm_calibration *calibration, const double *scale,
                   content *out)
{
    double inverse[9];
    if (!tdm_matrix_invert(calibration->from_rgb, inverse))
        return false;
    for (int c = 0; c < 3; c++)
        out->largest[c] = 0;
    for (int i = 0; i < NODES; i++) {
        const double point[3] = {i / (SIDE * SIDE) / (SIDE - 1.0), i / SIDE % SIDE / (SIDE - 1.0),
                                 i % SIDE / (SIDE - 1.0)};
        channels_at(device, calibration, inverse, scale, point, out->node[i]);
        for (int c = 0; c < 3; c++)
            out->largest[c] = fmax(out->largest[c], out->node[i][c]);
    }
    return out->largest[0] > 0 && out->largest[1] > 0 && out->largest[2] > 0;
}

/* Lightness of what was sampled, as the table's 16-bit words. False where it goes too far below zero. */
static bool encode(content *from, uint16_t *table)
{
    for (int c = 0; c < 3; c++) {
        from->low[c] = 0;
        for (int i = 0; i < NODES; i++) {
            from->node[i][c] = lightness(from->kink, from->node[i][c] / from->largest[c]);
            from->low[c] = fmin(from->low[c], from->node[i][c]);
        }
        if (!(from->low[c] > lowest))
            return false;
        for (int i = 0; i < NODES; i++)
            table[3 * i + c] =
                (uint16_t)lround(65535 * (from->node[i][c] - from->low[c]) / (1 - from->low[c]));
    }
    return true;
}

static cmsStage *curve_stage(cmsContext context, cmsToneCurve *curves[3])
{
    cmsStage *stage =
        curves[0] && curves[1] && curves[2] ? cmsStageAllocToneCurves(context, 3, curves) : NULL;
    for (int c = 0; c < 3; c++)
        cmsFreeToneCurve(curves[c]);
    return stage;
}

/* Lightness of the corrected channels, or the numbers as they are. */
static cmsStage *first_curves(cmsContext context, float (*curve)[TDM_ICC_CURVE])
{
    cmsToneCurve *curves[3] = {NULL, NULL, NULL};
    for (int c = 0; curve && c < 3; c++) {
        uint16_t light[TDM_ICC_CURVE];
        for (int i = 0; i < TDM_ICC_CURVE; i++)
            light[i] = (uint16_t)lround(65535 * lightness(kink_of_curves, (double)curve[c][i]));
        curves[c] = cmsBuildTabulatedToneCurve16(context, TDM_ICC_CURVE, light);
    }
    return curve ? curve_stage(context, curves) : cmsStageAllocToneCurves(context, 3, NULL);
}

/* The table's 0 to 1 to linear light: ICC.1's function type 4. */
static cmsStage *second_curves(cmsContext context, const content *of)
{
    cmsToneCurve *curves[3] = {NULL, NULL, NULL};
    for (int c = 0; c < 3; c++) {
        const double kink = of->kink, low = of->low[c], zero = 2 * kink / 3;
        const double span = (1 - zero) * (1 - low), start = zero + (1 - zero) * low; /* of the root */
        const double straight = 3 * kink * kink;
        const double parameters[7] = {
            3, span, start, straight * span, (kink - start) / span, 0, straight * (start - zero)};
        curves[c] = cmsBuildParametricToneCurve(context, 5, parameters);
    }
    return curve_stage(context, curves);
}

static cmsStage *matrix_stage(cmsContext context, const tdm_calibration *calibration, const content *of)
{
    double m[9];
    for (int i = 0; i < 9; i++)
        m[i] = calibration->from_rgb[i] * of->largest[i % 3] / full_scale;
    return cmsStageAllocMatrix(context, 3, 3, m, NULL);
}

/* Takes the stage over in any case. */
static bool add(cmsPipeline *pipeline, cmsStage *stage)
{
    if (pipeline && stage && cmsPipelineInsertStage(pipeline, cmsAT_END, stage))
        return true;
    cmsStageFree(stage);
    return false;
}

static tdm_code write_stages(cmsContext context, cmsHPROFILE profile, const tdm_calibration *calibration,
                             float (*curve)[TDM_ICC_CURVE], const content *of, const uint16_t *table)
{
    cmsPipeline *pipeline = cmsPipelineAlloc(context, 3, 3);
    const bool made = add(pipeline, first_curves(context, curve)) &&
                      add(pipeline, cmsStageAllocCLut16bit(context, SIDE, 3, 3, table)) &&
                      add(pipeline, second_curves(context, of)) &&
                      add(pipeline, matrix_stage(context, calibration, of)) &&
                      add(pipeline, cmsStageAllocToneCurves(context, 3, NULL));
    tdm_code code = made ? TDM_OK : TDM_ERR_MEMORY;
    if (made && !cmsWriteTag(profile, cmsSigAToB0Tag, pipeline))
        code = TDM_ERR_UNUSABLE;
    cmsPipelineFree(pipeline);
    return code;
}

tdm_code tdm_icc_write_table(cmsContext context, cmsHPROFILE profile, const tdm_device *device,
                             const tdm_calibration *calibration, float (*curve)[TDM_ICC_CURVE],
                             const double largest[3])
{
    uint16_t *table = calloc(3 * NODES, sizeof *table);
    content of = {.node = calloc(NODES, sizeof *of.node), .kink = curve ? kink_of_curves : kink_of_device};
    tdm_code code = table && of.node ? TDM_OK : TDM_ERR_MEMORY;
    if (code == TDM_OK && !(sample(device, calibration, curve ? largest : NULL, &of) && encode(&of, table)))
        code = TDM_ERR_UNUSABLE;
    if (code == TDM_OK)
        code = write_stages(context, profile, calibration, curve, &of, table);
    free(of.node);
    free(table);
    return code;
}
