/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: cells that slip a column against the header, quotes of RFC 4180, NaN in a cell. The table is
 * taken apart by a small reader of RFC 4180 of its own. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "compare/made_reading.h"
#include "suite.h"
#include "tidemark/report.h"

enum { MOST_ROWS = 8, MOST_CELLS = 600, CELL_BYTES = 512 };

typedef struct table {
    char cells[MOST_ROWS][MOST_CELLS][CELL_BYTES];
    size_t widths[MOST_ROWS];
    size_t rows;
} table;

static table found;

static const char *read_cell(const char *text, char *cell)
{
    size_t size = 0;
    const bool quoted = *text == '"';
    for (text += quoted; *text; text++) {
        if (quoted && *text == '"' && *++text != '"')
            break;
        if (!quoted && (*text == ',' || *text == '\r'))
            break;
        ck_assert_uint_lt(size + 1, CELL_BYTES);
        cell[size++] = *text;
    }
    cell[size] = '\0';
    return text;
}

static void read_table(char *text)
{
    found.rows = 0;
    for (const char *at = text; *at; found.rows++) {
        ck_assert_uint_lt(found.rows, MOST_ROWS);
        size_t width = 0;
        for (;;) {
            ck_assert_uint_lt(width, MOST_CELLS);
            at = read_cell(at, found.cells[found.rows][width++]);
            if (*at != ',')
                break;
            at++;
        }
        ck_assert_msg(at[0] == '\r' && at[1] == '\n', "a row doesn't end in CR LF");
        at += 2;
        found.widths[found.rows] = width;
    }
    tdm_free(text);
}

static const char *cell(size_t row, const char *heading)
{
    for (size_t i = 0; i < found.widths[0]; i++) {
        if (strcmp(found.cells[0][i], heading) == 0)
            return found.cells[row][i];
    }
    ck_abort_msg("no column %s", heading);
    return "";
}

static void check_shape(size_t rows)
{
    ck_assert_uint_eq(found.rows, rows);
    for (size_t i = 0; i < rows; i++) {
        ck_assert_uint_eq(found.widths[i], found.widths[0]);
        for (size_t c = 0; c < found.widths[i]; c++)
            ck_assert_msg(!strstr(found.cells[i][c], "nan"), "%s", found.cells[0][c]);
    }
    for (size_t i = 0; i < found.widths[0]; i++) {
        for (size_t j = i + 1; j < found.widths[0]; j++)
            ck_assert_str_ne(found.cells[0][i], found.cells[0][j]);
    }
}

static void check_cell(size_t row, const char *heading, double value)
{
    const char *text = cell(row, heading);
    if (!isfinite(value)) {
        ck_assert_str_eq(text, "");
        return;
    }
    ck_assert_msg(text[0] != '\0', "%s is empty", heading);
    ck_assert_double_eq_tol(strtod(text, NULL), value, 1e-5 * fmax(1, fabs(value)));
}

START_TEST(every_figure_has_its_column)
{
    tdm_reading *reading = made_reading("before.jpg", 1);
    made_fill(&reading->zones[0]);
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_reading_csv(reading, &text, &error), TDM_OK);
    read_table(text);
    check_shape(3);
    ck_assert_str_eq(cell(1, "file"), "before.jpg");
    ck_assert_str_eq(cell(1, "zone"), "zone 1");
    ck_assert_str_eq(cell(2, "zone"), "head");
    size_t count = 0, seen = 0;
    const tdm_figure *figures = tdm_figures(&count);
    for (size_t i = 0; i < count; i++) {
        tdm_value value;
        char heading[128];
        if (!tdm_zone_value(&reading->zones[0], &figures[i], &value))
            continue;
        check_cell(1, figures[i].path, value.value);
        check_cell(2, figures[i].path, NAN);
        seen++;
        if (figures[i].kind != TDM_FIGURE_VALUE)
            continue;
        (void)snprintf(heading, sizeof heading, "%s.u", figures[i].path);
        check_cell(1, heading, value.u);
    }
    ck_assert_uint_gt(seen, 20);
    check_cell(1, "root.lab.l", reading->zones[0].root.lab[0]);
    check_cell(1, "root.lab.a", reading->zones[0].root.lab[1]);
    check_cell(1, "root.lab.b", reading->zones[0].root.lab[2]);
    check_cell(1, "demarcation.visibility.1.2m", reading->zones[0].demarcation.visibility[1].dprime);
    ck_assert_str_eq(cell(1, "strands.separable"), "true");
    ck_assert_str_eq(cell(1, "gradient.shape"), reading->zones[0].gradient.shape);
    tdm_reading_free(reading);
}
END_TEST

START_TEST(names_are_quoted)
{
    tdm_reading *reading = made_reading("a,b\r\n.jpg", 1);
    free(reading->zones[0].name);
    reading->zones[0].name = made_copy("the \"left\" one");
    reading->zones[0].side = made_copy("left");
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_reading_csv(reading, &text, &error), TDM_OK);
    ck_assert_ptr_nonnull(strstr(text, "\"a,b\r\n.jpg\",\"the \"\"left\"\" one\",left,"));
    read_table(text);
    check_shape(3);
    ck_assert_str_eq(cell(1, "file"), "a,b\r\n.jpg");
    ck_assert_str_eq(cell(1, "zone"), "the \"left\" one");
    ck_assert_str_eq(cell(2, "side"), "");
    tdm_reading_free(reading);
}
END_TEST

START_TEST(comparison_has_three_sets)
{
    tdm_reading *before = made_reading("before.jpg", 1);
    tdm_reading *after = made_reading("after.jpg", 1);
    made_regrowth(&before->zones[0], false);
    made_regrowth(&after->zones[0], true);
    tdm_comparison *comparison = NULL;
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_compare(before, after, &comparison, &error), TDM_OK);
    ck_assert_int_eq(tdm_comparison_csv(comparison, &text, &error), TDM_OK);
    read_table(text);
    check_shape(3);
    check_cell(1, "before.root.level", 4.0);
    check_cell(1, "after.root.level", 5.2);
    check_cell(1, "change.root.level", 1.2);
    check_cell(1, "change.root.level.u", 0.3 * sqrt(2));
    check_cell(2, "change.root.level", NAN);
    ck_assert_str_eq(cell(1, "before.demarcation.grade"), "hard");
    ck_assert_str_eq(cell(1, "after.demarcation.grade"), "soft");
    ck_assert_str_eq(cell(1, "meaning"), tdm_comparison_zone(comparison, 0)->meaning);
    ck_assert_str_eq(cell(1, "before.file"), "before.jpg");
    ck_assert_str_eq(cell(1, "after.file"), "after.jpg");
    ck_assert_double_gt(strtod(cell(1, "change.root.lab.de00"), NULL), 1);
    tdm_comparison_free(comparison);
    tdm_reading_free(before);
    tdm_reading_free(after);
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("csv");
    tcase_add_test(tests, every_figure_has_its_column);
    tcase_add_test(tests, names_are_quoted);
    tcase_add_test(tests, comparison_has_three_sets);
    return run_case("csv", tests);
}
