/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: shade taken for a second kind of hair or the other way round, one broad population taken for
 * two, pure colours pulled together by places that hold both. */
#include <math.h>

#include "colour/lab.h"
#include "measure/strand_tint.h"
#include "measure/strand_unmix.h"
#include "suite.h"

/* Shade is the same spectrum with less light: XYZ times one factor, by definition and not by L* + 16. */
START_TEST(dimmed_hair_is_shade)
{
    static const double factors[] = {0.3, 0.55, 0.8};
    const double light[] = {50, 7, 20};
    for (int i = 0; i < 3; i++) {
        double xyz[3], dark[3];
        tdm_lab_to_xyz(light, xyz);
        for (int k = 0; k < 3; k++)
            xyz[k] *= factors[i];
        tdm_xyz_to_lab(xyz, dark);
        ck_assert(tdm_is_shade(light, dark));
    }
}
END_TEST

/* Darker hair with less yellow than dimming leaves, and with more of it. */
START_TEST(other_pigment_is_not_shade)
{
    const double light[] = {50, 7, 20}, brown[] = {30, 4, 8}, warm[] = {30, 12, 22};
    ck_assert(!tdm_is_shade(light, brown));
    ck_assert(!tdm_is_shade(light, warm));
}
END_TEST

/* Without chroma only much contrast tells: 10 L*, a choice. */
START_TEST(neutral_hair_needs_contrast)
{
    const double light[] = {50, 0.5, 1}, near[] = {42, 0.5, 1}, far[] = {35, 0.5, 1};
    ck_assert(tdm_is_shade(light, near));
    ck_assert(!tdm_is_shade(light, far));
}
END_TEST

/* Central moments by hand: two points of shares p and q at 0 and 1 have pq, pq (q - p), pq (1 - 3 pq). */
START_TEST(bimodality_of_known_distributions)
{
    static const double shares[] = {0.5, 0.2, 0.03};
    for (int i = 0; i < 3; i++) {
        const double p = shares[i], q = 1 - p, pq = p * q;
        ck_assert_double_eq_tol(tdm_bimodality(pq, pq * (q - p), pq * (1 - 3 * pq)), 1, 1e-9);
    }
    ck_assert_double_eq_tol(tdm_bimodality(4, 0, 3 * 16), 1.0 / 3, 1e-12);    /* normal, sd 2 */
    ck_assert_double_eq_tol(tdm_bimodality(1.0 / 3, 0, 0.2), 5.0 / 9, 1e-12); /* even from -1 to 1 */
    ck_assert_double_eq(tdm_bimodality(0, 0, 0), 0);
}
END_TEST

static void add_mixed(tdm_unmix *sums, const double light[3], const double dark[3], double share,
                      double count)
{
    double bright[3], dim[3], sum[3];
    tdm_lab_to_xyz(light, bright);
    tdm_lab_to_xyz(dark, dim);
    for (int k = 0; k < 3; k++)
        sum[k] = count * (share * bright[k] + (1 - share) * dim[k]);
    tdm_unmix_add(sums, share, count, sum);
}

/* None of the places is pure. 1e-6 units: least squares of exact data leaves rounding alone. */
START_TEST(mixtures_give_back_what_was_mixed)
{
    const double light[] = {50, 6, 20}, dark[] = {30, 4, 8};
    static const double shares[] = {0.1, 0.35, 0.6, 0.8};
    double found_light[3], found_dark[3];
    tdm_unmix sums = {0};
    for (int i = 0; i < 4; i++)
        add_mixed(&sums, light, dark, shares[i], 10 * (i + 1));
    ck_assert(tdm_unmix_solve(&sums, found_light, found_dark));
    for (int k = 0; k < 3; k++) {
        ck_assert_double_eq_tol(found_light[k], light[k], 1e-6);
        ck_assert_double_eq_tol(found_dark[k], dark[k], 1e-6);
    }
}
END_TEST

START_TEST(one_proportion_cannot_be_unmixed)
{
    const double light[] = {50, 6, 20}, dark[] = {30, 4, 8};
    double found_light[3], found_dark[3];
    tdm_unmix sums = {0};
    ck_assert(!tdm_unmix_solve(&sums, found_light, found_dark));
    add_mixed(&sums, light, dark, 0.4, 10);
    add_mixed(&sums, light, dark, 0.4, 30);
    ck_assert(!tdm_unmix_solve(&sums, found_light, found_dark));
}
END_TEST

/* Shares the wrong way round: "light" hair would come out the darker one. */
START_TEST(light_hair_is_the_lighter)
{
    const double light[] = {50, 6, 20}, dark[] = {30, 4, 8};
    double found_light[3], found_dark[3];
    tdm_unmix sums = {0};
    add_mixed(&sums, dark, light, 0.2, 10);
    add_mixed(&sums, dark, light, 0.8, 10);
    ck_assert(!tdm_unmix_solve(&sums, found_light, found_dark));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {dimmed_hair_is_shade,
                                  other_pigment_is_not_shade,
                                  neutral_hair_needs_contrast,
                                  bimodality_of_known_distributions,
                                  mixtures_give_back_what_was_mixed,
                                  one_proportion_cannot_be_unmixed,
                                  light_hair_is_the_lighter,
                                  NULL};
    return run_suite("strand_tint", tests);
}
