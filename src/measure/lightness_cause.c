/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/lightness_cause.h"

#include <math.h>

#include "colour/lab.h"

/* More or less melanin changes the ratio of long to short wavelengths, light doesn't: a* and b* off what
 * light makes of them, against the change of L*. METHODS.md gives the numbers' reasons. */
static const double least_tint = 0.08, least_off = 0.5;
static const double gloss_tint = 0.08; /* gloss isn't quite white: an L* of it may be off by so much */
static const double grey_chroma = 5, grey_contrast = 10; /* hair without a tint to go by */
static const double most_share = 0.9;                    /* of the lighter side's light that may be gloss */
enum { TRIALS = 40 };

/* The light side without so much gloss. */
static void without(const double light[3], double gloss, double out[3])
{
    double xyz[3];
    tdm_lab_to_xyz(light, xyz);
    for (int k = 0; k < 3; k++)
        xyz[k] -= gloss * tdm_white_d50[k];
    tdm_xyz_to_lab(xyz, out);
}

/* How far a colour, dimmed to the dark side's lightness, is off its a* and b*. */
static double off_by(const double dark[3], const double colour[3])
{
    /* A factor on XYZ is one on L* + 16, a* and b* (ISO/CIE 11664-4, above the linear part). */
    const double factor = (dark[0] + 16) / (colour[0] + 16);
    return hypot(factor * colour[1] - dark[1], factor * colour[2] - dark[2]);
}

bool tdm_is_colour_change(const double dark[3], const double light[3], double gloss)
{
    if (fmax(hypot(dark[1], dark[2]), hypot(light[1], light[2])) < grey_chroma)
        return fabs(light[0] - dark[0]) >= grey_contrast;
    double xyz[3], least = INFINITY, taken = 0;
    tdm_lab_to_xyz(light, xyz);
    const double most = fmin(gloss, most_share * xyz[1]);
    for (int i = 0; i <= TRIALS; i++) {
        double matte[3];
        without(light, most * i / TRIALS, matte);
        if (off_by(dark, matte) < least) {
            least = off_by(dark, matte);
            taken = light[0] - matte[0];
        }
    }
    const double change = fabs(log((light[0] + 16) / (dark[0] + 16)));
    return least >= fmax(least_tint * change * (dark[0] + 16), least_off + gloss_tint * taken);
}
