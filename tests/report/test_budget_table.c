/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: components out of order, shares that aren't of the variance, a figure without its uncertainty
 * listed, the head's left out, components that can't be told from figures on a narrow page. */
#include <math.h>
#include <string.h>

#include "compare/made_reading.h"
#include "measure/budget.h"
#include "suite.h"
#include "tidemark/report.h"

static char *table_of(const tdm_reading *reading, unsigned width)
{
    const tdm_text_style style = {.width = width};
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_reading_budget(reading, &style, &text, &error), TDM_OK);
    return text;
}

static char *table(const tdm_reading *reading)
{
    return table_of(reading, 80);
}

/* 3, 4 and 12: u 26, shares 5, 9 and 85 of 100 (9/169, 16/169, 144/169). */
START_TEST(largest_first_with_its_share)
{
    tdm_reading *reading = made_reading("before.jpg", 1);
    struct tdm_zone_reading *zone = &reading->zones[0];
    const tdm_budget parts = {.part = {[TDM_PART_SAMPLING] = 3, [TDM_PART_GLOSS] = 12, [TDM_PART_SCALE] = 4}};
    tdm_put(zone, &zone->gradient.width_mm, 50, &parts);
    char *text = table(reading);
    const char *u = strstr(text, "+- 26"), *gloss = strstr(text, "gloss"), *scale = strstr(text, "scale"),
               *sampling = strstr(text, "sampling");
    ck_assert(u && gloss && scale && sampling);
    ck_assert(u < gloss && gloss < scale && scale < sampling);
    ck_assert_ptr_nonnull(strstr(gloss, "85 %"));
    ck_assert_ptr_nonnull(strstr(scale, " 9 %"));
    ck_assert_ptr_nonnull(strstr(sampling, " 5 %"));
    ck_assert_ptr_null(strstr(text, "plane")); /* nothing to say of it */
    tdm_free(text);
    tdm_reading_free(reading);
}
END_TEST

START_TEST(what_has_no_uncertainty_is_left_out)
{
    tdm_reading *reading = made_reading("before.jpg", 1);
    made_fill(&reading->zones[0]);
    reading->zones[0].gradient.width_mm.u = NAN;
    char *text = table(reading);
    ck_assert_ptr_null(strstr(text, tdm_figure_find("gradient.width_mm")->label));
    ck_assert_ptr_nonnull(strstr(text, tdm_figure_find("gradient.centre_mm")->label));
    tdm_free(text);
    tdm_reading_free(reading);
}
END_TEST

/* The head's own: 1.5 of sampling and 2 of scale make u 5, shares 36 and 64. */
START_TEST(the_head_has_its_table)
{
    tdm_reading *reading = made_reading("before.jpg", 2);
    const tdm_budget parts = {.part = {[TDM_PART_SAMPLING] = 1.5, [TDM_PART_SCALE] = 2}};
    tdm_put(&reading->head, &reading->head.gradient.width_mm, 40, &parts);
    char *text = table(reading);
    const char *head = strstr(text, "whole head");
    ck_assert_ptr_nonnull(head);
    ck_assert_ptr_nonnull(strstr(head, "+- 5.0"));
    ck_assert_ptr_nonnull(strstr(head, "64 %"));
    ck_assert_ptr_nonnull(strstr(head, "36 %"));
    tdm_free(text);
    tdm_reading_free(reading);
}
END_TEST

/* At 40 columns a component stands two further in than its figure, and sizes stand under their heading. */
START_TEST(narrow_pages_keep_the_order)
{
    tdm_reading *reading = made_reading("before.jpg", 1);
    struct tdm_zone_reading *zone = &reading->zones[0];
    const tdm_budget parts = {.part = {[TDM_PART_SAMPLING] = 3, [TDM_PART_GLOSS] = 12, [TDM_PART_SCALE] = 4}};
    tdm_put(zone, &zone->gradient.width_mm, 50, &parts);
    tdm_put(zone, &zone->demarcation.local_width_mm, 50, &parts);
    char *text = table_of(reading, 40);
    static const char want[] = "\n"
                               "                             size  share\n"
                               "  width of the fall, mm        50  +- 26\n"
                               "    gloss                    12.0   85 %\n"
                               "    scale                     4.0    9 %\n"
                               "    sampling                  3.0    5 %\n"
                               "\n"
                               "  width of the line at one place, mm\n"
                               "                               50  +- 26\n"
                               "    gloss                    12.0   85 %\n";
    ck_assert_msg(strstr(text, want) != NULL, "%s", text);
    tdm_free(text);
    tdm_reading_free(reading);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {largest_first_with_its_share, what_has_no_uncertainty_is_left_out,
                                  the_head_has_its_table, narrow_pages_keep_the_order, NULL};
    return run_suite("budget table", tests);
}
