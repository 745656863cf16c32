/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a swatch's colour other than the mean of its light, calibration left out, exclusions and
 * clipped or black pixels taken in, an uncertainty that pixels rather than strands decide or that knows
 * nothing of the light. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/drawn.h"
#include "measure/drawn_ring.h"
#include "suite.h"

/* 16-bit codes are worth under 0.01 L* here, single precision less. Trimming takes out as much of either kind
 * of strand. */
START_TEST(mean_light_of_strands)
{
    static const double want_level[] = {3, 4, 5, 6, 7}, want_lstar[] = {22, 26, 30, 35, 41};
    ring it = ring_of_five();
    tdm_error error = {0};
    ring_draw(&it);
    it.swatches[1].name = strdup("deep");
    ck_assert_msg(ring_measure(&it, &error) == TDM_OK, "%s", error.text);
    ck_assert_uint_eq(tdm_swatches_count(it.found), 5);
    ck_assert(tdm_swatches_rising(it.found));
    ck_assert_uint_eq(it.found->warnings.count, 0);
    for (size_t i = 0; i < 5; i++) {
        tdm_swatch swatch;
        tdm_swatches_at(it.found, i, &swatch);
        ck_assert_double_eq(swatch.level, want_level[i]);
        ck_assert_double_eq_tol(swatch.lab[0], want_lstar[i], 0.02);
        ck_assert_double_eq_tol(swatch.lab[1], 0, 0.02);
        ck_assert(swatch.rising);
        /* half the difference between the two kinds of strands */
        const double light = 116 * cbrt(1.2 * ring_light(want_lstar[i])),
                     dark = 116 * cbrt(0.8 * ring_light(want_lstar[i]));
        ck_assert_double_eq_tol(swatch.spread, (light - dark) / 2, 0.05);
        ck_assert_double_ge(swatch.u, 2 * 0.5); /* what the calibration leaves */
        ck_assert_double_lt(swatch.u, 2 * 1.0); /* twenty strands of each kind lie in every other band */
    }
    tdm_swatch first;
    tdm_swatches_at(it.found, 0, &first);
    ck_assert_str_eq(first.name, "deep");
    free(it.swatches[1].name);
    ring_free(&it);
}
END_TEST

/* Strands as wide as a band: the uncertainty is that of a few strands, however many pixels they have. A mean
 * of n values of standard deviation s has s / sqrt(n); eight bands let that vary by about a half. */
START_TEST(uncertainty_is_of_strands)
{
    ring it = {.count = 2, .levels = {4, 6}, .lstars = {26, 35}, .strands = 0, .exposure = 1};
    tdm_error error = {0};
    ring_draw(&it);
    static const double steps[8] = {1.1, 0.9, 0.95, 1.1, 0.85, 1.0, 1.15, 0.95};
    double sum = 0, square = 0;
    for (uint32_t x = 0; x < RING_SIDE; x++) {
        const double e = encode_srgb(steps[x * 8 / RING_SIDE] * ring_light(26));
        const double encoded[3] = {e, e, e};
        for (uint32_t y = 0; y < RING_SIDE; y++)
            set_pixel(&it.pixels, RING_GAP + x, RING_GAP + y, encoded);
    }
    for (size_t i = 0; i < 8; i++) {
        const double lstar = 116 * cbrt(steps[i] * ring_light(26)) - 16;
        sum += lstar / 8;
        square += lstar * lstar / 8;
    }
    const double want = sqrt((square - sum * sum) * 8 / 7 / 8);
    ck_assert_int_eq(ring_measure(&it, &error), TDM_OK);
    /* The trim takes an edge off the lightest and darkest band. */
    ck_assert_double_eq_tol(it.found->entries[0].u_sampling, want, 0.05 * want);
    ck_assert_double_eq_tol(it.found->entries[0].u, 2 * hypot(want, 0.5), 0.05);
    ck_assert_double_lt(it.found->entries[1].u_sampling, 0.01);
    ring_free(&it);
}
END_TEST

START_TEST(exclusions_are_left_out)
{
    ring it = ring_of_five();
    tdm_error error = {0};
    const double white[3] = {0.9, 0.9, 0.9};
    /* a label over a third of the second swatch */
    double label[8] = {RING_GAP + 140,
                       RING_GAP,
                       RING_GAP + 140 + RING_SIDE,
                       RING_GAP,
                       RING_GAP + 140 + RING_SIDE,
                       RING_GAP + 40,
                       RING_GAP + 140,
                       RING_GAP + 40};
    tdm_polyline exclude = {label, 4};
    ring_draw(&it);
    for (uint32_t y = RING_GAP; y < RING_GAP + 40; y++) {
        for (uint32_t x = 0; x < RING_SIDE; x++)
            set_pixel(&it.pixels, RING_GAP + 140 + x, y, white);
    }
    it.marks.excludes = &exclude;
    it.marks.exclude_count = 1;
    ck_assert_int_eq(ring_measure(&it, &error), TDM_OK);
    ck_assert_double_eq_tol(it.found->entries[0].lab[0], 22, 0.02);
    ring_free(&it);
}
END_TEST

/* A tenth of the third swatch burnt out: it is left out with a warning that names it; when only one is left,
 * that is an error. */
START_TEST(clipped_swatches)
{
    ring it = ring_of_five();
    tdm_error error = {0};
    const double white[3] = {1, 1, 1};
    ring_draw(&it);
    for (uint32_t y = RING_GAP; y < RING_GAP + RING_SIDE / 10; y++) {
        for (uint32_t x = 0; x < RING_SIDE; x++)
            set_pixel(&it.pixels, RING_GAP + 280 + x, y, white);
    }
    ck_assert_int_eq(ring_measure(&it, &error), TDM_OK);
    ck_assert_uint_eq(tdm_swatches_count(it.found), 4);
    ck_assert_ptr_nonnull(ring_warning(&it, "swatch-unusable"));
    ck_assert_ptr_nonnull(strstr(ring_warning(&it, "swatch-unusable")->text, "swatches[2] is clipped"));
    tdm_swatches_free(it.found);
    it.marks.swatches = it.swatches + 1;
    it.marks.swatch_count = 2;
    ck_assert_int_eq(ring_measure(&it, &error), TDM_ERR_UNUSABLE);
    ck_assert_str_eq(error.place, "swatches[1]");
    ck_assert_str_eq(error.file, "ring.jpg");
    ring_free(&it);
}
END_TEST

/* A fifth of the third swatch without light: what is left would be lighter than the swatch. One in a hundred
 * is in any photograph. */
START_TEST(black_swatches)
{
    static const double black[3] = {0, 0, 0};
    for (uint32_t rows = 1; rows <= RING_SIDE / 5; rows += RING_SIDE / 5 - 1) {
        ring it = ring_of_five();
        tdm_error error = {0};
        ring_draw(&it);
        for (uint32_t y = RING_GAP; y < RING_GAP + rows; y++) {
            for (uint32_t x = 0; x < RING_SIDE; x++)
                set_pixel(&it.pixels, RING_GAP + 280 + x, y, black);
        }
        ck_assert_int_eq(ring_measure(&it, &error), TDM_OK);
        const tdm_warning *warning = ring_warning(&it, "swatch-unusable");
        ck_assert_int_eq(warning != NULL, rows > 1);
        ck_assert_uint_eq(tdm_swatches_count(it.found), rows > 1 ? 4 : 5);
        if (warning)
            ck_assert_str_eq(warning->text, "swatches[2] is black without detail: expose more");
        ring_free(&it);
    }
}
END_TEST

/* Light of 0.3 stops more multiplies Y by 2^0.3: the difference of L* that makes, by the formula of CIELAB
 * itself; its slope, which the budget takes, is within 4 % of that. Without strands and spread only the
 * calibration's half a unit stands beside it. */
START_TEST(light_is_in_the_uncertainty)
{
    ring it = ring_of_five();
    it.strands = 0;
    it.stops[0] = 0.3; /* level 7, L* 41 */
    it.stops[3] = 0.1; /* level 4, L* 26 */
    ring_read(&it);
    const double far = (41 + 16) * (cbrt(exp2(0.3)) - 1), near = (26 + 16) * (cbrt(exp2(0.1)) - 1);
    ck_assert_double_eq_tol(it.found->entries[4].u, 2 * hypot(0.5, far), 0.04 * 2 * far);
    ck_assert_double_eq_tol(it.found->entries[1].u, 2 * hypot(0.5, near), 0.04 * 2 * near);
    ck_assert_double_eq_tol(it.found->entries[0].u, 1, 0.01);
    ring_free(&it);
}
END_TEST

START_TEST(too_few_and_too_small)
{
    ring it = ring_of_five();
    tdm_error error = {0};
    ring_draw(&it);
    it.marks.swatch_count = 1;
    ck_assert_int_eq(ring_measure(&it, &error), TDM_ERR_UNUSABLE);
    ck_assert_str_eq(error.place, "swatches");
    tdm_swatches_free(it.found);
    it.marks.swatch_count = 2;
    it.corners[0][2] = it.corners[0][4] = RING_GAP + 9;
    it.corners[0][5] = it.corners[0][7] = RING_GAP + 10;
    ck_assert_int_eq(ring_measure(&it, &error), TDM_ERR_UNUSABLE);
    ck_assert_str_eq(error.place, "swatches[0]");
    ck_assert_ptr_nonnull(strstr(error.text, "too small"));
    ring_free(&it);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        mean_light_of_strands, uncertainty_is_of_strands,   exclusions_are_left_out, clipped_swatches,
        black_swatches,        light_is_in_the_uncertainty, too_few_and_too_small,   NULL};
    return run_suite("swatches", tests);
}
