/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a mark read as another, something that must be given that needn't, unknown keys lost on
 * rewriting. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "marks/marks_text.h"
#include "suite.h"

START_TEST(everything_is_read)
{
    tdm_marks marks;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    const char *text = HEAD SCALE
        "\"target\":{\"kind\":\"patch24\",\"corners\":[[200,10],[300,12],[298,80],[199,79]]},"
        "\"grey\":[{\"polygon\":[[1,1],[9,1],[9,9]],\"lstar\":50}],\"exclude\":[[[5,5],[6,5],[6,6]]],"
        "\"zones\":[{\"name\":\"vordere H\xc3\xa4lfte\",\"side\":\"left\",\"weight\":2,\"root_mm\":12.5,"
        "\"path\":[[10,10],[12,100],[10,200]],\"width_px\":[20,30,40]}]}";
    ck_assert_msg(parse_marks(text, &marks, &warnings, &error) == TDM_OK, "%s %s", error.place, error.text);
    ck_assert_uint_eq(warnings.count, 0);
    ck_assert_str_eq(marks.photo, "a.jpg");
    ck_assert(marks.has_scale && marks.mm_per_px == 0.5);
    ck_assert(marks.has_target && marks.corners[0] == 200 && marks.corners[7] == 79);
    ck_assert(marks.grey_count == 1 && marks.greys[0].polygon.count == 3 && marks.greys[0].lstar == 50);
    ck_assert(marks.exclude_count == 1 && marks.excludes[0].count == 3);
    ck_assert_uint_eq(marks.zone_count, 1);
    ck_assert_str_eq(marks.zones[0].name, "vordere H\xc3\xa4lfte");
    ck_assert_str_eq(marks.zones[0].side, "left");
    ck_assert(marks.zones[0].weight == 2 && !marks.zones[0].width_in_mm);
    ck_assert(marks.zones[0].root_mm == 12.5);
    ck_assert(marks.zones[0].path.count == 3 && marks.zones[0].path.xy[5] == 200);
    ck_assert(marks.zones[0].widths[0] == 20 && marks.zones[0].widths[2] == 40);
    tdm_marks_free(&marks);
}
END_TEST

START_TEST(what_may_be_left_out)
{
    tdm_marks marks;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    ck_assert_int_eq(parse_marks(HEAD SCALE ZONES, &marks, &warnings, &error), TDM_OK);
    ck_assert(!marks.has_target && marks.grey_count == 0 && marks.exclude_count == 0);
    ck_assert(marks.zones[0].weight == 1 && !marks.zones[0].side && marks.zones[0].root_mm == 0);
    ck_assert(marks.zones[0].widths[0] == 20 && marks.zones[0].widths[1] == 20); /* one number, each point */
    tdm_marks_free(&marks);
    ck_assert_int_eq(parse_marks(HEAD "\"zones\":[{\"name\":\"a\",\"path\":[[1,1],[1,9]],\"width_px\":4}]}",
                                 &marks, &warnings, &error),
                     TDM_OK);
    ck_assert(!marks.has_scale && isnan(marks.mm_per_px));
    tdm_marks_free(&marks);
    /* Millimetres may come from elsewhere: the target's size. */
    ck_assert_int_eq(parse_marks(HEAD ZONES, &marks, &warnings, &error), TDM_OK);
    ck_assert(!marks.has_scale && marks.zones[0].width_in_mm);
    tdm_marks_free(&marks);
}
END_TEST

#define SWATCHES                                                                                             \
    "\"swatches\":[{\"level\":4,\"polygon\":[[1,1],[9,1],[9,9]],\"name\":\"chestnut\"},"                     \
    "{\"level\":6.5,\"polygon\":[[11,1],[19,1],[19,9],[11,9]]}]"

START_TEST(swatches_need_no_zone)
{
    tdm_marks marks;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    char *text = NULL;
    ck_assert_msg(parse_marks(HEAD SWATCHES "}", &marks, &warnings, &error) == TDM_OK, "%s", error.text);
    ck_assert_uint_eq(warnings.count, 0);
    ck_assert(marks.swatch_count == 2 && marks.zone_count == 0);
    ck_assert(marks.swatches[0].level == 4 && marks.swatches[0].polygon.count == 3);
    ck_assert_str_eq(marks.swatches[0].name, "chestnut");
    ck_assert(marks.swatches[1].level == 6.5 && marks.swatches[1].polygon.xy[7] == 9);
    ck_assert_ptr_null(marks.swatches[1].name);
    ck_assert_int_eq(tdm_marks_text(&marks, &text, &error), TDM_OK);
    tdm_marks_free(&marks);
    ck_assert_int_eq(parse_marks(text, &marks, &warnings, &error), TDM_OK); /* written and read again */
    ck_assert(marks.swatch_count == 2 && marks.swatches[1].level == 6.5);
    tdm_free(text);
    tdm_marks_free(&marks);
    ck_assert_int_eq(parse_marks(HEAD SWATCHES "," SCALE ZONES, &marks, &warnings, &error), TDM_OK);
    ck_assert(marks.swatch_count == 2 && marks.zone_count == 1);
    tdm_marks_free(&marks);
}
END_TEST

START_TEST(a_target_needs_no_zone)
{
    tdm_marks marks;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    ck_assert_int_eq(
        parse_marks(HEAD
                    "\"target\":{\"kind\":\"patch24\",\"corners\":[[200,10],[300,12],[298,80],[199,79]]}}",
                    &marks, &warnings, &error),
        TDM_OK);
    ck_assert(marks.has_target && marks.zone_count == 0);
    tdm_marks_free(&marks);
}
END_TEST

START_TEST(unknown_keys_warn_and_survive)
{
    tdm_marks marks;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    char *text = NULL;
    ck_assert_int_eq(parse_marks(HEAD SCALE
                                 "\"salon\":{\"chair\":3},\"zones\":[{\"name\":\"a\",\"path\":[[1,1],[1,9]],"
                                 "\"width_mm\":2,\"hand\":\"wet\"}]}",
                                 &marks, &warnings, &error),
                     TDM_OK);
    ck_assert_uint_eq(warnings.count, 2);
    ck_assert_str_eq(warnings.items[0].code, "marks-unknown-key");
    ck_assert_ptr_nonnull(strstr(warnings.items[0].text, "salon"));
    ck_assert_ptr_nonnull(strstr(warnings.items[1].text, "zones[0].hand"));
    ck_assert_int_eq(tdm_marks_text(&marks, &text, &error), TDM_OK);
    ck_assert_ptr_nonnull(strstr(text, "\"chair\": 3"));
    ck_assert_ptr_nonnull(strstr(text, "\"hand\": \"wet\""));
    tdm_marks_free(&marks);
    tdm_free(text);
    tdm_warnings_free(&warnings);
}
END_TEST

START_TEST(path_beside_the_photograph)
{
    static const char *const pairs[][2] = {{"before.jpg", "before.marks.json"},
                                           {"dir.x/before.tar.jpg", "dir.x/before.tar.marks.json"},
                                           {"dir.x/before", "dir.x/before.marks.json"},
                                           {".hidden", ".hidden.marks.json"}};
    for (size_t i = 0; i < 4; i++) {
        char *path = tdm_marks_path(pairs[i][0]);
        ck_assert_str_eq(path, pairs[i][1]);
        free(path);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {everything_is_read,
                                  what_may_be_left_out,
                                  swatches_need_no_zone,
                                  a_target_needs_no_zone,
                                  unknown_keys_warn_and_survive,
                                  path_beside_the_photograph,
                                  NULL};
    return run_suite("marks", tests);
}
