/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A colour profile as embedded in a photograph: chosen or refused, and finite colours from whatever passes.
 */
#include <stdlib.h>
#include <string.h>

#include "colour/calibration.h"
#include "colour/lab.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool holds)
{
    if (!holds)
        abort();
}

static void convert(const tdm_device *device)
{
    static const uint8_t codes[] = {0,  0,   0, 255, 255, 255, 1,   2, 3, 78, 56,
                                    42, 255, 0, 0,   0,   0,   255, 9, 9, 9};
    enum { COUNT = sizeof codes / 3 };
    uint8_t rgb[sizeof codes];
    memcpy(rgb, codes, sizeof codes);
    const tdm_pixels pixels = {.rect = {5, 7, COUNT, 1}, .bits = 8, .rgb8 = rgb};
    const tdm_calibration none = tdm_calibration_none(device);
    float xyz[3 * COUNT], lab[3 * COUNT];
    uint8_t flags[COUNT];
    must(tdm_colour_convert(device, &none, &pixels, pixels.rect, xyz, flags, NULL) == TDM_OK);
    tdm_xyz_to_lab_many(xyz, lab, COUNT);
    for (int i = 0; i < 3 * COUNT; i++) {
        must(xyz[i] >= -20 && xyz[i] <= 80);
        must(lab[i] >= -1e6F && lab[i] <= 1e6F);
    }
    for (int i = 0; i < 9; i++)
        must(none.to_rgb[i] >= -1e6 && none.to_rgb[i] <= 1e6);
}

static void try_as(const uint8_t *data, size_t size, bool grey)
{
    const tdm_photo_info info = {
        .colour = TDM_COLOUR_ICC, .bits = 8, .grey = grey, .icc = data, .icc_size = size};
    tdm_warnings warnings = {0};
    tdm_device *device = NULL;
    tdm_error error = {0};
    const tdm_code code = tdm_device_create(&info, false, "fuzz", &warnings, &device, &error);
    if (code == TDM_OK) {
        must(tdm_device_profile(device)[0] != '\0');
        convert(device);
        tdm_device_free(device);
    } else {
        must(code == TDM_ERR_FORMAT && device == NULL);
        must(strstr(error.text, "--ignore-profile") != NULL);
    }
    tdm_warnings_free(&warnings);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size > 1 << 20)
        return 0;
    try_as(data, size, false);
    try_as(data, size, true);
    return 0;
}
