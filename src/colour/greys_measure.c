/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Grey references in the picture, and which of them can't be used. */
#include <math.h>
#include <stdio.h>

#include "base/fail.h"
#include "colour/greys_parts.h"
#include "colour/lab.h"
#include "colour/sample.h"

enum { FEWEST_PIXELS = 25 };
static const double most_clipped = 0.02; /* share of pixels with a channel at its top */
static const double darkest = 0.001;     /* linear: below about 3 of 255 in sRGB nothing is read off */
static const double most_cast = 4;       /* two stops between channels: no neutral card, or no usable light */
static const double most_gain = 8;       /* three stops of exposure */

double tdm_luminance_of(double lstar)
{
    const double lab[3] = {lstar, 0, 0};
    double xyz[3];
    tdm_lab_to_xyz(lab, xyz);
    return xyz[1];
}

double tdm_lightness_of(double y)
{
    const double xyz[3] = {y * tdm_white_d50[0], y, y * tdm_white_d50[2]};
    double lab[3];
    tdm_xyz_to_lab(xyz, lab);
    return lab[0];
}

static const char *fault(const tdm_sample *sample, double wanted)
{
    double low = INFINITY, high = 0;
    if (sample->used < FEWEST_PIXELS)
        return "the grey reference is too small: mark at least 5 by 5 pixels";
    if (sample->clipped_share > most_clipped)
        return "the grey reference is clipped: retake with less exposure or a darker card";
    for (int c = 0; c < 3; c++) {
        low = fmin(low, sample->rgb[c]);
        high = fmax(high, sample->rgb[c]);
    }
    if (low < darkest)
        return "the grey reference is black: retake with more light";
    if (high / low > most_cast)
        return "the grey reference is strongly coloured: mark a neutral card, or retake in white light";
    if (wanted / low > most_gain || high / wanted > most_gain)
        return "the grey reference is more than three stops from its stated lightness: check its lstar";
    return NULL;
}

/* Mean of the corners: where in the picture, not how much of it. */
static void middle_of(const tdm_grey *grey, double middle[2])
{
    middle[0] = middle[1] = 0;
    for (size_t i = 0; i < grey->count; i++) {
        middle[0] += grey->polygon[2 * i] / (double)grey->count;
        middle[1] += grey->polygon[2 * i + 1] / (double)grey->count;
    }
}

static tdm_code measure(const tdm_device *device, const tdm_pixels *pixels, const tdm_grey *grey,
                        size_t index, const char *file, tdm_grey_measured *out, tdm_error *error)
{
    char place[32];
    (void)snprintf(place, sizeof place, "grey[%zu]", index);
    if (!(grey->lstar >= 5 && grey->lstar <= 100) || grey->count < 3)
        return tdm_fail(error, TDM_ERR_UNUSABLE, file, place,
                        "a grey reference needs three points or more and an lstar of 5 to 100");
    tdm_sample sample;
    const tdm_code code = tdm_sample_polygon(device, pixels, grey->polygon, grey->count, &sample, error);
    if (code != TDM_OK)
        return code;
    *out = (tdm_grey_measured){.wanted = tdm_luminance_of(grey->lstar), .lstar = grey->lstar, .weight = 1};
    middle_of(grey, out->middle);
    const char *wrong = fault(&sample, out->wanted);
    if (wrong)
        return tdm_fail(error, TDM_ERR_UNUSABLE, file, place, "%s", wrong);
    for (int c = 0; c < 3; c++)
        out->rgb[c] = sample.rgb[c];
    return TDM_OK;
}

tdm_code tdm_greys_measure(const tdm_device *device, const tdm_pixels *pixels, const tdm_grey *greys,
                           size_t count, const char *file, tdm_grey_measured *out, tdm_error *error)
{
    tdm_code code = TDM_OK;
    for (size_t i = 0; code == TDM_OK && i < count; i++)
        code = measure(device, pixels, &greys[i], i, file, &out[i], error);
    return code;
}
