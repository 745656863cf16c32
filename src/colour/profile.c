/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/profile.h"

#include <math.h>
#include <string.h>

#include "base/fail.h"
#include "base/text.h"

/* The choice:
 *
 *   the caller ignores profiles          sRGB                          declared
 *   damage was found in the statement    an error
 *   ICC profile embedded                 that profile, checked         embedded
 *   PNG sRGB, cICP of sRGB, EXIF sRGB    sRGB                          implied
 *   PNG cICP of Display P3               Display P3                    implied
 *   PNG gAMA, with or without cHRM       built from these (sRGB's
 *                                        primaries where no cHRM)      implied
 *   nothing                              sRGB, warning                 assumed
 *
 * A profile that can't be used is an error, never a reason to fall back in silence. */

/* x y of white, red, green, blue: IEC 61966-2-1; SMPTE EG 432-1 with the white of D65. */
static const double srgb_xy[8] = {0.3127, 0.3290, 0.64, 0.33, 0.30, 0.60, 0.15, 0.06};
static const double display_p3_xy[8] = {0.3127, 0.3290, 0.680, 0.320, 0.265, 0.690, 0.150, 0.060};

static cmsHPROFILE build_rgb(cmsContext context, const double xy[8], cmsToneCurve *curve)
{
    if (!curve)
        return NULL;
    cmsToneCurve *const curves[3] = {curve, curve, curve};
    const cmsCIExyY white = {xy[0], xy[1], 1};
    const cmsCIExyYTRIPLE primaries = {{xy[2], xy[3], 1}, {xy[4], xy[5], 1}, {xy[6], xy[7], 1}};
    cmsHPROFILE profile = cmsCreateRGBProfileTHR(context, &white, &primaries, curves);
    cmsFreeToneCurve(curve);
    return profile;
}

/* IEC 61966-2-1 decoding. */
static cmsToneCurve *srgb_curve(cmsContext context)
{
    const cmsFloat64Number parameters[5] = {2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045};
    return cmsBuildParametricToneCurve(context, 4, parameters);
}

static void set_name(tdm_profile *profile, const char *name)
{
    size_t length = 0;
    for (; *name && length + 1 < sizeof profile->name; name++) {
        if (*name >= ' ' && *name <= '~')
            profile->name[length++] = *name;
    }
    profile->name[length] = '\0';
}

static tdm_code use_built(tdm_profile *out, cmsHPROFILE handle, tdm_profile_source source, const char *name,
                          const char *file, tdm_error *error)
{
    if (!handle)
        return tdm_fail_memory(error, file);
    out->handle = handle;
    out->source = source;
    set_name(out, name);
    return TDM_OK;
}

static tdm_code use_srgb(cmsContext context, tdm_profile_source source, const char *file, tdm_profile *out,
                         tdm_error *error)
{
    return use_built(out, build_rgb(context, srgb_xy, srgb_curve(context)), source, "sRGB", file, error);
}

static bool sound_primaries(const double xy[8])
{
    for (int i = 0; i < 4; i++) {
        const double x = xy[2 * i], y = xy[2 * i + 1];
        if (!(x >= 0 && x <= 1 && y >= 0.001 && y <= 1))
            return false;
    }
    const double area = (xy[4] - xy[2]) * (xy[7] - xy[3]) - (xy[6] - xy[2]) * (xy[5] - xy[3]);
    return fabs(area) > 1e-3 && xy[1] > 0.05;
}

static tdm_code use_gamma(cmsContext context, const tdm_photo_info *info, const char *file, tdm_profile *out,
                          tdm_error *error)
{
    const bool own = info->chromaticity[1] != 0;
    const double *xy = own ? info->chromaticity : srgb_xy;
    if (!(info->gamma >= 0.2 && info->gamma <= 10) || !sound_primaries(xy))
        return tdm_fail(error, TDM_ERR_FORMAT, file, "colour",
                        "the picture's stated gamma or primaries are no colour space; " TDM_PROFILE_ADVICE);
    tdm_text name = {0};
    tdm_text_add(&name, "gamma ");
    tdm_text_number(&name, info->gamma, 2, "");
    tdm_text_add(&name, own ? " with the file's own primaries" : " with sRGB primaries");
    const tdm_code code = name.failed
                              ? tdm_fail_memory(error, file)
                              : use_built(out, build_rgb(context, xy, cmsBuildGamma(context, info->gamma)),
                                          TDM_PROFILE_IMPLIED, name.data, file, error);
    tdm_text_free(&name);
    return code;
}

static tdm_code refuse(const char *file, const char *why, tdm_error *error)
{
    return tdm_fail(error, TDM_ERR_FORMAT, file, "colour profile", "%s; %s", why, TDM_PROFILE_ADVICE);
}

static uint32_t big_endian(const uint8_t *bytes)
{
    return (uint32_t)bytes[0] << 24 | (uint32_t)bytes[1] << 16 | (uint32_t)bytes[2] << 8 | bytes[3];
}

/* lcms2 opens a cut profile by leaving out the tags that are gone, so the header is looked at first. */
static const char *header_fault(const uint8_t *icc, size_t size)
{
    enum { HEADER = 128, SIGNATURE = 36 };
    if (size < HEADER + 4 || size > UINT32_MAX)
        return "the embedded colour profile is cut short";
    if (memcmp(icc + SIGNATURE, "acsp", 4) != 0)
        return "the embedded colour profile is damaged";
    if (big_endian(icc) > size)
        return "the embedded colour profile is cut short";
    return NULL;
}

static const char *kind_fault(cmsHPROFILE profile, bool grey_picture, bool *grey)
{
    const cmsProfileClassSignature class = cmsGetDeviceClass(profile);
    if (class != cmsSigInputClass && class != cmsSigDisplayClass && class != cmsSigColorSpaceClass)
        return "the embedded colour profile isn't for pictures (it must be an input, display or colour-space "
               "profile)";
    const cmsColorSpaceSignature pcs = cmsGetPCS(profile);
    if (pcs != cmsSigXYZData && pcs != cmsSigLabData)
        return "the embedded colour profile leads to no CIE colour space";
    const cmsColorSpaceSignature space = cmsGetColorSpace(profile);
    *grey = space == cmsSigGrayData;
    if (*grey && !grey_picture)
        return "the embedded colour profile is for grey pictures, but the picture is in colour";
    if (!*grey && space != cmsSigRgbData)
        return "the embedded colour profile isn't for RGB";
    return NULL;
}

static tdm_code use_embedded(cmsContext context, const tdm_lcms_message *message, const tdm_photo_info *info,
                             const char *file, tdm_profile *out, tdm_error *error)
{
    const char *fault =
        info->icc ? header_fault(info->icc, info->icc_size) : "the embedded colour profile is empty";
    if (fault)
        return refuse(file, fault, error);
    cmsHPROFILE profile = cmsOpenProfileFromMemTHR(context, info->icc, (cmsUInt32Number)info->icc_size);
    if (!profile)
        return tdm_fail(error, TDM_ERR_FORMAT, file, "colour profile",
                        "the embedded colour profile is damaged (%s); %s", message->text, TDM_PROFILE_ADVICE);
    fault = kind_fault(profile, info->grey, &out->grey);
    if (fault) {
        cmsCloseProfile(profile);
        return refuse(file, fault, error);
    }
    char name[TDM_PROFILE_NAME] = "";
    (void)cmsGetProfileInfoASCII(profile, cmsInfoDescription, "en", "US", name, sizeof name);
    name[sizeof name - 1] = '\0';
    out->handle = profile;
    out->source = TDM_PROFILE_EMBEDDED;
    set_name(out, name);
    if (out->name[0] == '\0')
        set_name(out, "embedded profile without a name");
    return TDM_OK;
}

static tdm_code assume_srgb(cmsContext context, const char *file, tdm_warnings *warnings, tdm_profile *out,
                            tdm_error *error)
{
    const tdm_code code = tdm_warn(warnings, error, "profile-assumed", NULL,
                                   "the photograph doesn't say what its colours mean; they are read as sRGB");
    return code == TDM_OK ? use_srgb(context, TDM_PROFILE_ASSUMED, file, out, error) : code;
}

tdm_code tdm_profile_choose(cmsContext context, const tdm_lcms_message *message, const tdm_photo_info *info,
                            bool ignore_profile, const char *file, tdm_warnings *warnings, tdm_profile *out,
                            tdm_error *error)
{
    *out = (tdm_profile){0};
    if (ignore_profile)
        return use_srgb(context, TDM_PROFILE_DECLARED, file, out, error);
    const tdm_error *fault = &info->colour_fault;
    if (fault->code != TDM_OK)
        return tdm_fail(error, fault->code, file, fault->place, "%s; %s", fault->text, TDM_PROFILE_ADVICE);
    switch (info->colour) {
    case TDM_COLOUR_ICC:
        return use_embedded(context, message, info, file, out, error);
    case TDM_COLOUR_SRGB:
        return use_srgb(context, TDM_PROFILE_IMPLIED, file, out, error);
    case TDM_COLOUR_DISPLAY_P3:
        return use_built(out, build_rgb(context, display_p3_xy, srgb_curve(context)), TDM_PROFILE_IMPLIED,
                         "Display P3", file, error);
    case TDM_COLOUR_GAMMA:
        return use_gamma(context, info, file, out, error);
    case TDM_COLOUR_UNSTATED:
        break;
    }
    return assume_srgb(context, file, warnings, out, error);
}
