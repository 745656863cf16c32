/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/made_hair.h"

#include <math.h>

#include "colour/lab.h"

static const double strand_mm = 1.5, lock_mm = 9;
static const double rise = 2.5631031310892007; /* 10 to 90 % of a normal distribution, in sd */

made_head made_regrown(void)
{
    return (made_head){.root = {26, 5, 7},
                       .dark = {37, 8, 15},
                       .light = {52, 7, 24},
                       .light_share = 0.4,
                       .centre = 34,
                       .width = 5,
                       .jitter = 1,
                       .shading = 0.15,
                       .noise = 0.5};
}

static double normal(double z)
{
    return 0.5 * (1 + erf(z / sqrt(2)));
}

static double rank(unsigned i, unsigned j)
{
    return normal(synthetic_noise(i, j));
}

static void lay_shade(const made_shade *shade, double s, double xyz[3])
{
    double over[3];
    tdm_lab_to_xyz(shade->lab, over);
    if (xyz[1] <= over[1])
        return; /* a shade deposits, it doesn't lighten */
    const double left = normal((shade->to - s) * rise / shade->feather);
    for (int k = 0; k < 3; k++)
        xyz[k] = left * over[k] + (1 - left) * xyz[k];
}

void made_head_colour(double s, double t, const void *about, double lab[3])
{
    const made_head *head = about;
    const unsigned strand = (unsigned)(t / strand_mm), lock = (unsigned)(t / lock_mm);
    const double *own = rank(strand / 2, 1) < head->light_share ? head->light : head->dark;
    const double centre = head->centre + head->jitter * synthetic_noise(strand, 2);
    const double way = normal((s - centre) * rise / head->width);
    double xyz[3], body[3];
    for (int k = 0; k < 3; k++)
        body[k] = head->root[k] + way * (own[k] - head->root[k]);
    tdm_lab_to_xyz(body, xyz);
    if (head->shade)
        lay_shade(head->shade, s, xyz);
    /* Locks are darker at one side and in places along them. */
    const double turn = 6.283185307179586;
    const double wave = sin(turn * t / lock_mm) + sin(turn * s / 37 + (double)lock);
    for (int k = 0; k < 3; k++)
        xyz[k] *= 1 + head->shading * wave;
    tdm_xyz_to_lab(xyz, lab);
    const unsigned row = (unsigned)(4 * s), col = (unsigned)(4 * t);
    for (unsigned k = 0; k < 3; k++)
        lab[k] += head->noise * synthetic_noise(row * 4099 + col, 3 + k);
}
