/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Are the corners marked in the right order? The neutral row tells: it lies differently in each of the eight
 * orders, and nothing else in the target falls from white to black in one colour. */
#include <math.h>

#include "colour/target.h"

/* Choices, wide of what light and camera do and of what the other rows show. */
static const double least_step = 0.05; /* fall from patch to patch, natural log of linear light */
static const double least_span = 1.6;  /* white to black; the target's own is 3.4 */
static const double most_cast = 0.4;   /* change of the log ratio between two channels along the row */
static const double floor_light = 1e-4;
static const double most_clipped = 0.02; /* share of a patch's pixels */

static double log_light(const tdm_sample *sample, int channel)
{
    return log(fmax(sample->rgb[channel], floor_light));
}

static bool falls(const tdm_sample *row, int count, int channel)
{
    for (int i = 0; i + 1 < count; i++) {
        const double step = log_light(&row[i], channel) - log_light(&row[i + 1], channel);
        const bool blown = row[i].clipped_share > most_clipped && row[i + 1].clipped_share > most_clipped;
        if (step < (blown ? 0 : least_step))
            return false;
    }
    return log_light(&row[0], channel) - log_light(&row[count - 1], channel) > least_span;
}

/* Clipped ends say nothing about colour. */
static bool one_colour(const tdm_sample *row, int count, int channel)
{
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < count; i++) {
        if (row[i].clipped_share > most_clipped || row[i].rgb[channel] < floor_light)
            continue;
        const double ratio = log_light(&row[i], channel) - log_light(&row[i], 1);
        low = fmin(low, ratio);
        high = fmax(high, ratio);
    }
    return high - low < most_cast;
}

static bool row_fits(const tdm_sample *row, int count)
{
    for (int c = 0; c < 3; c++) {
        if (!falls(row, count, c) || !one_colour(row, count, c))
            return false;
    }
    return true;
}

bool tdm_neutral_row_fits(const tdm_sample samples[TDM_PATCHES])
{
    return row_fits(samples + TDM_FIRST_NEUTRAL, TDM_NEUTRALS);
}

/* One of six, or two, in shade or glare. */
bool tdm_neutral_row_nearly_fits(const tdm_sample samples[TDM_PATCHES])
{
    for (int a = 0; a < TDM_NEUTRALS; a++) {
        for (int b = a; b < TDM_NEUTRALS; b++) {
            tdm_sample row[TDM_NEUTRALS];
            int count = 0;
            for (int i = 0; i < TDM_NEUTRALS; i++) {
                if (i != a && i != b)
                    row[count++] = samples[TDM_FIRST_NEUTRAL + i];
            }
            if (row_fits(row, count))
                return true;
        }
    }
    return false;
}

tdm_code tdm_target_other_order(const tdm_device *device, const tdm_pixels *pixels, const double corners[8],
                                const char *file, const char **found, tdm_error *error)
{
    /* which of the marked corners is really the dark skin, bluish green, black and white one */
    static const struct {
        int from[4];
        const char *says;
    } orders[] = {
        {{2, 3, 0, 1}, "the target seems to lie upside down to the marks (half a turn)"},
        {{1, 2, 3, 0}, "the marks seem to begin one corner too early (a quarter turn)"},
        {{3, 0, 1, 2}, "the marks seem to begin one corner too late (a quarter turn)"},
        {{1, 0, 3, 2}, "left and right seem to be swapped (mirrored)"},
        {{3, 2, 1, 0}, "top and bottom seem to be swapped (mirrored)"},
        {{0, 3, 2, 1}, "the marks seem to go round the wrong way from the dark skin patch (mirrored)"},
        {{2, 1, 0, 3}, "the marks seem to go round the wrong way from the black patch (mirrored)"},
    };
    *found = NULL;
    for (size_t i = 0; i < sizeof orders / sizeof orders[0] && !*found; i++) {
        double turned[8];
        tdm_sample samples[TDM_PATCHES];
        for (int k = 0; k < 4; k++) {
            turned[2 * k] = corners[2 * orders[i].from[k]];
            turned[2 * k + 1] = corners[2 * orders[i].from[k] + 1];
        }
        const tdm_code code = tdm_patches_sample(device, pixels, turned, file, samples, error);
        if (code != TDM_OK)
            return code;
        if (tdm_neutral_row_fits(samples))
            *found = orders[i].says;
    }
    return TDM_OK;
}
