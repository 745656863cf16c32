/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a wrong file that is taken for a reference, a refusal that names the wrong line. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "colour/drawn.h"
#include "colour/reference.h"
#include "suite.h"

/* How the rows differ from the published ones; {0} is right. Rows are numbered 1 to 24. */
typedef struct rows {
    int leave_out, repeat;  /* that row isn't written; comes again at the end */
    int change;             /* of that row … */
    const char *id, *value; /* … the id or L* becomes this, where not NULL */
    int transposed;         /* 1: numbered column by column; 2: backwards */
    double shift;           /* of every a* and b* */
} rows;

typedef struct wrong {
    const char *before, *after; /* lines around the rows; before NULL: HEAD, after NULL: END_DATA */
    rows rows;
    const char *place, *says;
} wrong;

#define FORMAT "BEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\n"
#define HEAD "CGATS.17\n" FORMAT "BEGIN_DATA\n" /* five lines: rows begin on line 6, END_DATA is line 30 */

static int patch_of(const rows *how, int row)
{
    if (how->transposed == 1)
        return row % 4 * 6 + row / 4;
    return how->transposed == 2 ? PATCHES - 1 - row : row;
}

static void put_row(tdm_text *text, const rows *how, int row)
{
    const tdm_reference published = tdm_reference_published();
    const double *lab = published.lab[patch_of(how, row)];
    const int changed = how->change == row + 1;
    if (changed && how->id)
        tdm_text_add(text, how->id);
    else
        tdm_text_format(text, "%d", row + 1);
    tdm_text_add(text, " ");
    if (changed && how->value)
        tdm_text_add(text, how->value);
    else
        tdm_text_number(text, lab[0], 2, "");
    for (int k = 1; k < 3; k++) {
        tdm_text_add(text, " ");
        tdm_text_number(text, lab[k] + how->shift, 2, "");
    }
    tdm_text_add(text, "\n");
}

static tdm_text write_wrong(const wrong *one)
{
    tdm_text text = {0};
    tdm_text_add(&text, one->before ? one->before : HEAD);
    for (int row = 0; row < PATCHES; row++) {
        if (one->rows.leave_out != row + 1)
            put_row(&text, &one->rows, row);
    }
    if (one->rows.repeat)
        put_row(&text, &one->rows, one->rows.repeat - 1);
    tdm_text_add(&text, one->after ? one->after : "END_DATA\n");
    return text;
}

static const wrong wrongs[] = {
    {"", "", {.leave_out = 1}, "line 1", "isn't a file of measured patches"},
    {"SAMPLE_ID,L,a,b\n", NULL, {0}, "line 1", "CGATS"},
    {"CGATS.17\nBEGIN_DATA\n", NULL, {0}, "line 2", "before BEGIN_DATA_FORMAT"},
    {"CGATS.17\n" FORMAT, "", {0}, "line 28", "without BEGIN_DATA"},
    {"CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID\n", "", {0}, "line 27", "without END_DATA_FORMAT"},
    {"CGATS.17\nBEGIN_DATA_FORMAT LAB_L LAB_A LAB_B END_DATA_FORMAT\nBEGIN_DATA\n",
     NULL,
     {0},
     "line 2",
     "neither a SAMPLE_ID"},
    {"CGATS.17\nBEGIN_DATA_FORMAT SAMPLE_ID RGB_R RGB_G RGB_B END_DATA_FORMAT\nBEGIN_DATA\n",
     NULL,
     {0},
     "line 2",
     "no columns LAB_L"},
    {"CGATS.17\nBEGIN_DATA_FORMAT SAMPLE_ID LAB_L LAB_A LAB_B LAB_A END_DATA_FORMAT\nBEGIN_DATA\n",
     NULL,
     {0},
     "line 2",
     "twice"},
    {"CGATS.17\n\nBEGIN_DATA_FORMAT SAMPLE_ID NM_400 NM_403 NM_406 END_DATA_FORMAT\n",
     NULL,
     {0},
     "line 3",
     "steps of 3 nm"},
    {"CGATS.17\nBEGIN_DATA_FORMAT SAMPLE_ID NM_400 NM_410 NM_430 END_DATA_FORMAT\n",
     NULL,
     {0},
     "line 2",
     "from 410 to 430"},
    {"CGATS.17\nBEGIN_DATA_FORMAT SAMPLE_ID NM_400 NM_390 END_DATA_FORMAT\n",
     NULL,
     {0},
     "line 2",
     "from 400 to 390"},
    {"CGATS.17\nBEGIN_DATA_FORMAT SAMPLE_ID NM_500 NM_520 NM_540 END_DATA_FORMAT\n",
     NULL,
     {0},
     "line 2",
     "from 500 to 540 nm; 400 to 700"},
    {"CGATS.17\nBEGIN_DATA_FORMAT SAMPLE_ID NM_400 END_DATA_FORMAT\n", NULL, {0}, "line 2", "steps of 0 nm"},
    {"CGATS.17\nILLUMINANT \"D65\"\n" FORMAT "BEGIN_DATA\n", NULL, {0}, "line 2", "another light"},
    {"CGATS.17\nMEASUREMENT_SOURCE \"Illumination=A ObserverAngle=2\"\n" FORMAT "BEGIN_DATA\n",
     NULL,
     {0},
     "line 2",
     "another light"},
    {"CGATS.17\n# a remark\nWEIGHTING_FUNCTION \"ILLUMINANT, D55\"\n" FORMAT "BEGIN_DATA\n",
     NULL,
     {0},
     "line 3",
     "another light"},
    {"CGATS.17\nILLUMINATION_NAME D500\n" FORMAT "BEGIN_DATA\n", NULL, {0}, "line 2", "another light"},
    {"CGATS.17\nOBSERVER 10\n" FORMAT "BEGIN_DATA\n", NULL, {0}, "line 2", "another observer"},
    {"CGATS.17\nOBSERVER_ANGLE \"1964 10 degree\"\n" FORMAT "BEGIN_DATA\n",
     NULL,
     {0},
     "line 2",
     "another observer"},
    {"CGATS.17\n" FORMAT "NUMBER_OF_SETS 30\nBEGIN_DATA\n", NULL, {0}, "line 5", "says 30 rows"},
    {"CGATS.17\n" FORMAT "NUMBER_OF_SETS many\nBEGIN_DATA\n", NULL, {0}, "line 5", "whole number"},
    {"CGATS.17\nNUMBER_OF_FIELDS 5\n" FORMAT "BEGIN_DATA\n", NULL, {0}, "line 2", "says 5 columns"},
    {"CGATS.17\nDESCRIPTOR \"open\n" FORMAT "BEGIN_DATA\n", NULL, {0}, "line 2", "quote"},
    {"CGATS.17\n" FORMAT "BEGIN_DATA 1\n", NULL, {0}, "line 5", "alone on its line"},
    {NULL, "", {0}, "line 29", "without END_DATA"},
    {NULL, "END_DATA\nBEGIN_DATA\nEND_DATA\n", {0}, "line 31", "second table"},
    {NULL, "END_DATA\n\n" FORMAT, {0}, "line 32", "second table"},
    {HEAD "END_DATA\n", NULL, {0}, "line 6", "no rows"},
    {NULL, NULL, {.leave_out = 14}, "line 29", "after 23 of 24 patches; green is missing"},
    {NULL, NULL, {.repeat = 3}, "line 30", "a row too many"},
    {NULL, NULL, {.leave_out = 9, .repeat = 3}, "line 29", "blue sky was given on line 8 already"},
    {NULL, NULL, {.change = 4, .id = "25"}, "line 9", "\"25\" isn't a patch"},
    {NULL, NULL, {.change = 4, .id = "D1"}, "line 9", "\"D1\" isn't a patch"},
    {NULL, NULL, {.change = 1, .id = "G1"}, "line 6", "\"G1\" isn't a patch"},
    {NULL, NULL, {.change = 4, .value = "nan"}, "line 9", "\"nan\", isn't a number"},
    {NULL, NULL, {.change = 4, .value = "inf"}, "line 9", "isn't a number"},
    {NULL, NULL, {.change = 4, .value = "0x20"}, "line 9", "isn't a number"},
    {NULL, NULL, {.change = 4, .value = "1e999"}, "line 9", "isn't a number"},
    {NULL, NULL, {.change = 4, .value = "1.000,5"}, "line 9", "isn't a number"},
    {NULL, NULL, {.change = 4, .value = "--"}, "line 9", "isn't a number"},
    {NULL, NULL, {.change = 4, .value = "\"\""}, "line 9", "isn't a number"},
    {NULL, NULL, {.change = 4, .value = ""}, "line 9", "has 3 entries where the format has 4 columns"},
    {NULL, NULL, {.change = 4, .value = "43 43"}, "line 9", "has 5 entries"},
    {NULL, NULL, {.change = 4, .value = "-0.1"}, "line 9", "L* is outside"},
    {NULL, NULL, {.change = 24, .value = "100.5"}, "line 29", "L* is outside"},
    {NULL, NULL, {.shift = 160}, "line 6", "a* or b*"},
    {NULL, NULL, {.change = 23, .value = "75"}, "line 28", "neutral 3.5 is "},
    {NULL, NULL, {.shift = 14}, "line 8", "on average"},
    {NULL, NULL, {.transposed = 1}, "line 6", "column by column"},
    {NULL, NULL, {.transposed = 2}, "line 6", "backwards"},
    {"CGATS.17\nBEGIN_DATA_FORMAT SAMPLE_ID XYZ_X XYZ_Y XYZ_Z END_DATA_FORMAT\nBEGIN_DATA\n",
     NULL,
     {.change = 1, .value = "130"},
     "line 4",
     "outside 0 to 120"},
};

START_TEST(wrong_files_are_refused)
{
    const wrong *one = &wrongs[_i];
    tdm_text text = write_wrong(one);
    tdm_reference read = {.note = "untouched"};
    tdm_error error = {0};
    const tdm_code code = tdm_reference_parse(text.data, text.size, "mine.txt", &read, &error);
    ck_assert_msg(code == TDM_ERR_FORMAT, "%d: code %d", _i, (int)code);
    ck_assert_msg(strcmp(error.place, one->place) == 0, "%d: %s, %s", _i, error.place, error.text);
    ck_assert_msg(strstr(error.text, one->says) != NULL, "%d: %s, %s", _i, error.place, error.text);
    ck_assert_str_eq(error.file, "mine.txt");
    ck_assert_str_eq(read.note, "untouched");
    tdm_text_free(&text);
}
END_TEST

static void refuse_bytes(const char *data, size_t size, const char *place, const char *says)
{
    tdm_reference read;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_reference_parse(data, size, "mine.txt", &read, &error), TDM_ERR_FORMAT);
    ck_assert_msg(strcmp(error.place, place) == 0 && strstr(error.text, says), "%s, %s", error.place,
                  error.text);
}

START_TEST(bytes_that_are_no_text_are_refused)
{
    static const char zero[] = "CGATS.17\nA \0B\n";
    refuse_bytes(zero, sizeof zero - 1, "line 2", "zero byte");
    refuse_bytes("", 0, "line 1", "empty");
    refuse_bytes("\n# only a remark\n", 17, "line 2", "empty");
}
END_TEST

/* Too many columns, too many bands: each has its bound. */
START_TEST(numbers_of_columns_are_bounded)
{
    tdm_text wide = {0}, bands = {0};
    tdm_text_add(&wide, "CGATS.17\nKEYWORD");
    for (int i = 0; i < 600; i++)
        tdm_text_add(&wide, " x");
    refuse_bytes(wide.data, wide.size, "line 2", "more than 512");
    tdm_text_add(&bands, "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID");
    for (int i = 0; i < 400; i++)
        tdm_text_format(&bands, " NM_%d", 300 + 5 * i);
    tdm_text_add(&bands, "\nEND_DATA_FORMAT\n");
    refuse_bytes(bands.data, bands.size, "line 2", "more than 161");
    tdm_text_free(&wide);
    tdm_text_free(&bands);
}
END_TEST

/* The five lines before the first row of reflectances. */
static void add_band_columns(tdm_text *text)
{
    tdm_text_add(text, "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID");
    for (int nm = 400; nm <= 700; nm += 20)
        tdm_text_format(text, " NM_%d", nm);
    tdm_text_add(text, "\nEND_DATA_FORMAT\nBEGIN_DATA\n");
}

/* Light and scale of XYZ, and reflectances. */
START_TEST(scales_are_checked)
{
    tdm_text xyz = {0}, bands = {0};
    tdm_text_add(&xyz,
                 "CGATS.17\nBEGIN_DATA_FORMAT SAMPLE_ID XYZ_X XYZ_Y XYZ_Z END_DATA_FORMAT\nBEGIN_DATA\n");
    for (int i = 1; i <= PATCHES; i++)
        tdm_text_format(&xyz, "%d 0.5 0.5 0.5\n", i);
    tdm_text_add(&xyz, "END_DATA\n");
    refuse_bytes(xyz.data, xyz.size, "line 4", "scale of 0 to 100");
    add_band_columns(&bands);
    tdm_text_add(&bands, "1");
    for (int nm = 400; nm <= 700; nm += 20)
        tdm_text_format(&bands, " %d", nm);
    tdm_text_add(&bands, "\nEND_DATA\n");
    refuse_bytes(bands.data, bands.size, "line 6", "entry 2 isn't a reflectance");
    tdm_text_free(&xyz);
    tdm_text_free(&bands);
}
END_TEST

/* On the scale of 0 to 1, -1 is a hundred times more than the noise that the scale of 0 to 100 may have. */
START_TEST(reflectances_are_checked_on_their_own_scale)
{
    tdm_text bands = {0};
    add_band_columns(&bands);
    for (int i = 1; i <= PATCHES; i++) {
        tdm_text_format(&bands, "%d", i);
        for (int nm = 400; nm <= 700; nm += 20)
            tdm_text_add(&bands, i == 3 && nm == 460 ? " -1" : " 0.3");
        tdm_text_add(&bands, "\n");
    }
    tdm_text_add(&bands, "END_DATA\n");
    refuse_bytes(bands.data, bands.size, "line 8", "entry 5 isn't a reflectance");
    tdm_text_free(&bands);
}
END_TEST

START_TEST(a_file_past_the_limit_is_not_read)
{
    tdm_limits limits = tdm_limits_default();
    tdm_reference read;
    tdm_error error = {0};
    limits.marks_bytes = 100;
    ck_assert_int_eq(
        tdm_reference_load(TEST_DATA "/colour/target24_lab_d50_editionA_cgats.txt", &limits, &read, &error),
        TDM_ERR_LIMIT);
    ck_assert_int_eq(tdm_reference_load(TEST_DATA "/colour/none.txt", &limits, &read, &error),
                     TDM_ERR_UNREADABLE);
}
END_TEST

int main(void)
{
    TCase *all = patient_case("reference wrong");
    tcase_add_loop_test(all, wrong_files_are_refused, 0, (int)(sizeof wrongs / sizeof wrongs[0]));
    tcase_add_test(all, bytes_that_are_no_text_are_refused);
    tcase_add_test(all, numbers_of_columns_are_bounded);
    tcase_add_test(all, scales_are_checked);
    tcase_add_test(all, reflectances_are_checked_on_their_own_scale);
    tcase_add_test(all, a_file_past_the_limit_is_not_read);
    return run_case("reference wrong", all);
}
