/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a natural colour called dyed, a dyed one called natural, hue bands off their patches. */
#include <math.h>
#include <string.h>

#include "colour/drawn.h"
#include "colour/lab.h"
#include "colour/level.h"
#include "suite.h"

/* Undyed black and dark brown hair as measured (Scanavez et al. 2000): neutral, every one. */
START_TEST(measured_natural_hair)
{
    double cells[16][5];
    const size_t rows = read_table("hair_lab_by_class.csv", &cells[0][0], 5, 16);
    ck_assert_uint_eq(rows, 13);
    for (size_t i = 0; i < rows; i++)
        ck_assert_str_eq(tdm_tone_word(cells[i]), "neutral");
}
END_TEST

/* Words are tied to the patches of the 24-patch target that bear them (their published CIELAB, at the depth
 * where hair shows such colours); violet to its purple patch. */
START_TEST(patches_bear_their_word)
{
    double cells[25][11];
    ck_assert_uint_eq(read_table("target24_lab_d50.csv", &cells[0][0], 11, 25), 24);
    ck_assert_str_eq(tdm_tone_word(cells[14] + 7), "red");
    ck_assert_str_eq(tdm_tone_word(cells[6] + 7), "copper");
    ck_assert_str_eq(tdm_tone_word(cells[11] + 7), "gold");
    ck_assert_str_eq(tdm_tone_word(cells[15] + 7), "yellow");
    ck_assert_str_eq(tdm_tone_word(cells[9] + 7), "violet");
    ck_assert_str_eq(tdm_tone_word(cells[13] + 7), "green");
    ck_assert_str_eq(tdm_tone_word(cells[12] + 7), "violet"); /* its blue is at 287 degrees */
    ck_assert_str_eq(tdm_tone_word(cells[17] + 7), "blue");   /* cyan */
}
END_TEST

static const char *word(double lstar, double chroma, double hue)
{
    const double turn = hue * 3.14159265358979 / 180;
    const double lab[3] = {lstar, chroma * cos(turn), chroma * sin(turn)};
    return tdm_tone_word(lab);
}

/* At one depth and hue, more chroma goes from ash over neutral and warm to the hue's own word. */
START_TEST(chroma_orders_the_words)
{
    static const char *const order[] = {"ash", "neutral", "warm", "gold"};
    int at = 0;
    for (double chroma = 0; chroma < 60; chroma += 0.5) {
        const char *now = word(50, chroma, 75);
        while (at < 3 && strcmp(now, order[at]) != 0)
            at++;
        ck_assert_str_eq(now, order[at]);
    }
    ck_assert_int_eq(at, 3);
}
END_TEST

/* Around the circle at high chroma. */
START_TEST(hue_orders_the_words)
{
    static const struct {
        double hue;
        const char *word;
    } at[] = {{0, "red"},      {42, "red"},     {44, "copper"}, {65, "copper"}, {67, "gold"},  {80, "gold"},
              {82, "yellow"},  {109, "yellow"}, {111, "green"}, {189, "green"}, {191, "blue"}, {274, "blue"},
              {276, "violet"}, {349, "violet"}, {351, "red"},   {359.9, "red"}};
    for (size_t i = 0; i < sizeof at / sizeof at[0]; i++)
        ck_assert_str_eq(word(40, 35, at[i].hue), at[i].word);
}
END_TEST

/* General ranges from memory (order of magnitude): natural blond, natural red, bleached to pale yellow. */
START_TEST(other_classes)
{
    const double blond[3] = {45, 5, 18}, red[3] = {30, 13, 18}, bleached[3] = {68, 3, 28};
    ck_assert_str_eq(tdm_tone_word(blond), "neutral");
    ck_assert_str_eq(tdm_tone_word(red), "copper");
    ck_assert_str_eq(tdm_tone_word(bleached), "yellow");
}
END_TEST

START_TEST(no_colour_no_word)
{
    const double lab[3] = {NAN, 1, 1};
    ck_assert_str_eq(tdm_tone_word(lab), "");
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {measured_natural_hair,
                                  patches_bear_their_word,
                                  chroma_orders_the_words,
                                  hue_orders_the_words,
                                  other_classes,
                                  no_colour_no_word,
                                  NULL};
    return run_suite("tone", tests);
}
