/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A word for a colour of hair, beside what undyed hair of that depth shows. Every limit: METHODS.md. */
#include <math.h>
#include <stddef.h>

#include "colour/lab.h"
#include "colour/level.h"

/* Chroma of undyed hair by L*: between the measured tresses (dark end) and the melanin model. */
static const struct {
    double lstar, chroma;
} undyed[] = {{16, 1.5},  {18.5, 3}, {20, 5},    {22.5, 7.7}, {25.5, 10.5}, {30, 14},
              {38, 18.5}, {45, 20},  {57, 19.5}, {67, 17},    {78, 12.8},   {100, 5}};
enum { UNDYED = sizeof undyed / sizeof undyed[0] };

static const double off_arc_chroma = 4; /* a red, violet, blue or green must show at least this much */
static const double darkest = 24;       /* below this L* … */
static const double darkest_chroma = 3; /* … less than this has no tone that can be told */
static const double ash_share = 0.55;   /* of the undyed chroma; undyed tresses show 0.64 and more */
static const double warm_share = 1.3;
static const double rich_share = 1.5;

/* Upper ends of hue in degrees, rising; the limits between red, orange, orange yellow and yellow are the
 * mid-points between those patches of the 24-patch target (27.8, 57.7, 74.1, 87.1). */
static const struct {
    double below;
    const char *word;
} hues[] = {{42.75, "red"}, {65.9, "copper"}, {80.6, "gold"},  {110, "yellow"},
            {190, "green"}, {275, "blue"},    {350, "violet"}, {361, "red"}};

static const double arc_from = 42.75, arc_to = 110; /* where melanin's own colours lie */

static double undyed_chroma(double lstar)
{
    if (lstar <= undyed[0].lstar)
        return undyed[0].chroma;
    for (size_t i = 1; i < UNDYED; i++) {
        if (lstar < undyed[i].lstar) {
            const double part = (lstar - undyed[i - 1].lstar) / (undyed[i].lstar - undyed[i - 1].lstar);
            return undyed[i - 1].chroma + part * (undyed[i].chroma - undyed[i - 1].chroma);
        }
    }
    return undyed[UNDYED - 1].chroma;
}

static const char *hue_word(double hue)
{
    size_t i = 0;
    while (hue >= hues[i].below)
        i++;
    return hues[i].word;
}

const char *tdm_tone_word(const double lab[3])
{
    if (!isfinite(lab[0]) || !isfinite(lab[1]) || !isfinite(lab[2]))
        return "";
    const double chroma = tdm_chroma(lab), hue = tdm_hue(lab);
    const double share = chroma / undyed_chroma(lab[0]);
    if (chroma >= off_arc_chroma && (hue < arc_from || hue >= arc_to))
        return hue_word(hue);
    if (lab[0] < darkest && chroma < darkest_chroma)
        return "neutral";
    if (share < ash_share)
        return "ash";
    if (share < warm_share)
        return "neutral";
    return share < rich_share ? "warm" : hue_word(hue);
}
