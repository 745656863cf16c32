/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/profiles.h"

#include <lcms2.h>
#include <math.h>
#include <stdlib.h>

#include "suite.h"

static icc pack(cmsHPROFILE profile)
{
    cmsUInt32Number size = 0;
    if (!profile || !cmsSaveProfileToMem(profile, NULL, &size))
        abort();
    icc out = {.bytes = malloc(size), .size = size};
    if (!out.bytes || !cmsSaveProfileToMem(profile, out.bytes, &size))
        abort();
    cmsCloseProfile(profile);
    return out;
}

static icc rgb(const cmsCIExyYTRIPLE *primaries, cmsToneCurve *curve)
{
    const cmsCIExyY d65 = {0.3127, 0.3290, 1};
    cmsToneCurve *const curves[3] = {curve, curve, curve};
    cmsHPROFILE profile = cmsCreateRGBProfile(&d65, primaries, curves);
    cmsFreeToneCurve(curve);
    return pack(profile);
}

static const cmsCIExyYTRIPLE srgb_primaries = {{0.64, 0.33, 1}, {0.30, 0.60, 1}, {0.15, 0.06, 1}};

icc icc_srgb(void)
{
    return pack(cmsCreate_sRGBProfile());
}

icc icc_display_p3(void)
{
    const cmsCIExyYTRIPLE p3 = {{0.680, 0.320, 1}, {0.265, 0.690, 1}, {0.150, 0.060, 1}};
    const double srgb[5] = {2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045};
    return rgb(&p3, cmsBuildParametricToneCurve(NULL, 4, srgb));
}

icc icc_gamma(double gamma)
{
    return rgb(&srgb_primaries, cmsBuildGamma(NULL, gamma));
}

icc icc_table_curves(void)
{
    uint16_t points[1024];
    for (int i = 0; i < 1024; i++)
        points[i] = (uint16_t)lround(65535 * pow(i / 1023.0, 2.0));
    return rgb(&srgb_primaries, cmsBuildTabulatedToneCurve16(NULL, 1024, points));
}

/* A smooth invented camera: chroma grows with lightness, hue turns. */
static cmsInt32Number invented(const cmsUInt16Number in[], cmsUInt16Number out[], void *context)
{
    (void)context;
    const double r = in[0] / 65535.0, g = in[1] / 65535.0, b = in[2] / 65535.0;
    const cmsCIELab lab = {100 * (0.3 * r + 0.6 * g + 0.1 * b), 70 * (r - g) * (0.5 + 0.5 * b),
                           60 * (0.5 * r + 0.5 * g - b)};
    cmsFloat2LabEncoded(out, &lab);
    return TRUE;
}

/* sRGB itself by lcms2's own transform, which is the context. */
static cmsInt32Number by_transform(const cmsUInt16Number in[], cmsUInt16Number out[], void *context)
{
    cmsDoTransform(context, in, out, 1);
    return TRUE;
}

static icc lut_profile(cmsSAMPLER16 sampler, void *context, cmsUInt32Number points)
{
    cmsHPROFILE profile = cmsCreateProfilePlaceholder(NULL);
    cmsPipeline *lut = cmsPipelineAlloc(NULL, 3, 3);
    cmsStage *grid = cmsStageAllocCLut16bit(NULL, points, 3, 3, NULL);
    cmsSetProfileVersion(profile, 4.3);
    cmsSetDeviceClass(profile, cmsSigInputClass);
    cmsSetColorSpace(profile, cmsSigRgbData);
    cmsSetPCS(profile, cmsSigLabData);
    if (!cmsStageSampleCLut16bit(grid, sampler, context, 0) ||
        !cmsPipelineInsertStage(lut, cmsAT_END, cmsStageAllocToneCurves(NULL, 3, NULL)) ||
        !cmsPipelineInsertStage(lut, cmsAT_END, grid) ||
        !cmsPipelineInsertStage(lut, cmsAT_END, cmsStageAllocToneCurves(NULL, 3, NULL)) ||
        !cmsWriteTag(profile, cmsSigAToB0Tag, lut))
        abort();
    cmsPipelineFree(lut);
    return pack(profile);
}

icc icc_lut(void)
{
    return lut_profile(invented, NULL, 17);
}

icc icc_lut_of_srgb(void)
{
    cmsHPROFILE srgb = cmsCreate_sRGBProfile(), lab = cmsCreateLab4Profile(NULL);
    cmsHTRANSFORM transform =
        cmsCreateTransform(srgb, TYPE_RGB_16, lab, TYPE_Lab_16, INTENT_RELATIVE_COLORIMETRIC,
                           cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE);
    cmsCloseProfile(srgb);
    cmsCloseProfile(lab);
    if (!transform)
        abort();
    icc out = lut_profile(by_transform, transform, 33);
    cmsDeleteTransform(transform);
    return out;
}

icc icc_grey(void)
{
    cmsToneCurve *curve = cmsBuildGamma(NULL, 1.8);
    cmsHPROFILE profile = cmsCreateGrayProfile(cmsD50_xyY(), curve);
    cmsFreeToneCurve(curve);
    return pack(profile);
}

icc icc_cmyk(void)
{
    cmsHPROFILE profile = cmsCreateInkLimitingDeviceLink(cmsSigCmykData, 300);
    return pack(profile);
}

icc icc_lab(void)
{
    return pack(cmsCreateLab4Profile(NULL));
}

tdm_code try_device(icc profile, bool grey, bool ignore, tdm_device **out, tdm_error *error)
{
    const tdm_photo_info info = {
        .colour = TDM_COLOUR_ICC, .bits = 8, .grey = grey, .icc = profile.bytes, .icc_size = profile.size};
    tdm_warnings warnings = {0};
    const tdm_code code = tdm_device_create(&info, ignore, "photo.jpg", &warnings, out, error);
    ck_assert_uint_eq(warnings.count, 0);
    tdm_warnings_free(&warnings);
    return code;
}

tdm_device *device_of(icc profile, bool grey)
{
    tdm_device *device = NULL;
    tdm_error error = {0};
    ck_assert_msg(try_device(profile, grey, false, &device, &error) == TDM_OK, "%s", error.text);
    return device;
}

tdm_device *srgb_device(void)
{
    tdm_device *device = NULL;
    ck_assert_int_eq(try_device((icc){0}, false, true, &device, NULL), TDM_OK);
    return device;
}
