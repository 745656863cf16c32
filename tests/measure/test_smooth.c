/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a regression that bends straight lines or looks beyond its reach. */
#include <math.h>

#include "measure/smooth.h"
#include "measure/synthetic.h"
#include "suite.h"

static void slope(double s, double t, const void *about, double lab[3])
{
    (void)t, (void)about;
    lab[0] = 20 + 0.2 * s;
    lab[1] = 5 - 0.01 * s;
    lab[2] = 0.05 * s;
}

/* Local linear regression reproduces a straight line exactly, to the very ends; what is left is float storage
 * and the averaging of light inside a bin (below 1e-3 here). */
START_TEST(a_straight_line_stays)
{
    synthetic_zone zone;
    synthetic_zone_make(synthetic_strip(100, 20, slope, NULL), &zone);
    static const double places[] = {0.3, 2, 50, 98, 99.7};
    /* As seen: what is taken out of the fall isn't smoothing's business. */
    for (size_t i = 0; i < zone.fall.bins; i++) {
        zone.fall.gloss[i] = 0;
        zone.fall.light[i] = 1;
    }
    tdm_fall_resample(&zone.fall, &zone.columns, NULL, zone.fall.lab, NULL);
    for (size_t i = 0; i < 5; i++) {
        double lab[3];
        ck_assert(tdm_smooth_lab(&zone.fall, zone.fall.lab, places[i], lab));
        ck_assert_double_eq_tol(lab[0], 20 + 0.2 * places[i], 2e-3);
        ck_assert_double_eq_tol(lab[2], 0.05 * places[i], 2e-3);
    }
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(nothing_near_means_no_answer)
{
    synthetic_zone zone;
    synthetic_zone_make(synthetic_strip(100, 20, slope, NULL), &zone);
    for (size_t i = 0; i < zone.fall.bins; i++) {
        if (zone.fall.along[i] > 40 && zone.fall.along[i] < 60)
            zone.fall.weight[i] = 0;
    }
    double lab[3];
    ck_assert(!tdm_smooth_lab(&zone.fall, zone.fall.lab, 50, lab));
    ck_assert(tdm_smooth_lab(&zone.fall, zone.fall.lab, 38, lab));
    synthetic_zone_free(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_straight_line_stays, nothing_near_means_no_answer, NULL};
    return run_suite("smooth", tests);
}
