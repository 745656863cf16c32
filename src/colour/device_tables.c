/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A profile turned into tables where its form allows it, else into an lcms2 transform; proven sane by a probe
 * over its whole range. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/device_parts.h"
#include "colour/lab.h"
#include "colour/matrix.h"

/* sRGB's colorants adapted to D50 by Bradford, columns red, green, blue: computed from IEC 61966-2-1's
 * primaries and white. */
static const double srgb_primaries[9] = {0.4360657, 0.3851515, 0.1430784, 0.2224932, 0.7168870,
                                         0.0606169, 0.0139239, 0.0970813, 0.7140992};

static tdm_code refuse(const char *file, const char *why, tdm_error *error)
{
    return tdm_fail(error, TDM_ERR_FORMAT, file, "colour profile", "%s; %s", why, TDM_PROFILE_ADVICE);
}

/* Scales the columns so that equal RGB is exactly the PCS white's XYZ. */
static bool balance(double primaries[9], double scale[3])
{
    double inverse[9];
    if (!tdm_matrix_invert(primaries, inverse))
        return false;
    tdm_matrix_apply(inverse, tdm_white_d50, scale);
    for (int c = 0; c < 3; c++) {
        if (!(scale[c] > 0.5 && scale[c] < 2))
            return false;
        for (int row = 0; row < 3; row++)
            primaries[3 * row + c] *= scale[c];
    }
    return true;
}

static bool read_colorants(cmsHPROFILE profile, double primaries[9])
{
    const cmsTagSignature tags[3] = {cmsSigRedColorantTag, cmsSigGreenColorantTag, cmsSigBlueColorantTag};
    for (int c = 0; c < 3; c++) {
        const cmsCIEXYZ *colorant = cmsReadTag(profile, tags[c]);
        if (!colorant)
            return false;
        primaries[c] = colorant->X;
        primaries[3 + c] = colorant->Y;
        primaries[6 + c] = colorant->Z;
    }
    return true;
}

/* lcms2 prefers any of these tables to curves and matrix. */
static bool has_lut(cmsHPROFILE profile)
{
    const cmsTagSignature tags[] = {cmsSigAToB0Tag, cmsSigAToB1Tag, cmsSigAToB2Tag, cmsSigDToB0Tag,
                                    cmsSigDToB1Tag, cmsSigDToB2Tag, cmsSigDToB3Tag};
    for (size_t i = 0; i < sizeof tags / sizeof tags[0]; i++) {
        if (cmsIsTag(profile, tags[i]))
            return true;
    }
    return false;
}

static bool fill_channel(const cmsToneCurve *curve, double scale, float *table)
{
    for (int code = 0; code < TDM_CODES; code++) {
        const double linear = (double)cmsEvalToneCurveFloat(curve, (float)code / (TDM_CODES - 1)) / scale;
        if (!(linear >= -1 && linear <= 4))
            return false;
        table[code] = (float)linear;
    }
    return true;
}

/* False where the profile isn't of that form, or its numbers are out of reason: lcms2 then does all. */
static bool fill_shaper(tdm_device *device, cmsHPROFILE profile)
{
    const cmsTagSignature tags[3] = {cmsSigRedTRCTag, cmsSigGreenTRCTag, cmsSigBlueTRCTag};
    double primaries[9], scale[3];
    if (has_lut(profile) || cmsGetPCS(profile) != cmsSigXYZData || !read_colorants(profile, primaries) ||
        !balance(primaries, scale))
        return false;
    for (int c = 0; c < 3; c++) {
        const cmsToneCurve *curve = cmsReadTag(profile, tags[c]);
        if (!curve || !fill_channel(curve, scale[c], device->table + (size_t)c * TDM_CODES))
            return false;
    }
    memcpy(device->primaries, primaries, sizeof primaries);
    device->kind = TDM_DEVICE_SHAPER;
    return true;
}

static bool sane(const float xyz[3])
{
    for (int i = 0; i < 3; i++) {
        if (!(xyz[i] >= -1 && xyz[i] <= 4))
            return false;
    }
    return true;
}

static bool fill_grey(tdm_device *device)
{
    for (int code = 0; code < TDM_CODES; code++) {
        const float value = (float)code / (TDM_CODES - 1);
        float *xyz = device->table + 3 * (size_t)code;
        cmsDoTransform(device->transform, &value, xyz, 1);
        if (!sane(xyz))
            return false;
    }
    device->kind = TDM_DEVICE_GREY;
    return true;
}

/* Relative colorimetric, no black point compensation, floating point throughout. */
static cmsHTRANSFORM make_transform(cmsContext context, const tdm_profile *profile)
{
    cmsHPROFILE xyz = cmsCreateXYZProfileTHR(context);
    if (!xyz)
        return NULL;
    cmsHTRANSFORM transform = cmsCreateTransformTHR(
        context, profile->handle, profile->grey ? TYPE_GRAY_FLT : TYPE_RGB_FLT, xyz, TYPE_XYZ_FLT,
        INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE);
    cmsCloseProfile(xyz);
    return transform;
}

/* Every corner and a grid of 9 a side must give finite XYZ, and white must be lighter than black. */
static bool probe(const tdm_device *device)
{
    enum { SIDE = 9 };
    float black[3] = {0}, white[3] = {0};
    for (int i = 0; i < SIDE * SIDE * SIDE; i++) {
        const float rgb[3] = {(float)(i % SIDE) / (SIDE - 1), (float)(i / SIDE % SIDE) / (SIDE - 1),
                              (float)(i / (SIDE * SIDE)) / (SIDE - 1)};
        float xyz[3];
        if (device->kind == TDM_DEVICE_LCMS)
            cmsDoTransform(device->transform, rgb, xyz, 1);
        else
            tdm_device_to_xyz(device, rgb, xyz, 1);
        if (!sane(xyz))
            return false;
        memcpy(i == 0 ? black : white, xyz, sizeof xyz);
    }
    return white[1] - black[1] > 0.2F;
}

tdm_code tdm_device_fill(tdm_device *device, const tdm_profile *profile, const char *file, tdm_error *error)
{
    static const size_t table_size = 3 * (size_t)TDM_CODES * sizeof *device->table;
    double scale[3];
    memcpy(device->primaries, srgb_primaries, sizeof srgb_primaries);
    (void)balance(device->primaries, scale); /* to the last digits of the white */
    device->kind = TDM_DEVICE_LCMS;
    device->table = malloc(table_size);
    if (!device->table)
        return tdm_fail_memory(error, file);
    device->transform = make_transform(device->context, profile);
    if (!device->transform)
        return tdm_fail(error, TDM_ERR_FORMAT, file, "colour profile",
                        "the colour profile can't be used (%s); %s", device->message.text,
                        TDM_PROFILE_ADVICE);
    if (profile->grey && !fill_grey(device))
        return refuse(file, "the colour profile gives values that are no colours", error);
    if (!profile->grey)
        (void)fill_shaper(device, profile->handle);
    if (device->kind == TDM_DEVICE_LCMS) {
        free(device->table);
        device->table = NULL;
    } else {
        cmsDeleteTransform(device->transform);
        device->transform = NULL;
    }
    return probe(device) ? TDM_OK
                         : refuse(file, "the colour profile gives values that are no colours", error);
}
