/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a judgement that doesn't go with its figure, a left-out patch that isn't named, a line wider
 * than asked for, a way round that doesn't go with the corners, a field of the JSON lost. */
#include <jansson.h>
#include <math.h>
#include <string.h>

#include "report/made_target.h"
#include "report/plain.h"
#include "suite.h"
#include "tidemark/report.h"

static char *text_of(const tdm_target_reading *target, unsigned width, bool truecolour)
{
    const tdm_text_style style = {.truecolour = truecolour, .unicode = true, .width = width};
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_target_text(target, &style, &text, &error), TDM_OK);
    return text;
}

static void check_has(const char *text, const char *piece)
{
    ck_assert_msg(strstr(text, piece) != NULL, "no \"%s\" in:\n%s", piece, text);
}

START_TEST(says_what_was_found)
{
    tdm_target_reading *target = made_target();
    tdm_error error = {0};
    ck_assert_int_eq(tdm_warn(&target->warnings, &error, "target-residual", NULL, "made up for the test"),
                     TDM_OK);
    char *text = text_of(target, 200, false);
    check_has(text, "target.jpg: 420 x 300 pixels, sRGB (assumed), taken 2026-03-14T09:26:53");
    check_has(text, "found in the photograph, upright (turned 2 degrees clockwise); sure to 98 %");
    check_has(text, "Good: below 2");
    check_has(text, "before the correction            7.2   15.0\n");
    check_has(text, "after it                         1.2    2.3\n");
    check_has(text, "each patch by a fit without it   1.8      -\n");
    check_has(text,
              "It leaves ±1.5 in L* of hair. Reference: published values, edition since November 2014.\n");
    check_has(text, "Left out: 15 red, far from what the other patches predict: dirty, glossy or shaded");
    check_has(text, "Left out: 16 yellow, a channel at its top: less exposure");
    check_has(text, "target-residual: made up for the test");
    check_has(text, "1  dark skin ");
    check_has(text, "  8  purplish blue ");
    check_has(text, "(x: left out of the fit)");
    check_has(text, "1.5              1.5              x                x                1.5");
    ck_assert_ptr_null(strstr(text, "nan"));
    ck_assert_ptr_null(strstr(text, " \n"));
    ck_assert_ptr_null(strchr(text, '\x1b'));
    tdm_free(text);
    tdm_target_reading_free(target);
}
END_TEST

/* Whole names under their numbers on two lines; where they don't fit, numbers and a list. Neutrals have the
 * error of a fit without them: the fit itself meets them exactly. */
START_TEST(every_patch_has_its_whole_name)
{
    static const char eighty[] =
        "  7  orange    8  purplish  9  moderate  10 purple    11 yellow    12 orange\n"
        "                  blue         red                       green        yellow\n"
        "  1.5          1.5          1.5          1.5          1.5          1.5\n";
    static const char forty[] = "  13    14    15    16    17    18\n"
                                "  1.5   1.5   x     x     1.5   1.5\n"
                                "  19    20    21    22    23    24\n"
                                "  1.5   1.5   1.5   1.5   1.5   1.5\n"
                                "\n"
                                "  1 dark skin, 2 light skin, 3 blue sky,\n";
    tdm_target_reading *target = made_target();
    char *text = text_of(target, 80, false);
    check_has(text, eighty);
    tdm_free(text);
    text = text_of(target, 40, false);
    check_has(text, forty);
    check_has(text, "purplish");
    tdm_free(text);
    tdm_target_reading_free(target);
}
END_TEST

/* No search is ever sure beyond doubt. */
START_TEST(never_sure_to_a_hundred)
{
    tdm_target_reading *target = made_target();
    target->found.confidence = 1;
    target->calibration.rooted = true;
    char *text = text_of(target, 200, false);
    check_has(text, "; sure to 99 %");
    ck_assert_ptr_null(strstr(text, "polynomial"));
    tdm_free(text);
    tdm_target_reading_free(target);
}
END_TEST

/* The limits that the advice states, from both sides. */
START_TEST(judges_by_patches_it_has_not_seen)
{
    static const struct {
        double left_out;
        const char *says;
    } cases[] = {{1.99, "Good:"}, {2, "Usable:"}, {4, "Usable:"}, {4.01, "Retake:"}, {NAN, "can't be told"}};
    tdm_target_reading *target = made_target();
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        target->calibration.left_out_mean = cases[i].left_out;
        char *text = text_of(target, 120, false);
        check_has(text, cases[i].says);
        tdm_free(text);
    }
    tdm_target_reading_free(target);
}
END_TEST

/* Columns of a line without its colours. */
static size_t shown(const char *line, size_t bytes)
{
    size_t columns = 0;
    for (size_t i = 0; i < bytes; i++) {
        if (line[i] == '\x1b') {
            while (i < bytes && line[i] != 'm')
                i++;
            continue;
        }
        columns += ((unsigned char)line[i] & 0xC0) != 0x80;
    }
    return columns;
}

START_TEST(keeps_to_the_width)
{
    tdm_target_reading *target = made_target();
    for (unsigned width = 40; width <= 200; width += 5) {
        for (int truecolour = 0; truecolour < 2; truecolour++) {
            char *text = text_of(target, width, truecolour);
            for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
                ck_assert_msg(shown(line, strcspn(line, "\n")) <= width, "%u: %s", width, line);
            ck_assert((strstr(text, "\x1b[48;2;") != NULL) == (truecolour == 1));
            tdm_free(text);
        }
    }
    tdm_target_reading_free(target);
}
END_TEST

/* Corners of a drawn target turned by quarters, as pictured: the dark skin patch at the top left, top right,
 * bottom right, bottom left. */
START_TEST(way_round_of_marked_corners)
{
    static const struct {
        double corners[8];
        const char *way;
        double turn;
        bool mirrored;
    } cases[] = {{{0, 0, 6, 0, 6, 4, 0, 4}, "upright", 0, false},
                 {{4, 0, 4, 6, 0, 6, 0, 0}, "on its right side", 90, false},
                 {{6, 4, 0, 4, 0, 0, 6, 0}, "upside down", 180, false},
                 {{0, 6, 0, 0, 4, 0, 4, 6}, "on its left side", -90, false},
                 {{0, 4, 6, 4, 6, 0, 0, 0}, "upright", 0, true}};
    tdm_target_reading *target = made_target();
    target->marked = true;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        tdm_target_facts facts;
        memcpy(target->found.corners, cases[i].corners, sizeof target->found.corners);
        tdm_target_about(target, &facts);
        ck_assert_str_eq(facts.way, cases[i].way);
        ck_assert_double_eq_tol(facts.turn_deg, cases[i].turn, 1e-9);
        ck_assert(facts.mirrored == cases[i].mirrored);
        ck_assert_str_eq(facts.how, "marked");
        ck_assert(isnan(facts.confidence));
    }
    tdm_target_reading_free(target);
}
END_TEST

static double number_at(const json_t *root, const char *first, const char *second, const char *third)
{
    const json_t *at = json_object_get(json_object_get(root, first), second);
    if (third)
        at = json_object_get(at, third);
    ck_assert(json_is_number(at));
    return json_number_value(at);
}

/* Six significant digits are written. */
START_TEST(everything_as_json)
{
    tdm_target_reading *target = made_target();
    tdm_error error = {0};
    json_error_t why;
    char *text = NULL;
    ck_assert_int_eq(tdm_target_json(target, &text, &error), TDM_OK);
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, &why);
    ck_assert_ptr_nonnull(root);
    ck_assert_int_eq(json_integer_value(json_object_get(root, "tidemark_target")), 1);
    ck_assert_str_eq(json_string_value(json_object_get(json_object_get(root, "photo"), "file")),
                     "target.jpg");
    ck_assert_double_eq_tol(number_at(root, "target", "confidence", NULL), 0.98, 1e-6);
    ck_assert_double_eq_tol(number_at(root, "target", "turn_deg", NULL), 2, 1e-5);
    ck_assert_double_eq_tol(number_at(root, "correction", "u_lstar", NULL), 1.5, 1e-5);
    ck_assert_double_eq_tol(number_at(root, "correction", "residual_de00", "before_max"), 15, 1e-4);
    ck_assert_double_eq_tol(number_at(root, "correction", "residual_de00", "left_out_mean"), 1.75, 1e-5);
    ck_assert_double_eq_tol(number_at(root, "correction", "residual_de00", "hair_mean"), 1.5, 1e-5);
    const json_t *corners = json_object_get(json_object_get(root, "target"), "corners");
    ck_assert_double_eq_tol(json_number_value(json_array_get(json_array_get(corners, 2), 0)),
                            target->found.corners[4], 1e-3);
    const json_t *patches = json_object_get(root, "patches");
    ck_assert_uint_eq(json_array_size(patches), 24);
    const json_t *yellow = json_array_get(patches, 15);
    ck_assert_str_eq(json_string_value(json_object_get(yellow, "name")), "yellow");
    ck_assert_str_eq(json_string_value(json_object_get(yellow, "state")), "clipped");
    ck_assert(json_is_null(json_object_get(yellow, "de00_left_out")));
    ck_assert_double_eq_tol(json_number_value(json_array_get(json_object_get(yellow, "reference_lab"), 0)),
                            81.80, 1e-4);
    ck_assert_double_eq_tol(json_number_value(json_array_get(json_object_get(yellow, "after_lab"), 2)), 81.41,
                            1e-4);
    target->marked = true;
    tdm_free(text);
    json_decref(root);
    ck_assert_int_eq(tdm_target_json(target, &text, &error), TDM_OK);
    check_has(text, "\"confidence\": null");
    tdm_free(text);
    tdm_target_reading_free(target);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {says_what_was_found,     every_patch_has_its_whole_name,
                                  never_sure_to_a_hundred, judges_by_patches_it_has_not_seen,
                                  keeps_to_the_width,      way_round_of_marked_corners,
                                  everything_as_json,      NULL};
    return run_suite("target report", tests);
}
