/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: numbers with a decimal comma in a program that has set its locale. Skipped (exit 77) where no
 * locale with a comma can be had. */
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "compare/made_reading.h"
#include "suite.h"
#include "tidemark/report.h"

enum { SKIPPED = 77, REPORTS = 6 };

static void all_reports(char *texts[REPORTS])
{
    const tdm_text_style style = {.unicode = true, .width = 80};
    tdm_reading *before = made_reading("before.jpg", 1);
    tdm_reading *after = made_reading("after.jpg", 1);
    made_regrowth(&before->zones[0], false);
    made_regrowth(&after->zones[0], true);
    made_fill(&before->head);
    made_fill(&after->head);
    tdm_comparison *comparison = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_compare(before, after, &comparison, &error), TDM_OK);
    ck_assert_int_eq(tdm_reading_json(before, &texts[0], &error), TDM_OK);
    ck_assert_int_eq(tdm_reading_csv(before, &texts[1], &error), TDM_OK);
    ck_assert_int_eq(tdm_reading_text(before, &style, &texts[2], &error), TDM_OK);
    ck_assert_int_eq(tdm_comparison_json(comparison, &texts[3], &error), TDM_OK);
    ck_assert_int_eq(tdm_comparison_csv(comparison, &texts[4], &error), TDM_OK);
    ck_assert_int_eq(tdm_comparison_text(comparison, &style, &texts[5], &error), TDM_OK);
    tdm_comparison_free(comparison);
    tdm_reading_free(before);
    tdm_reading_free(after);
}

static bool comma_locale(void)
{
    static const char *const names[] = {"de_DE.UTF-8", "de_DE", "fr_FR.UTF-8", "sv_SE.UTF-8"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char number[8];
        (void)setlocale(LC_ALL, names[i]);
        (void)snprintf(number, sizeof number, "%.1f", 0.5);
        if (strcmp(number, "0,5") == 0)
            return true;
    }
    return false;
}

START_TEST(bytes_are_the_same)
{
    char *plain[REPORTS] = {0}, *german[REPORTS] = {0};
    (void)setlocale(LC_ALL, "C");
    all_reports(plain);
    ck_assert(comma_locale());
    all_reports(german);
    (void)setlocale(LC_ALL, "C");
    for (size_t i = 0; i < REPORTS; i++) {
        ck_assert_str_eq(german[i], plain[i]);
        tdm_free(german[i]);
        tdm_free(plain[i]);
    }
}
END_TEST

int main(void)
{
    if (!comma_locale()) {
        (void)fprintf(stderr, "no locale with a decimal comma: skipped\n");
        return SKIPPED;
    }
    TCase *tests = patient_case("locale");
    tcase_add_test(tests, bytes_are_the_same);
    return run_case("locale", tests);
}
