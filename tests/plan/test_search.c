/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a melt that isn't enough and said to be, one that colours more hair than it need, a shade
 * outside root and lengths, another answer on the same hair. */
#include <math.h>
#include <string.h>

#include "measure/measure.h"
#include "measure/visibility.h"
#include "plan/made_hair.h"
#include "plan/search.h"
#include "suite.h"

static const double metres = 1.2, aim = 1.74, visible = 2;

static void open_hair(const made_head *head, double length, synthetic_zone *zone, tdm_hair *hair)
{
    synthetic_zone_make(synthetic_strip(length, 60, made_head_colour, head), zone);
    tdm_error error = {0};
    ck_assert_int_eq(tdm_measure_strands.compute(&zone->input, &zone->reading, &zone->warnings, &error),
                     TDM_OK);
    ck_assert_int_eq(tdm_hair_make(&zone->strip, &zone->fall, &zone->reading, hair, &error), TDM_OK);
}

static tdm_search_result search(const tdm_hair *hair, const synthetic_zone *zone)
{
    tdm_search_result found;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_melt_search(hair, &zone->fall, metres, aim, &found, &error), TDM_OK);
    return found;
}

static void close_hair(synthetic_zone *zone, tdm_hair *hair)
{
    tdm_hair_free(hair);
    synthetic_zone_free(zone);
}

/* Heads with a line that shows: as it is, staggered, without lights, with little contrast, low down. */
static made_head head_of(int index)
{
    made_head head = made_regrown();
    if (index == 1)
        head.jitter = 4;
    if (index == 2)
        head.light_share = 0;
    if (index == 3)
        memcpy(head.root, (double[3]){29, 6, 9}, sizeof head.root);
    if (index == 4)
        head.centre = 70;
    return head;
}

/* The melt that was found, drawn strand by strand, can't be seen, and the line before it could. */
START_TEST(found_melt_is_enough_when_drawn)
{
    made_head head = head_of(_i);
    synthetic_zone zone, truth;
    tdm_hair hair;
    open_hair(&head, 240, &zone, &hair);
    const tdm_search_result found = search(&hair, &zone);
    ck_assert(found.enough);
    ck_assert_double_le(found.after.dprime, aim);

    made_shade shade = {.to = found.melt.to, .feather = found.melt.feather};
    memcpy(shade.lab, found.melt.lab, sizeof shade.lab);
    head.shade = &shade;
    synthetic_zone_make(synthetic_strip(240, 60, made_head_colour, &head), &truth);
    tdm_line_figures before, after;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_line_measure(&zone.strip, metres, &before, &error), TDM_OK);
    ck_assert_int_eq(tdm_line_measure(&truth.strip, metres, &after, &error), TDM_OK);
    ck_assert_double_gt(before.dprime, visible);
    ck_assert_double_lt(after.dprime, visible);
    synthetic_zone_free(&truth);
    close_hair(&zone, &hair);
}
END_TEST

/* d' wherever a line may be: over the line as it was and all of the feather. */
static double wherever(const tdm_strip *melted, const tdm_fall *line, const tdm_melt *melt)
{
    const double half = 0.5 * tdm_fall_width(line), centre = line->fit.centre[0];
    const double from = fmax(fmin(centre - half, melt->to - 0.5 * melt->feather), 0);
    const double to = fmin(fmax(centre + half, melt->to + 0.5 * melt->feather), line->length);
    tdm_fall here = *line; /* arrays borrowed */
    tdm_error error = {0};
    double dprime = NAN;
    here.fit = (tdm_shape_fit){.shape = TDM_SHAPE_TRANSITION,
                               .centre = {0.5 * (from + to)},
                               .sigma = {(to - from) / TDM_RISE_PER_SIGMA}};
    ck_assert_int_eq(tdm_line_dprime(melted, &here, metres, &dprime, &error), TDM_OK);
    return dprime;
}

/* Nothing that ends a tenth nearer the root takes the line away, over finer steps than the search tries. */
START_TEST(no_shorter_melt_is_enough)
{
    const made_head head = head_of(_i);
    synthetic_zone zone;
    tdm_hair hair, coarse;
    tdm_strip scratch;
    tdm_error error = {0};
    open_hair(&head, 240, &zone, &hair);
    const tdm_search_result found = search(&hair, &zone);
    const double reach = 0.9 * (found.melt.to + 0.5 * found.melt.feather);
    ck_assert_int_eq(tdm_hair_coarser(&hair, 1.5, &coarse, &error), TDM_OK);
    ck_assert_int_eq(tdm_melt_scratch(&coarse, &scratch, &error), TDM_OK);
    double least = INFINITY;
    for (int depth = 1; depth <= 6; depth++) {
        for (int feather = 1; feather <= 6; feather++) {
            tdm_melt melt = {.feather = feather * reach / 6.5};
            melt.to = reach - 0.5 * melt.feather;
            for (int k = 0; k < 3; k++)
                melt.lab[k] = hair.root_lab[k] + depth / 12.0 * (hair.lengths_lab[k] - hair.root_lab[k]);
            tdm_melt_apply(&coarse, &melt, &scratch);
            least = fmin(least, wherever(&scratch, &zone.fall, &melt));
        }
    }
    ck_assert_double_gt(least, aim);
    tdm_strip_free(&scratch);
    tdm_hair_free(&coarse);
    close_hair(&zone, &hair);
}
END_TEST

START_TEST(shade_lies_between_root_and_lengths)
{
    const made_head head = made_regrown();
    synthetic_zone zone;
    tdm_hair hair;
    open_hair(&head, 240, &zone, &hair);
    const tdm_search_result found = search(&hair, &zone), again = search(&hair, &zone);
    ck_assert_double_gt(found.melt.lab[0], hair.root_lab[0]);
    ck_assert_double_lt(found.melt.lab[0], hair.lengths_lab[0]);
    /* On the straight line of colour: equal shares in all three coordinates. */
    const double share = (found.melt.lab[0] - hair.root_lab[0]) / (hair.lengths_lab[0] - hair.root_lab[0]);
    for (int k = 1; k < 3; k++)
        ck_assert_double_eq_tol(found.melt.lab[k],
                                hair.root_lab[k] + share * (hair.lengths_lab[k] - hair.root_lab[k]), 1e-9);
    ck_assert_mem_eq(&found, &again, sizeof found);
    close_hair(&zone, &hair);
}
END_TEST

/* 45 mm of hair with a hard line at 34 mm of it leave no room for a soft end. */
START_TEST(short_hair_is_said_to_be_too_short)
{
    const made_head head = made_regrown();
    synthetic_zone zone;
    tdm_hair hair;
    open_hair(&head, 45, &zone, &hair);
    const tdm_search_result found = search(&hair, &zone);
    ck_assert(found.possible && !found.enough && found.longest);
    ck_assert_double_gt(found.after.dprime, aim);
    ck_assert_double_le(found.melt.to + 0.5 * found.melt.feather, 45);
    close_hair(&zone, &hair);
}
END_TEST

/* Four cells in nine are hair, spread so that every square of three by three has four: the whole hair has a
 * d', but coarse cells that are mostly empty have none, and no melt can be told from another. */
START_TEST(patchy_hair_has_no_melt)
{
    const made_head head = made_regrown();
    synthetic_zone zone;
    tdm_hair hair;
    double before = NAN;
    tdm_error error = {0};
    open_hair(&head, 120, &zone, &hair);
    for (size_t cell = 0; cell < hair.strip.rows * hair.strip.cols; cell++)
        hair.strip.use[cell] = cell / hair.strip.cols % 3 < 2 && cell % hair.strip.cols % 3 < 2;
    ck_assert_int_eq(tdm_line_dprime(&hair.strip, &zone.fall, metres, &before, &error), TDM_OK);
    ck_assert(isfinite(before));
    const tdm_search_result found = search(&hair, &zone);
    ck_assert(!found.possible && !found.enough && !found.longest);
    ck_assert(isnan(found.after.dprime));
    close_hair(&zone, &hair);
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("search");
    tcase_add_loop_test(tests, found_melt_is_enough_when_drawn, 0, 5);
    tcase_add_loop_test(tests, no_shorter_melt_is_enough, 0, 2);
    tcase_add_test(tests, shade_lies_between_root_and_lengths);
    tcase_add_test(tests, short_hair_is_said_to_be_too_short);
    tcase_add_test(tests, patchy_hair_has_no_melt);
    return run_case("search", tests);
}
