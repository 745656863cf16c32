/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: gloss seen where there is only shade and mixed colour, a band of glints not seen or in another
 * place. */
#include <math.h>

#include "colour/lab.h"
#include "measure/gloss.h"
#include "measure/synthetic.h"
#include "suite.h"

typedef struct shine {
    double mean, from, to; /* linear light, mm */
} shine;

/* Dark root and lighter lengths, each strand in its own shade; glints between from and to, 4 mm long along a
 * strand. A third of the gloss glints (exponential: its standard deviation is its mean), the rest is even. */
static void glossy_hair(double s, double t, const void *about, double lab[3])
{
    const shine *on = about;
    const double share = 1 / (1 + exp(-(s - 40) / 2)); /* a line at 40 mm */
    const double body[3] = {26 + 16 * share, 6.6 + 0.4 * share, 11.5 + 8.5 * share};
    const unsigned row = (unsigned)lround(4 * s), strand = (unsigned)lround(4 * t);
    const double shade = 1 + 0.15 * synthetic_noise(7, strand);
    double xyz[3];
    tdm_lab_to_xyz(body, xyz);
    const double uniform = 0.5 * erfc(-synthetic_noise(row / 16, strand) / sqrt(2));
    const double glint = s >= on->from && s < on->to ? -on->mean / 3 * log(fmax(uniform, 1e-6)) : 0;
    const double steady = s >= on->from && s < on->to ? 2 * on->mean / 3 : 0;
    for (int k = 0; k < 3; k++)
        xyz[k] =
            fmax(shade, 0.4) * xyz[k] * (1 + 0.004 * synthetic_noise(row + 1000u * (unsigned)k, strand)) +
            (glint + steady) * tdm_white_d50[k];
    tdm_xyz_to_lab(xyz, lab);
}

/* At root, the band's middle and the ends. */
static void estimate(const shine *on, double gloss[3])
{
    static const double places[3] = {10, 95, 180};
    synthetic_zone zone;
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(200, 30, glossy_hair, on), &zone);
    ck_assert_int_eq(tdm_gloss_scatter(&zone.strip, places, 3, gloss, &error), TDM_OK);
    synthetic_zone_free(&zone);
}

START_TEST(matte_hair_has_none)
{
    double gloss[3];
    const shine none = {0};
    estimate(&none, gloss);
    for (int i = 0; i < 3; i++)
        ck_assert_double_lt(gloss[i], 5e-4); /* 0.1 L* at L* 40 */
}
END_TEST

/* Mean three times the standard deviation, as the estimate takes it: found within a third, in its place. */
START_TEST(a_band_of_glints_is_found_where_it_is)
{
    double gloss[3];
    const shine on = {.mean = 0.015, .from = 75, .to = 115};
    estimate(&on, gloss);
    ck_assert_double_eq_tol(gloss[1], 0.015, 0.005);
    ck_assert_double_lt(gloss[0], 1e-3);
    ck_assert_double_lt(gloss[2], 1e-3);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {matte_hair_has_none, a_band_of_glints_is_found_where_it_is, NULL};
    return run_suite("gloss", tests);
}
