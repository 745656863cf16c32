/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves and a matrix, where the calibration leaves the device in that form. */
#include <math.h>

#include "colour/device_parts.h"
#include "colour/icc_export_parts.h"
#include "colour/matrix.h"

void tdm_icc_corrected(const tdm_device *device, const tdm_calibration *calibration, const float rgb[3],
                       double xyz[3])
{
    float seen[3];
    tdm_device_to_xyz(device, rgb, seen, 1);
    for (int k = 0; k < 3; k++)
        xyz[k] = (double)seen[k];
    tdm_matrix_apply(calibration->to_rgb, xyz, xyz);
    for (int c = 0; c < 3; c++)
        xyz[c] = tdm_calibration_channel(calibration, c, xyz[c]);
    tdm_calibration_mix(calibration, xyz, xyz);
}

static double linear_at(const float *table, int index)
{
    const double place = (double)index * (TDM_CODES - 1) / (TDM_ICC_CURVE - 1);
    const int below = (int)place < TDM_CODES - 1 ? (int)place : TDM_CODES - 2;
    const double low = (double)table[below], high = (double)table[below + 1];
    return low + (place - below) * (high - low);
}

bool tdm_icc_curves(const tdm_device *device, const tdm_calibration *calibration,
                    float curve[3][TDM_ICC_CURVE], double largest[3])
{
    if (device->kind != TDM_DEVICE_SHAPER || !tdm_calibration_starts_at(calibration, device))
        return false;
    for (int c = 0; c < 3; c++) {
        const float *table = device->table + (size_t)c * TDM_CODES;
        largest[c] = 0;
        for (int i = 0; i < TDM_ICC_CURVE; i++) {
            const double value = tdm_calibration_channel(calibration, c, linear_at(table, i));
            curve[c][i] = (float)fmax(value, 0); /* a curve in a profile can't be below zero */
            largest[c] = fmax(largest[c], (double)curve[c][i]);
        }
        if (!(largest[c] > 0 && largest[c] < 1e3))
            return false;
        for (int i = 0; i < TDM_ICC_CURVE; i++)
            curve[c][i] = (float)((double)curve[c][i] / largest[c]);
    }
    return true;
}

static tdm_code write_channel(cmsContext context, cmsHPROFILE profile, cmsTagSignature curve_tag,
                              cmsTagSignature colorant_tag, const float *curve, const cmsCIEXYZ *colorant)
{
    cmsToneCurve *tone = cmsBuildTabulatedToneCurveFloat(context, TDM_ICC_CURVE, curve);
    tdm_code code = tone ? TDM_OK : TDM_ERR_MEMORY;
    if (tone && !(cmsWriteTag(profile, curve_tag, tone) && cmsWriteTag(profile, colorant_tag, colorant)))
        code = TDM_ERR_UNUSABLE;
    cmsFreeToneCurve(tone);
    return code;
}

tdm_code tdm_icc_write_matrix(cmsContext context, cmsHPROFILE profile, const tdm_calibration *calibration,
                              float curve[3][TDM_ICC_CURVE], const double largest[3])
{
    static const cmsTagSignature curves[3] = {cmsSigRedTRCTag, cmsSigGreenTRCTag, cmsSigBlueTRCTag};
    static const cmsTagSignature colorants[3] = {cmsSigRedColorantTag, cmsSigGreenColorantTag,
                                                 cmsSigBlueColorantTag};
    const double *m = calibration->from_rgb;
    tdm_code code = TDM_OK;
    for (int c = 0; code == TDM_OK && c < 3; c++) {
        const cmsCIEXYZ colorant = {largest[c] * m[c], largest[c] * m[3 + c], largest[c] * m[6 + c]};
        code = write_channel(context, profile, curves[c], colorants[c], curve[c], &colorant);
    }
    return code;
}
