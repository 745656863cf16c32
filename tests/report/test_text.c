/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: columns out of line, a line wider than asked for, NaN for a person to read, colour where none
 * was asked for. The whole report is set against files of tests/data/report at three widths; UPDATE=1 in the
 * environment writes them anew, to be looked at before they are kept. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "compare/made_reading.h"
#include "report/plain.h"
#include "suite.h"
#include "tidemark/report.h"

static tdm_reading *before, *after;
static tdm_comparison *comparison;

static void warn(tdm_reading *reading, const char *code, const char *zone, const char *text)
{
    tdm_error error = {0};
    ck_assert_int_eq(tdm_warn(&reading->warnings, &error, code, zone, "%s", text), TDM_OK);
}

static void make_scenario(void)
{
    tdm_error error = {0};
    before = made_reading("before.jpg", 2);
    after = made_reading("after.jpg", 2);
    strcpy(before->taken, "2026-03-14T09:26:53");
    made_regrowth(&before->zones[0], false);
    made_regrowth(&after->zones[0], true);
    before->zones[0].side = made_copy("left");
    made_regrowth(&before->head, false);
    made_regrowth(&after->head, true);
    before->zones[0].gradient.profile.points[20].lab[0] = NAN; /* a hole in a profile */
    warn(before, "little-used", "zone 1", "only half of the zone could be used");
    warn(after, "little-used", "zone 1", "only half of the zone could be used");
    warn(after, "clipped", NULL, "the lightest hair is clipped; expose less");
    ck_assert_int_eq(tdm_compare(before, after, &comparison, &error), TDM_OK);
}

static void free_scenario(void)
{
    tdm_comparison_free(comparison);
    tdm_reading_free(before);
    tdm_reading_free(after);
}

static char *compared(const tdm_text_style *style)
{
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_comparison_text(comparison, style, &text, &error), TDM_OK);
    return text;
}

static char *read_alone(const tdm_reading *reading, const tdm_text_style *style)
{
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_reading_text(reading, style, &text, &error), TDM_OK);
    return text;
}

static void check_lines(const char *text, size_t width)
{
    for (const char *line = text; *line;) {
        const size_t bytes = strcspn(line, "\n");
        ck_assert_msg(tdm_columns(line, bytes) <= width, "wider than %zu: %.*s", width, (int)bytes, line);
        ck_assert_msg(bytes == 0 || line[bytes - 1] != ' ', "ends in a space: %.*s", (int)bytes, line);
        line += bytes + 1;
    }
    ck_assert_ptr_null(strstr(text, "nan"));
    ck_assert_ptr_null(strstr(text, "inf "));
}

static void check_golden(const char *name, unsigned width, const char *text)
{
    char path[512];
    static char kept[65536];
    (void)snprintf(path, sizeof path, "%s/report/%s-%u.txt", TEST_DATA, name, width);
    const char *update = getenv("UPDATE");
    FILE *file = fopen(path, update && update[0] ? "w+" : "r");
    ck_assert_msg(file != NULL, "%s can't be opened", path);
    if (update && update[0]) {
        ck_assert_int_ge(fputs(text, file), 0);
        rewind(file);
    }
    const size_t size = fread(kept, 1, sizeof kept - 1, file);
    kept[size] = '\0';
    (void)fclose(file);
    ck_assert_str_eq(text, kept);
}

static const unsigned widths[] = {40, 80, 120};

START_TEST(comparison_is_as_kept)
{
    const tdm_text_style style = {.unicode = true, .width = widths[_i]};
    char *text = compared(&style);
    check_lines(text, widths[_i]);
    check_golden("compare", widths[_i], text);
    tdm_free(text);
}
END_TEST

START_TEST(reading_is_as_kept)
{
    const tdm_text_style style = {.unicode = false, .width = widths[_i]};
    before->usable = false;
    char *text = read_alone(before, &style);
    check_lines(text, widths[_i]);
    check_golden("read-ascii", widths[_i], text);
    for (const char *at = text; *at; at++)
        ck_assert_msg((unsigned char)*at < 0x80 && (*at >= ' ' || *at == '\n'), "byte %d", *at);
    tdm_free(text);
}
END_TEST

/* The longest numbers that figures may reach still fit 40 columns when the signs are ASCII. */
START_TEST(no_width_is_too_narrow)
{
    for (unsigned width = 40; width <= 200; width++) {
        const tdm_text_style style = {.unicode = width % 2 == 0, .width = width};
        char *text = compared(&style);
        check_lines(text, width);
        tdm_free(text);
    }
}
END_TEST

START_TEST(null_is_a_dash)
{
    tdm_reading *empty = made_reading("empty.png", 1);
    empty->zones[0].root.level = (tdm_value){.value = 4, .u = NAN};
    empty->mm_per_px = NAN;
    empty->calibration.before_mean = empty->calibration.residual_mean = NAN;
    const tdm_text_style plain = {.width = 80}, unicode = {.unicode = true, .width = 80};
    char *text = read_alone(empty, &plain);
    check_lines(text, 80);
    ck_assert_ptr_nonnull(strstr(text, "  -\n"));
    tdm_free(text);
    text = read_alone(empty, &unicode);
    check_lines(text, 80);
    ck_assert_ptr_nonnull(strstr(text, "  \u2013\n"));
    tdm_free(text);
    tdm_reading_free(empty);
}
END_TEST

START_TEST(zone_without_figures_says_so)
{
    tdm_reading *empty = made_reading("empty.png", 1);
    const tdm_text_style style = {.width = 80};
    char *text = read_alone(empty, &style);
    check_lines(text, 80);
    ck_assert_ptr_nonnull(strstr(text, "\n  No figure could be read here; the warnings say why.\n"));
    tdm_free(text);
    tdm_reading_free(empty);
}
END_TEST

/* "34 ± 0" would claim that nothing is uncertain. */
START_TEST(small_uncertainty_shows)
{
    const tdm_text_style style = {.width = 80};
    before->zones[0].gradient.centre_mm = (tdm_value){.value = 34.04, .u = 0.18};
    before->zones[0].gradient.width_mm = (tdm_value){.value = 4.096, .u = 0.02};
    before->zones[0].gradient.de00 = (tdm_value){.value = 22, .u = 0};
    char *text = read_alone(before, &style);
    ck_assert_ptr_nonnull(strstr(text, " 34.0 +- 0.2\n"));
    ck_assert_ptr_nonnull(strstr(text, " 4.10 +- 0.02\n"));
    ck_assert_ptr_nonnull(strstr(text, " 22.0 +- 0.0\n"));
    tdm_free(text);
}
END_TEST

/* What it means comes before the numbers. */
START_TEST(meaning_comes_first)
{
    const tdm_text_style style = {.width = 200};
    char *text = compared(&style);
    const char *title = strstr(text, "-- zone 1 (left) ");
    ck_assert_ptr_nonnull(title);
    const char *next = strchr(title, '\n');
    ck_assert_ptr_nonnull(next);
    ck_assert_msg(strncmp(next, "\n  The line at 34 mm", 20) == 0, "%s", title);
    tdm_free(text);
}
END_TEST

/* A zone that could be used almost whole needs no row to say so; one that lost more does, before or after. */
START_TEST(lost_share_shows)
{
    static const char label[] = "share that could be used";
    const tdm_text_style style = {.width = 80};
    before->zones[0].used_share = after->zones[0].used_share = 0.91;
    char *text = compared(&style);
    const char *head = strstr(text, "-- whole head ");
    ck_assert_ptr_nonnull(head);
    const char *found = strstr(text, label);
    ck_assert_msg(!found || found > head, "%s", text);
    tdm_free(text);
    after->zones[0].used_share = 0.89;
    text = compared(&style);
    found = strstr(text, label);
    ck_assert_msg(found && found < strstr(text, "-- whole head "), "%s", text);
    tdm_free(text);
}
END_TEST

START_TEST(levels_and_results_carry_their_notes)
{
    const tdm_text_style style = {.width = 200};
    char *text = compared(&style);
    size_t notes = 0;
    for (const char *at = strstr(text, "not calibrated to your swatches"); at;
         at = strstr(at + 1, "not calibrated to your swatches"))
        notes++;
    ck_assert_uint_eq(notes, 2); /* one zone and the head; the other zone has no levels */
    ck_assert_ptr_nonnull(strstr(text, "strand test"));
    ck_assert_ptr_nonnull(strstr(text,
                                 "little-used: only half of the zone could be used (before: zone 1; after: "
                                 "zone 1)\n"));
    ck_assert_ptr_nonnull(strstr(text, "clipped: the lightest hair is clipped; expose less (after)\n"));
    ck_assert_ptr_nonnull(
        strstr(text, "The line at 34 mm has gone from hard, 5 mm wide, to soft, 41 mm wide"));
    tdm_free(text);
}
END_TEST

START_TEST(swatches_need_true_colour)
{
    const tdm_text_style bold = {.colour = true, .unicode = true, .width = 80};
    const tdm_text_style full = {.colour = true, .truecolour = true, .unicode = true, .width = 80};
    char *text = compared(&bold);
    ck_assert_ptr_nonnull(strstr(text, "\x1b[1m"));
    ck_assert_ptr_null(strstr(text, "\x1b[48;2"));
    tdm_free(text);
    text = compared(&full);
    ck_assert_ptr_nonnull(strstr(text, "root \x1b[48;2;"));
    tdm_free(text);
}
END_TEST

/* A zone's name can't steer the terminal. */
START_TEST(names_are_made_harmless)
{
    tdm_reading *reading = made_reading("x\x1b]0;y\x07.jpg", 1);
    free(reading->zones[0].name);
    reading->zones[0].name = made_copy("\x1b[2J\nname that is far longer than any line of forty columns is");
    const tdm_text_style style = {.unicode = true, .width = 40};
    char *text = read_alone(reading, &style);
    check_lines(text, 40);
    ck_assert_ptr_null(strchr(text, '\x1b'));
    ck_assert_ptr_null(strchr(text, '\x07'));
    tdm_free(text);
    tdm_reading_free(reading);
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("text");
    tcase_add_checked_fixture(tests, make_scenario, free_scenario);
    tcase_add_loop_test(tests, comparison_is_as_kept, 0, 3);
    tcase_add_loop_test(tests, reading_is_as_kept, 0, 3);
    tcase_add_test(tests, no_width_is_too_narrow);
    tcase_add_test(tests, null_is_a_dash);
    tcase_add_test(tests, zone_without_figures_says_so);
    tcase_add_test(tests, small_uncertainty_shows);
    tcase_add_test(tests, meaning_comes_first);
    tcase_add_test(tests, lost_share_shows);
    tcase_add_test(tests, levels_and_results_carry_their_notes);
    tcase_add_test(tests, swatches_need_true_colour);
    tcase_add_test(tests, names_are_made_harmless);
    return run_case("text", tests);
}
