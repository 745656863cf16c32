/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: areas that take over the stretch's answer where their own hair has none, their shares, and
 * share, contrast and width of strands that don't run straight down. */
#include <math.h>

#include "measure/synthetic.h"
#include "suite.h"

/* Ribbons of `width` mm every `pitch` mm at right angles to the strands, light from `start` on. */
typedef struct stripes {
    double width, pitch, start;
    double slope;            /* mm across per mm along */
    double wave, wavelength; /* mm; no wave where 0 */
} stripes;

static const double dark_l = 28, light_l = 46;

static void stripe_colour(double s, double t, const void *about, double lab[3])
{
    const stripes *truth = about;
    const double wave = truth->wave > 0 ? truth->wave * sin(6.283185307179586 * s / truth->wavelength) : 0;
    const double across = (t - truth->slope * s - wave) / hypot(1, truth->slope);
    const double place = across / truth->pitch, within = (place - floor(place)) * truth->pitch;
    const bool light = within < truth->width && s >= truth->start;
    lab[0] = (light ? light_l : dark_l) +
             1.2 * synthetic_noise((unsigned)(4 * (across + 500)), (unsigned)(s / 8)) +
             0.8 * synthetic_noise((unsigned)(t * 4), (unsigned)(s * 4) + 1000);
    lab[1] = light ? 6 : 4;
    lab[2] = light ? 20 : 8;
}

static void measure(const stripes *truth, double length, synthetic_zone *zone)
{
    tdm_error error = {0};
    synthetic_zone_make(synthetic_strip(length, 80, stripe_colour, truth), zone);
    ck_assert_int_eq(tdm_measure_strands.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
}

/* 160 mm long: root is the first 16 mm, ends the last. 80 mm hold ten whole pitches. */
START_TEST(areas_answer_for_themselves)
{
    const stripes truth = {.width = 3.2, .pitch = 8, .start = 35};
    synthetic_zone zone;
    measure(&truth, 160, &zone);
    const tdm_strand_area *root = &zone.reading.strands.root, *mid = &zone.reading.strands.mid,
                          *ends = &zone.reading.strands.ends;
    ck_assert(!root->separable);
    ck_assert(isnan(root->light_share.value) && isnan(root->contrast_lstar.value) && isnan(root->ribbon_mm));
    ck_assert(mid->separable && ends->separable);
    ck_assert_double_eq_tol(mid->light_share.value, 0.4, 0.03);
    ck_assert_double_eq_tol(ends->light_share.value, 0.4, 0.03);
    ck_assert_double_eq_tol(mid->contrast_lstar.value, light_l - dark_l, 0.05 * (light_l - dark_l));
    synthetic_zone_free(&zone);
}
END_TEST

/* 0.03, 5 % and 0.4 mm are the instrument's aims. */
static void check(const stripes *truth)
{
    synthetic_zone zone;
    const double contrast = light_l - dark_l;
    measure(truth, 120, &zone);
    ck_assert(zone.reading.strands.separable);
    ck_assert_double_eq_tol(zone.reading.strands.light_share.value, truth->width / truth->pitch, 0.03);
    ck_assert_double_eq_tol(zone.reading.strands.contrast_lstar.value, contrast, 0.05 * contrast);
    ck_assert_double_eq_tol(zone.reading.strands.ribbon_median, truth->width, 0.4);
    synthetic_zone_free(&zone);
}

/* 30 degrees: looked at straight across, the ribbons would be 0.6 mm too wide, and averaging straight down
 * would smear them away. */
START_TEST(strands_may_run_aslant)
{
    const stripes truth = {.width = 4, .pitch = 10, .slope = 0.5773502691896258};
    check(&truth);
}
END_TEST

/* At most 2 pi 3 / 60, 17 degrees, either way: widths differ by 5 % at most. */
START_TEST(strands_may_wave)
{
    const stripes truth = {.width = 4, .pitch = 10, .wave = 3, .wavelength = 60};
    check(&truth);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {areas_answer_for_themselves, strands_may_run_aslant, strands_may_wave,
                                  NULL};
    return run_suite("strand_area", tests);
}
