/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a change claimed within its uncertainty, a null figure spoken of, a shape without words. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "compare/made_reading.h"
#include "compare/meaning.h"
#include "suite.h"

/* One side of a case. Zero means null, as no length, level or contrast here is zero. Every u is below. */
typedef struct side {
    const char *shape, *grade;
    double centre, width; /* mm, or shares where `shares` */
    double root, ends, contrast;
    bool shares;
} side;

/* u of each figure on each side; of a difference it is 1.41 times that. */
static const double u_mm = 2, u_share = 0.01, u_level = 0.2, u_contrast = 1;

static tdm_value value_of(double value, double u)
{
    return value == 0 ? (tdm_value){.value = NAN, .u = NAN} : (tdm_value){.value = value, .u = u};
}

static void set_side(struct tdm_zone_reading *zone, const side *from)
{
    zone->gradient.shape = from->shape;
    zone->demarcation.grade = from->grade;
    if (from->shares) {
        zone->gradient.centre_share = value_of(from->centre, u_share);
        zone->gradient.width_share = value_of(from->width, u_share);
    } else {
        zone->gradient.centre_mm = value_of(from->centre, u_mm);
        zone->gradient.width_mm = value_of(from->width, u_mm);
        zone->gradient.centre_share = value_of(from->centre / 200, u_share);
        zone->gradient.width_share = value_of(from->width / 200, u_share);
    }
    zone->root.level = value_of(from->root, u_level);
    zone->ends.level = value_of(from->ends, u_level);
    zone->strands.contrast_lstar = value_of(from->contrast, u_contrast);
    zone->strands.separable = from->contrast != 0;
}

static char *meaning_of(const side *was, const side *is)
{
    struct tdm_zone_reading before, after;
    tdm_zone_reading_init(&before);
    tdm_zone_reading_init(&after);
    set_side(&before, was);
    set_side(&after, is);
    const tdm_zone_change change = {.before = &before, .after = &after, .meaning = NULL};
    const char *sentence = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_meaning(&change, &sentence, &error), TDM_OK);
    return (char *)sentence;
}

#define TELL "within what the photographs can tell."
#define LINE(word, at, wide) .shape = "transition", .grade = (word), .centre = (at), .width = (wide)
#define BAND(word, at, wide) .shape = "band", .grade = (word), .centre = (at), .width = (wide)
#define REST(r, e, c) .root = (r), .ends = (e), .contrast = (c)

static const struct {
    side before, after;
    const char *sentence;
} cases[] = {
    {{LINE("hard", 34, 5), REST(4.0, 8.5, 14.2)},
     {LINE("soft", 36, 41), REST(5.2, 8.6, 13.9)},
     "The line at 34 mm has gone from hard, 5 mm wide, to soft, 41 mm wide; the root is 1.2 levels lighter; "
     "the "
     "contrast is unchanged " TELL},
    {{LINE("hard", 34, 5), REST(4.0, 8.5, 14.2)},
     {LINE("hard", 35, 6), REST(4.1, 8.4, 14.0)},
     "The line at 34 mm is still hard, 6 mm wide; the width of the line, the level at the root and the "
     "contrast are "
     "unchanged " TELL},
    {{LINE("hard", 34, 5), REST(4.0, 8.5, 14.2)},
     {LINE("hard", 52, 5), REST(4.0, 8.0, 9.8)},
     "The line has moved from 34 mm to 52 mm and is still hard, 5 mm wide; the ends are 0.5 levels darker; "
     "the "
     "contrast of light and dark strands has fallen from 14.2 to 9.8 L*; the width of the line and the level "
     "at the root "
     "are unchanged " TELL},
    {{LINE("hard", 34, 5)},
     {LINE("hard", 34, 12)},
     "The line at 34 mm is still hard but wider: 12 mm instead of 5 mm."},
    {{LINE("hard", 34, 12)},
     {LINE("visible", 34, 12)},
     "The line at 34 mm has gone from hard to visible; the width of the line is unchanged " TELL},
    {{LINE("hard", 34, 0)}, {LINE("soft", 0, 9)}, "The line at 34 mm has gone from hard to soft."},
    {{LINE("hard", 0, 0)}, {LINE("hard", 0, 0)}, "The line is still hard."},
    {{.shape = "transition", .centre = 34, .width = 20},
     {LINE("hard", 34, 5)},
     "The line at 34 mm is now narrower: 5 mm instead of 20 mm."},
    {{.shape = "transition", .centre = 34}, {LINE("hard", 34, 5)}, "The line at 34 mm is still there."},
    {{LINE("hard", 0.15, 0.03), .shares = true},
     {LINE("soft", 0.16, 0.20), .shares = true},
     "The line at 15 % of the length has gone from hard, 3 % of the length wide, to soft, 20 % of the length "
     "wide."},
    {{LINE("hard", 34, 5)},
     {LINE("soft", 0.17, 0.20), .shares = true},
     "The line at 17 % of the length has gone from hard, 2 % of the length wide, to soft, 20 % of the length "
     "wide."},
    {{LINE("hard", 34, 5)},
     {.shape = "uniform", .grade = "none"},
     "The hard line at 34 mm, 5 mm wide, has gone; the colour is now even from root to ends."},
    {{LINE("hard", 34, 5)},
     {.shape = "ramp", .grade = "none"},
     "The hard line at 34 mm, 5 mm wide, has gone; the colour now changes steadily from root to ends, "
     "without "
     "a line."},
    {{LINE("hard", 34, 5)},
     {LINE("none", 40, 60)},
     "The hard line at 34 mm, 5 mm wide, has gone; the colour now changes around 40 mm over 60 mm, without a "
     "line that shows."},
    {{.shape = "uniform", .grade = "none"},
     {LINE("hard", 34, 5)},
     "The colour was even from root to ends; there is now a hard line at 34 mm, 5 mm wide."},
    {{.shape = "ramp"},
     {BAND("visible", 15, 5)},
     "The colour changed steadily from root to ends; there is now a band of another colour from 15 mm on."},
    {{BAND("visible", 15, 5)},
     {.shape = "uniform"},
     "The band of another colour from 15 mm on has gone; the colour is now even from root to ends."},
    {{BAND("hard", 15, 5)},
     {BAND("none", 15, 30)},
     "The side of the band nearer the root at 15 mm has gone from hard, 5 mm wide, to not showing, 30 mm "
     "wide."},
    {{.shape = "uniform"}, {.shape = "uniform"}, "The colour is even from root to ends, as before."},
    {{.shape = "ramp"},
     {.shape = "ramp"},
     "The colour changes steadily from root to ends, as before, without a line."},
    {{LINE("none", 40, 60)},
     {LINE("none", 40, 80)},
     "The change of colour at 40 mm is still without a line that shows and wider: 80 mm instead of 60 mm."},
    {{LINE("hard", 34, 5)},
     {.shape = NULL},
     "There was a hard line at 34 mm, 5 mm wide; the second photograph can't tell how it runs now."},
    {{.shape = NULL},
     {.shape = "uniform"},
     "The first photograph can't tell how the colour ran; the colour is now even from root to ends."},
    {{.root = 4.0}, {.root = 3.0}, "The root is 1.0 levels darker."},
    {{.contrast = 8},
     {.contrast = 12},
     "The contrast of light and dark strands has risen from 8.0 to 12.0 L*."},
    {{.contrast = 8},
     {.shape = NULL},
     "Light and dark strands can be told apart only in the first photograph."},
    {{.shape = NULL}, {.shape = NULL}, "The photographs can't tell what has changed here."},
};

START_TEST(says_what_is_meant)
{
    char *sentence = meaning_of(&cases[_i].before, &cases[_i].after);
    ck_assert_str_eq(sentence, cases[_i].sentence);
    free(sentence);
}
END_TEST

static void check_form(const char *sentence)
{
    static const char *const never[] = {"nan", "NaN", "inf", "null", "$", "  ", "..", ";;", " ,", " .", "\n"};
    const size_t size = strlen(sentence);
    ck_assert_uint_gt(size, 10);
    ck_assert_msg(sentence[0] >= 'A' && sentence[0] <= 'Z', "%s", sentence);
    ck_assert_msg(sentence[size - 1] == '.', "%s", sentence);
    for (size_t i = 0; i < sizeof never / sizeof never[0]; i++)
        ck_assert_msg(!strstr(sentence, never[i]), "'%s' in: %s", never[i], sentence);
}

/* Every shape with every grade, with and without each figure: 5 x 5 x 8 sides, all pairs of them. */
START_TEST(no_combination_is_without_words)
{
    static const char *const shapes[] = {NULL, "uniform", "ramp", "transition", "band"};
    static const char *const grades[] = {NULL, "none", "soft", "visible", "hard"};
    enum { SIDES = 5 * 5 * 8 };
    static side sides[SIDES];
    for (size_t i = 0; i < SIDES; i++)
        sides[i] = (side){.shape = shapes[i % 5],
                          .grade = grades[i / 5 % 5],
                          .centre = i / 25 & 1 ? 30.0 + (double)(i % 7) : 0,
                          .width = i / 25 & 2 ? 5.0 + (double)(i % 11) : 0,
                          .shares = i / 25 & 4};
    size_t checked = 0;
    for (size_t i = 0; i < SIDES; i++) {
        for (size_t j = 0; j < SIDES; j++) {
            char *sentence = meaning_of(&sides[i], &sides[j]);
            check_form(sentence);
            free(sentence);
            checked++;
        }
    }
    ck_assert_uint_eq(checked, SIDES * SIDES);
}
END_TEST

/* A length whose u is unknown is neither changed nor unchanged. */
START_TEST(unknown_uncertainty_claims_nothing)
{
    struct tdm_zone_reading before, after;
    tdm_zone_reading_init(&before);
    tdm_zone_reading_init(&after);
    before.root.level = (tdm_value){.value = 4, .u = NAN};
    after.root.level = (tdm_value){.value = 9, .u = 0.1};
    const tdm_zone_change change = {.before = &before, .after = &after, .meaning = NULL};
    ck_assert_int_eq(tdm_verdict_of(&change, "root.level"), TDM_VERDICT_UNKNOWN);
    const char *sentence = NULL;
    ck_assert_int_eq(tdm_meaning(&change, &sentence, NULL), TDM_OK);
    ck_assert_str_eq(sentence, "The photographs can't tell what has changed here.");
    free((char *)sentence);
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("meaning");
    tcase_set_timeout(tests, 120);
    tcase_add_loop_test(tests, says_what_is_meant, 0, (int)(sizeof cases / sizeof cases[0]));
    tcase_add_test(tests, no_combination_is_without_words);
    tcase_add_test(tests, unknown_uncertainty_claims_nothing);
    return run_case("meaning", tests);
}
