/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_neutral.h"

#include <math.h>

enum { ROW = TDM_NEUTRALS_IN_ROW, FEWEST = 3, MOST_STRANGE = 2 };

/* Choices, in natural logarithms of linear light. */
static const double one_colour = 0.5; /* of a channel's ratio to green, from the row's median */
static const double rise = 0.15;
static const double floor_light = 0.003; /* under which noise would decide */

typedef struct light {
    double green, red_by, blue_by; /* logarithms; the last two against green */
} light;

static light light_of(const double encoded[3])
{
    double of[3];
    for (int k = 0; k < 3; k++)
        of[k] = log(pow(encoded[k] / 255, 2.2) + floor_light);
    return (light){of[1], of[0] - of[1], of[2] - of[1]};
}

static double median(const double *values, int count)
{
    double sorted[ROW];
    for (int i = 0; i < count; i++) {
        int at = i;
        for (; at > 0 && sorted[at - 1] > values[i]; at--)
            sorted[at] = sorted[at - 1];
        sorted[at] = values[i];
    }
    return (sorted[(count - 1) / 2] + sorted[count / 2]) / 2;
}

/* Keeps those of the row's colour, in their order. */
static int keep_one_colour(light row[ROW], int count)
{
    double red[ROW], blue[ROW];
    int kept = 0;
    for (int i = 0; i < count; i++) {
        red[i] = row[i].red_by;
        blue[i] = row[i].blue_by;
    }
    const double red_middle = median(red, count), blue_middle = median(blue, count);
    for (int i = 0; i < count; i++) {
        if (fabs(red[i] - red_middle) <= one_colour && fabs(blue[i] - blue_middle) <= one_colour)
            row[kept++] = row[i];
    }
    return kept;
}

/* The most patches that fall in light one after the other, when the rest are left out. */
static int longest_fall(const light row[ROW], int count)
{
    int best = 0, length[ROW];
    for (int i = 0; i < count; i++) {
        length[i] = 1;
        for (int k = 0; k < i; k++) {
            if (row[i].green <= row[k].green + rise && length[k] >= length[i])
                length[i] = length[k] + 1;
        }
        best = length[i] > best ? length[i] : best;
    }
    return best;
}

bool tdm_find_neutral_row(const double *const colours[ROW])
{
    light row[ROW];
    int count = 0;
    for (int i = 0; i < ROW; i++) {
        if (colours[i])
            row[count++] = light_of(colours[i]);
    }
    if (count < FEWEST)
        return true;
    return longest_fall(row, keep_one_colour(row, count)) >= count - MOST_STRANGE;
}
