/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a swatch out of order that isn't marked, a wrong verdict on the whole, a field of the JSON
 * lost, a line wider than asked for. */
#include <jansson.h>
#include <string.h>

#include "measure/swatches_parts.h"
#include "report/plain.h"
#include "suite.h"
#include "tidemark/report.h"

static tdm_swatches *made_swatches(bool rising)
{
    static const double lstars[] = {21.9, 26.1, 35.2}, levels[] = {3, 4.5, 6};
    tdm_swatches *made = calloc(1, sizeof *made);
    ck_assert_ptr_nonnull(made);
    made->file = strdup("ring.jpg");
    made->profile = strdup("sRGB");
    memset(made->sha256, 'b', 64);
    made->width = 800;
    made->height = 600;
    made->count = 3;
    for (size_t i = 0; i < 3; i++)
        made->entries[i] = (tdm_swatch_entry){.level = levels[i],
                                              .lab = {lstars[i], 5, 9.4},
                                              .u = 1.2,
                                              .spread = 2.5,
                                              .rising = rising || i != 1};
    made->entries[1].name = strdup("chestnut");
    made->falling = rising ? 0 : 1;
    return made;
}

static char *text_of(const tdm_swatches *swatches, unsigned width, bool truecolour)
{
    const tdm_text_style style = {.truecolour = truecolour, .unicode = true, .width = width};
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_swatches_text(swatches, &style, &text, &error), TDM_OK);
    return text;
}

static void check_has(const char *text, const char *piece)
{
    ck_assert_msg(strstr(text, piece) != NULL, "no \"%s\" in:\n%s", piece, text);
}

START_TEST(rising_swatches)
{
    tdm_swatches *made = made_swatches(true);
    char *text = text_of(made, 100, false);
    check_has(text, "ring.jpg: 800 x 600 pixels");
    check_has(text, "  3             21.9 ± 1.2     2.5    5, 9\n");
    check_has(text, "  4.5 chestnut  26.1 ± 1.2     2.5    5, 9\n");
    check_has(text, "they make a level scale");
    ck_assert_ptr_null(strchr(text, '\x1b'));
    tdm_free(text);
    text = text_of(made, 100, true);
    check_has(text, "\x1b[48;2;");
    tdm_free(text);
    tdm_swatches_free(made);
}
END_TEST

START_TEST(falling_swatches)
{
    tdm_swatches *made = made_swatches(false);
    tdm_error error = {0};
    ck_assert_int_eq(tdm_warn(&made->warnings, &error, "swatch-unusable", NULL, "made up, before it"),
                     TDM_OK);
    ck_assert_int_eq(tdm_warn(&made->warnings, &error, "swatch-order", NULL, "made up for the test"), TDM_OK);
    ck_assert_int_eq(tdm_warn(&made->warnings, &error, "swatch-close", NULL, "made up, behind it"), TDM_OK);
    char *text = text_of(made, 100, false);
    check_has(text, "4.5 chestnut (out of order)");
    check_has(text, "no level scale can be made");
    check_has(text, "Check the levels of those out of order");
    ck_assert_ptr_null(strstr(text, "swatch-order")); /* said already */
    check_has(text, "swatch-unusable: made up, before it");
    check_has(text, "swatch-close: made up, behind it");
    tdm_free(text);
    tdm_swatches_free(made);
}
END_TEST

START_TEST(keeps_to_the_width)
{
    tdm_swatches *made = made_swatches(false);
    for (unsigned width = 40; width <= 200; width += 10) {
        char *text = text_of(made, width, false);
        for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
            ck_assert_msg(tdm_columns(line, strcspn(line, "\n")) <= width, "%u: %s", width, line);
        tdm_free(text);
    }
    tdm_swatches_free(made);
}
END_TEST

/* Six significant digits are written. */
START_TEST(as_json)
{
    tdm_swatches *made = made_swatches(false);
    tdm_error error = {0};
    json_error_t why;
    char *text = NULL;
    ck_assert_int_eq(tdm_swatches_json(made, &text, &error), TDM_OK);
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, &why);
    ck_assert_ptr_nonnull(root);
    ck_assert_int_eq(json_integer_value(json_object_get(root, "tidemark_swatches")), 1);
    ck_assert(json_is_false(json_object_get(root, "rising")));
    const json_t *second = json_array_get(json_object_get(root, "swatches"), 1);
    ck_assert_str_eq(json_string_value(json_object_get(second, "name")), "chestnut");
    ck_assert_double_eq_tol(json_number_value(json_object_get(second, "level")), 4.5, 1e-5);
    ck_assert_double_eq_tol(json_number_value(json_array_get(json_object_get(second, "lab"), 0)), 26.1, 1e-4);
    ck_assert_double_eq_tol(json_number_value(json_object_get(json_object_get(second, "lstar"), "u")), 1.2,
                            1e-5);
    ck_assert_double_eq_tol(json_number_value(json_object_get(second, "spread")), 2.5, 1e-5);
    ck_assert(json_is_false(json_object_get(second, "rising")));
    ck_assert(json_is_null(json_object_get(json_array_get(json_object_get(root, "swatches"), 0), "name")));
    json_decref(root);
    tdm_free(text);
    tdm_swatches_free(made);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {rising_swatches, falling_swatches, keeps_to_the_width, as_json, NULL};
    return run_suite("swatches report", tests);
}
