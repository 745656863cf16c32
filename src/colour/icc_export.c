/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An ICC input profile: version 2 for curves and a matrix, which every reader of profiles knows; version 4
 * for a table, where only that form is near enough. */
#include "colour/icc_export.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/device_parts.h"
#include "colour/icc_export_parts.h"
#include "colour/matrix.h"

enum { DESCRIPTION = 128 };

/* As all that write here: TDM_ERR_MEMORY, or TDM_ERR_UNUSABLE where lcms2 refuses; neither tells its text. */
static tdm_code write_text(cmsContext context, cmsHPROFILE profile, cmsTagSignature tag, const char *text)
{
    char ascii[DESCRIPTION];
    size_t size = 0;
    for (; text[size] && size + 1 < sizeof ascii; size++)
        ascii[size] = text[size] >= ' ' && text[size] <= '~' ? text[size] : '?';
    ascii[size] = '\0';
    cmsMLU *words = cmsMLUalloc(context, 1);
    tdm_code code = words && cmsMLUsetASCII(words, "en", "US", ascii) ? TDM_OK : TDM_ERR_MEMORY;
    if (code == TDM_OK && !cmsWriteTag(profile, tag, words))
        code = TDM_ERR_UNUSABLE;
    cmsMLUfree(words);
    return code;
}

static tdm_code write_head(cmsContext context, cmsHPROFILE profile, double version, const char *description)
{
    cmsSetProfileVersion(profile, version);
    cmsSetDeviceClass(profile, cmsSigInputClass);
    cmsSetColorSpace(profile, cmsSigRgbData);
    cmsSetPCS(profile, cmsSigXYZData);
    cmsSetHeaderRenderingIntent(profile, INTENT_RELATIVE_COLORIMETRIC);
    /* The perfect diffuser is the white, so that absolute and relative colours are the same. */
    tdm_code code = write_text(context, profile, cmsSigProfileDescriptionTag, description);
    if (code == TDM_OK)
        code = write_text(context, profile, cmsSigCopyrightTag, "No copyright, use freely");
    if (code == TDM_OK && !cmsWriteTag(profile, cmsSigMediaWhitePointTag, cmsD50_XYZ()))
        code = TDM_ERR_UNUSABLE;
    return code;
}

static tdm_code write_all(cmsContext context, cmsHPROFILE profile, const tdm_device *device,
                          const tdm_calibration *calibration, const char *description,
                          float curve[3][TDM_ICC_CURVE])
{
    double largest[3] = {1, 1, 1};
    const bool apart = tdm_icc_curves(device, calibration, curve, largest);
    const bool matrix = apart && !calibration->rooted;
    const tdm_code code = write_head(context, profile, matrix ? 2.4 : 4.3, description);
    if (code != TDM_OK)
        return code;
    if (matrix)
        return tdm_icc_write_matrix(context, profile, calibration, curve, largest);
    return tdm_icc_write_table(context, profile, device, calibration, apart ? curve : NULL, largest);
}

/* lcms2 writes the time; the same calibration must give the same bytes. */
static void set_date(uint8_t *bytes)
{
    static const uint8_t date[12] = {2000 >> 8, 2000 & 255, 0, 1, 0, 1};
    memcpy(bytes + 24, date, sizeof date);
}

static tdm_code save(cmsHPROFILE profile, uint8_t **bytes, size_t *size)
{
    cmsUInt32Number need = 0;
    if (!cmsSaveProfileToMem(profile, NULL, &need) || need <= 128)
        return TDM_ERR_UNUSABLE;
    uint8_t *data = malloc(need);
    if (!data)
        return TDM_ERR_MEMORY;
    if (!cmsSaveProfileToMem(profile, data, &need)) {
        free(data);
        return TDM_ERR_UNUSABLE;
    }
    set_date(data);
    *bytes = data;
    *size = need;
    return TDM_OK;
}

/* The whole range must come out as numbers, and the correction be of use: a calibration that a file brings
 * may be of another device. */
static bool usable(const tdm_device *device, const tdm_calibration *calibration)
{
    enum { SIDE = 5 };
    double inverse[9];
    bool bright[3] = {false, false, false};
    if (!tdm_matrix_invert(calibration->from_rgb, inverse))
        return false;
    for (int i = 0; i < SIDE * SIDE * SIDE; i++) {
        const float rgb[3] = {(float)(i % SIDE) / (SIDE - 1), (float)(i / SIDE % SIDE) / (SIDE - 1),
                              (float)(i / (SIDE * SIDE)) / (SIDE - 1)};
        double xyz[3];
        tdm_icc_corrected(device, calibration, rgb, xyz);
        for (int k = 0; k < 3; k++) {
            if (!(fabs(xyz[k]) < 1e3))
                return false;
        }
        tdm_matrix_apply(inverse, xyz, xyz);
        for (int c = 0; c < 3; c++)
            bright[c] = bright[c] || xyz[c] > 1e-3;
    }
    return bright[0] && bright[1] && bright[2];
}

static tdm_code make(const tdm_device *device, const tdm_calibration *calibration, const char *description,
                     uint8_t **bytes, size_t *size)
{
    cmsContext context = cmsCreateContext(NULL, NULL);
    cmsHPROFILE profile = context ? cmsCreateProfilePlaceholder(context) : NULL;
    float(*curve)[TDM_ICC_CURVE] = calloc(3, sizeof *curve);
    tdm_code code = profile && curve ? TDM_OK : TDM_ERR_MEMORY;
    if (code == TDM_OK)
        code = write_all(context, profile, device, calibration, description, curve);
    if (code == TDM_OK)
        code = save(profile, bytes, size);
    free(curve);
    if (profile)
        cmsCloseProfile(profile);
    if (context)
        cmsDeleteContext(context);
    return code;
}

tdm_code tdm_icc_export(const tdm_device *device, const tdm_calibration *calibration, const char *description,
                        uint8_t **bytes, size_t *size, tdm_error *error)
{
    if (device->kind == TDM_DEVICE_GREY)
        return tdm_fail(
            error, TDM_ERR_UNSUPPORTED, NULL, NULL,
            "a grey photograph has no colours to correct; a profile can be written for colour only");
    const tdm_code code =
        usable(device, calibration) ? make(device, calibration, description, bytes, size) : TDM_ERR_UNUSABLE;
    if (code == TDM_ERR_MEMORY)
        return tdm_fail_memory(error, NULL);
    if (code != TDM_OK)
        return tdm_fail(error, TDM_ERR_UNUSABLE, NULL, NULL,
                        "the correction leaves the range of a colour profile; fit it on this camera's own "
                        "photograph");
    return TDM_OK;
}
