/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/device.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/device_parts.h"

static void keep_message(cmsContext context, cmsUInt32Number code, const char *text)
{
    (void)code;
    tdm_lcms_message *message = cmsGetContextUserData(context);
    size_t length = 0;
    for (; *text && length + 1 < sizeof message->text; text++)
        message->text[length++] = *text >= ' ' && *text <= '~' ? *text : ' ';
    message->text[length] = '\0';
}

static tdm_code create(tdm_device *device, const tdm_photo_info *info, bool ignore_profile, const char *file,
                       tdm_warnings *warnings, tdm_error *error)
{
    device->context = cmsCreateContext(NULL, &device->message);
    if (!device->context)
        return tdm_fail_memory(error, file);
    (void)snprintf(device->message.text, sizeof device->message.text, "no reason given");
    cmsSetLogErrorHandlerTHR(device->context, keep_message);
    tdm_profile profile;
    tdm_code code = tdm_profile_choose(device->context, &device->message, info, ignore_profile, file,
                                       warnings, &profile, error);
    if (code != TDM_OK)
        return code;
    device->source = profile.source;
    (void)snprintf(device->name, sizeof device->name, "%s", profile.name);
    code = tdm_device_fill(device, &profile, file, error);
    cmsCloseProfile(profile.handle);
    return code;
}

tdm_code tdm_device_create(const tdm_photo_info *info, bool ignore_profile, const char *file,
                           tdm_warnings *warnings, tdm_device **out, tdm_error *error)
{
    tdm_device *device = calloc(1, sizeof *device);
    if (!device)
        return tdm_fail_memory(error, file);
    const tdm_code code = create(device, info, ignore_profile, file, warnings, error);
    if (code == TDM_OK)
        *out = device;
    else
        tdm_device_free(device);
    return code;
}

void tdm_device_free(tdm_device *device)
{
    if (!device)
        return;
    if (device->transform)
        cmsDeleteTransform(device->transform);
    if (device->context)
        cmsDeleteContext(device->context);
    free(device->table);
    free(device);
}

const char *tdm_device_profile(const tdm_device *device)
{
    return device->name;
}

tdm_profile_source tdm_device_source(const tdm_device *device)
{
    return device->source;
}

const char *tdm_profile_source_word(tdm_profile_source source)
{
    static const char *const words[] = {"embedded", "declared", "implied", "assumed"};
    return words[source];
}

const double *tdm_device_primaries(const tdm_device *device)
{
    return device->primaries;
}

const char *tdm_lcms_version(void)
{
    /* LCMS_VERSION is 2140 for 2.14 */
    static const char version[] = {'0' + LCMS_VERSION / 1000, '.', '0' + LCMS_VERSION / 100 % 10,
                                   '0' + LCMS_VERSION / 10 % 10, '\0'};
    return version;
}

/* 0 to 1; NaN becomes 0. */
static float held(float value)
{
    return value > 0 ? (value < 1 ? value : 1) : 0;
}

/* Place of a value in a table of all codes: entry and the share of the next. */
static size_t entry(float value, float *part)
{
    const float place = held(value) * (TDM_CODES - 1);
    const size_t code = (size_t)place;
    if (code >= TDM_CODES - 1) {
        *part = 1;
        return TDM_CODES - 2;
    }
    *part = place - (float)code;
    return code;
}

static void shaper_to_xyz(const tdm_device *device, const float *rgb, float *xyz, size_t count)
{
    const double *m = device->primaries;
    for (size_t i = 0; i < count; i++) {
        double linear[3];
        for (size_t c = 0; c < 3; c++) {
            float part;
            const float *at = device->table + c * TDM_CODES + entry(rgb[3 * i + c], &part);
            linear[c] = (double)(at[0] + part * (at[1] - at[0]));
        }
        for (size_t row = 0; row < 3; row++)
            xyz[3 * i + row] =
                (float)(m[3 * row] * linear[0] + m[3 * row + 1] * linear[1] + m[3 * row + 2] * linear[2]);
    }
}

static void grey_to_xyz(const tdm_device *device, const float *rgb, float *xyz, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        float part;
        const float *at = device->table + 3 * entry(rgb[3 * i], &part);
        for (size_t c = 0; c < 3; c++)
            xyz[3 * i + c] = at[c] + part * (at[c + 3] - at[c]);
    }
}

/* The probe at creation has seen finite values over the whole range; the check here keeps what slips between
 * its points from spreading. */
static void lcms_to_xyz(const tdm_device *device, const float *rgb, float *xyz, size_t count)
{
    enum { BLOCK = 256 };
    float input[3 * BLOCK];
    for (size_t done = 0; done < count;) {
        const size_t now = count - done < BLOCK ? count - done : BLOCK;
        for (size_t i = 0; i < 3 * now; i++)
            input[i] = held(rgb[3 * done + i]);
        float *output = xyz + 3 * done;
        cmsDoTransform(device->transform, input, output, (cmsUInt32Number)now);
        for (size_t i = 0; i < 3 * now; i++) {
            if (!(output[i] >= -1 && output[i] <= 4))
                output[i] = 0;
        }
        done += now;
    }
}

void tdm_device_to_xyz(const tdm_device *device, const float *rgb, float *xyz, size_t count)
{
    switch (device->kind) {
    case TDM_DEVICE_SHAPER:
        shaper_to_xyz(device, rgb, xyz, count);
        break;
    case TDM_DEVICE_GREY:
        grey_to_xyz(device, rgb, xyz, count);
        break;
    case TDM_DEVICE_LCMS:
        lcms_to_xyz(device, rgb, xyz, count);
        break;
    }
}
