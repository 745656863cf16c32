/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a wrong swatch let into a scale, a scale that isn't the swatches' own. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "marks/scale_file.h"
#include "measure/drawn_ring.h"
#include "suite.h"

START_TEST(a_swatch_out_of_order)
{
    ring it = ring_of_five();
    tdm_error error = {0};
    char *text = NULL, name[] = "hazel";
    it.lstars[2] = 18; /* level 5 */
    ring_draw(&it);
    it.swatches[2].name = name;
    ck_assert_int_eq(ring_measure(&it, &error), TDM_OK);
    ck_assert(!tdm_swatches_rising(it.found));
    for (size_t i = 0; i < 5; i++) {
        tdm_swatch swatch;
        tdm_swatches_at(it.found, i, &swatch);
        ck_assert(swatch.rising == (swatch.level != 5));
    }
    ck_assert_ptr_nonnull(ring_warning(&it, "swatch-order"));
    ck_assert_ptr_nonnull(strstr(ring_warning(&it, "swatch-order")->text, "out of order: level 5 (hazel)."));
    ck_assert_int_eq(tdm_swatches_scale(it.found, &text, &error), TDM_ERR_UNUSABLE);
    ck_assert_ptr_nonnull(strstr(error.text, "level 5 (hazel)"));
    ck_assert_ptr_null(text);
    ring_free(&it);
}
END_TEST

/* Half a unit apart, with bands that differ by more. */
START_TEST(swatches_hardly_apart)
{
    ring it = {.count = 3, .levels = {4, 4.5, 6}, .lstars = {26, 26.3, 35}, .strands = 0.2, .exposure = 1};
    ring_read(&it);
    ck_assert_ptr_nonnull(ring_warning(&it, "swatch-close"));
    ck_assert_ptr_nonnull(strstr(ring_warning(&it, "swatch-close")->text, "level 4 and level 4.5"));
    ring_free(&it);
}
END_TEST

static void read_scale(const ring *it, tdm_level_scale *scale)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    char *text = NULL;
    ck_assert_int_eq(tdm_swatches_scale(it->found, &text, &error), TDM_OK);
    ck_assert_msg(tdm_scale_parse(text, strlen(text), "s", &limits, &warnings, scale, &error) == TDM_OK, "%s",
                  error.text);
    ck_assert_uint_eq(warnings.count, 0);
    tdm_free(text);
}

START_TEST(the_scale_of_the_swatches)
{
    ring it = ring_of_five();
    tdm_level_scale scale;
    ring_read(&it);
    strcpy(it.found->taken, "2026-03-14T09:26:53");
    read_scale(&it, &scale);
    ck_assert_str_eq(scale.note, "your swatches, ring.jpg, 2026-03-14");
    ck_assert_uint_eq(scale.count, 5);
    /* a swatch has its own level; hair between two lies between their levels, linear in ln L* */
    ck_assert_double_eq_tol(tdm_level_from_lstar(&scale, 30), 5, 0.01);
    ck_assert_double_eq_tol(tdm_level_from_lstar(&scale, sqrt(30.0 * 35)), 5.5, 0.01);
    it.found->taken[0] = '\0';
    read_scale(&it, &scale);
    ck_assert_str_eq(scale.note, "your swatches, ring.jpg");
    ring_free(&it);
}
END_TEST

START_TEST(a_long_file_name_is_cut_between_characters)
{
    ring it = ring_of_five();
    tdm_level_scale scale;
    ring_read(&it);
    strcpy(it.found->taken, "2026-03-14T09:26:53");
    for (size_t lead = 0; lead < 2; lead++) {
        char name[256] = "a";
        name[lead] = '\0';
        for (int i = 0; i < 100; i++)
            strcat(name, "\xc3\xa4");
        free(it.found->file);
        it.found->file = strdup(name);
        read_scale(&it, &scale); /* which must be UTF-8 */
        ck_assert_uint_le(strlen(scale.note), 95);
        ck_assert_uint_ge(strlen(scale.note), 94);
        ck_assert_ptr_null(strchr(scale.note, '?'));
        ck_assert_ptr_nonnull(strstr(scale.note, "..., 2026-03-14"));
    }
    ring_free(&it);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_swatch_out_of_order, swatches_hardly_apart, the_scale_of_the_swatches,
                                  a_long_file_name_is_cut_between_characters, NULL};
    return run_suite("scale of swatches", tests);
}
