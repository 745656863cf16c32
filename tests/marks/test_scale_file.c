/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a level scale that comes back other than it was written, one that doesn't rise taken for a
 * scale, an error that doesn't say which entry is wrong. */
#include <math.h>
#include <string.h>

#include "marks/scale_file.h"
#include "suite.h"

static tdm_code parse(const char *text, tdm_level_scale *scale, tdm_warnings *warnings, tdm_error *error)
{
    const tdm_limits limits = tdm_limits_default();
    return tdm_scale_parse(text, strlen(text), "own.scale.json", &limits, warnings, scale, error);
}

/* Eight significant digits are written: of numbers up to 100 half a unit of the sixth decimal. */
START_TEST(there_and_back)
{
    tdm_level_scale made = {.count = 3,
                            .level = {2, 4.5, 7},
                            .lstar = {18.123456, 26.5, 100.0 / 3 + 10},
                            .name = {"deepest", "", "h\xc3\xa4ll"},
                            .note = "your swatches, ring.jpg, 2026-03-14"};
    tdm_level_scale read;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    char *text = NULL;
    ck_assert_int_eq(tdm_scale_text(&made, &text, &error), TDM_OK);
    ck_assert_msg(parse(text, &read, &warnings, &error) == TDM_OK, "%s %s", error.place, error.text);
    ck_assert_uint_eq(warnings.count, 0);
    ck_assert_uint_eq(read.count, 3);
    for (size_t i = 0; i < 3; i++) {
        ck_assert_double_eq(read.level[i], made.level[i]);
        ck_assert_double_eq_tol(read.lstar[i], made.lstar[i], 5.1e-7);
        ck_assert_str_eq(read.name[i], made.name[i]);
    }
    ck_assert_str_eq(read.note, made.note);
    /* Between swatches level is linear in ln L*: the geometric mean of two L* lies half-way. */
    ck_assert_double_eq_tol(tdm_level_from_lstar(&read, sqrt(18.123456 * 26.5)), 3.25, 1e-6);
    ck_assert_str_eq(tdm_level_name(&read, 6.5), "h\xc3\xa4ll");
    tdm_free(text);
}
END_TEST

START_TEST(the_default_scale_can_be_a_file)
{
    const tdm_level_scale made = tdm_level_scale_default();
    tdm_level_scale read;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    char *text = NULL;
    ck_assert_int_eq(tdm_scale_text(&made, &text, &error), TDM_OK);
    ck_assert_int_eq(parse(text, &read, &warnings, &error), TDM_OK);
    for (double lstar = 10; lstar < 80; lstar += 1.7)
        ck_assert_double_eq_tol(tdm_level_from_lstar(&read, lstar), tdm_level_from_lstar(&made, lstar), 1e-6);
    tdm_free(text);
}
END_TEST

/* A file name that isn't UTF-8 must not cost the scale. */
START_TEST(a_note_in_another_encoding)
{
    tdm_level_scale made = {.count = 2, .level = {2, 4}, .lstar = {18, 26}, .note = "ring-m\xe4rz.jpg"};
    tdm_level_scale read;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    char *text = NULL;
    ck_assert_int_eq(tdm_scale_text(&made, &text, &error), TDM_OK);
    ck_assert_int_eq(parse(text, &read, &warnings, &error), TDM_OK);
    ck_assert_str_eq(read.note, "ring-m?rz.jpg");
    tdm_free(text);
    static const char *const notes[][2] = {{"", ""}, {"two\nlines", "two?lines"}};
    for (size_t i = 0; i < 2; i++) { /* what is written is read again */
        (void)snprintf(made.note, sizeof made.note, "%s", notes[i][0]);
        ck_assert_int_eq(tdm_scale_text(&made, &text, &error), TDM_OK);
        ck_assert_msg(parse(text, &read, &warnings, &error) == TDM_OK, "%s: %s", error.place, error.text);
        ck_assert_str_eq(read.note, notes[i][1]);
        tdm_free(text);
    }
}
END_TEST

typedef struct bad {
    const char *text, *place, *says;
    tdm_code code;
} bad;

#define HEAD "{\"tidemark_level_scale\":1,\"note\":\"n\","
#define ENTRIES(inside) HEAD "\"entries\":[" inside "]}"
#define LOW "{\"level\":4,\"lstar\":31}"
static const bad bads[] = {
    {"", "line 1, column 0", "valid JSON", TDM_ERR_FORMAT},
    {"[]", "", "must be an object", TDM_ERR_FORMAT},
    {"{\"entries\":[]}", "tidemark_level_scale", "level scale file", TDM_ERR_FORMAT},
    {"{\"tidemark_level_scale\":2}", "tidemark_level_scale", "newer", TDM_ERR_FORMAT},
    {"{\"tidemark_level_scale\":1}", "note", "missing", TDM_ERR_FORMAT},
    {HEAD "\"entries\":7}", "entries", "list", TDM_ERR_FORMAT},
    {HEAD "\"x\":7}", "entries", "at least two", TDM_ERR_FORMAT},
    {ENTRIES(LOW), "entries", "at least two", TDM_ERR_FORMAT},
    {ENTRIES(LOW ",5"), "entries[1]", "object", TDM_ERR_FORMAT},
    {ENTRIES(LOW ",{\"lstar\":40}"), "entries[1].level", "missing", TDM_ERR_FORMAT},
    {ENTRIES(LOW ",{\"level\":5}"), "entries[1].lstar", "missing", TDM_ERR_FORMAT},
    {ENTRIES(LOW ",{\"level\":5,\"lstar\":\"40\"}"), "entries[1].lstar", "number", TDM_ERR_FORMAT},
    {ENTRIES(LOW ",{\"level\":5,\"lstar\":NaN}"), "line 1", "valid JSON", TDM_ERR_FORMAT},
    {ENTRIES("{\"level\":1,\"lstar\":0.5}," LOW), "entries[0].lstar", "1 to 100", TDM_ERR_FORMAT},
    {ENTRIES(LOW ",{\"level\":5,\"lstar\":100.5}"), "entries[1].lstar", "1 to 100", TDM_ERR_FORMAT},
    {ENTRIES("{\"level\":-1,\"lstar\":20}," LOW), "entries[0].level", "0 to 100", TDM_ERR_FORMAT},
    {ENTRIES(LOW ",{\"level\":5,\"lstar\":30.1}"), "entries[1]",
     "level 5.0 (L* 30.1) isn't lighter than level 4.0 (L* 31.0)", TDM_ERR_FORMAT},
    {ENTRIES(LOW ",{\"level\":5,\"lstar\":31}"), "entries[1]", "isn't lighter", TDM_ERR_FORMAT},
    {ENTRIES(LOW ",{\"level\":4,\"lstar\":35}"), "entries[1]", "must not come after", TDM_ERR_FORMAT},
    {ENTRIES(LOW ",{\"level\":3,\"lstar\":35}"), "entries[1]", "must not come after", TDM_ERR_FORMAT},
    {ENTRIES(LOW ",{\"level\":5,\"lstar\":40,\"name\":7}"), "entries[1].name", "text", TDM_ERR_FORMAT},
    {ENTRIES(LOW ",{\"level\":5,\"lstar\":40,\"name\":\"a name of more than 31 characters\"}"),
     "entries[1].name", "31", TDM_ERR_FORMAT},
};

START_TEST(each_bad_file_names_its_key)
{
    for (size_t i = 0; i < sizeof bads / sizeof bads[0]; i++) {
        tdm_level_scale scale = {.count = 77};
        tdm_warnings warnings = {0};
        tdm_error error = {0};
        ck_assert_msg(parse(bads[i].text, &scale, &warnings, &error) == bads[i].code, "%zu: %s", i,
                      error.text);
        ck_assert_msg(strncmp(error.place, bads[i].place, strlen(bads[i].place)) == 0, "%zu: place %s", i,
                      error.place);
        ck_assert_msg(strstr(error.text, bads[i].says) != NULL, "%zu: says %s", i, error.text);
        ck_assert_str_eq(error.file, "own.scale.json");
        ck_assert_uint_eq(scale.count, 77); /* untouched */
        tdm_warnings_free(&warnings);
    }
}
END_TEST

START_TEST(bounds)
{
    char text[8192] = HEAD "\"entries\":[";
    char note[256];
    tdm_level_scale scale;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    for (int i = 0; i < TDM_LEVEL_ENTRIES + 1; i++)
        (void)snprintf(text + strlen(text), sizeof text - strlen(text), "%s{\"level\":%d,\"lstar\":%d}",
                       i ? "," : "", i + 1, i + 10);
    strcat(text, "]}");
    ck_assert_int_eq(parse(text, &scale, &warnings, &error), TDM_ERR_LIMIT);
    for (int length = 95; length <= 96; length++) {
        (void)snprintf(note, sizeof note, "%0*d", length, 0);
        (void)snprintf(text, sizeof text,
                       "{\"tidemark_level_scale\":1,\"note\":\"%s\",\"entries\":[" LOW
                       ",{\"level\":5,\"lstar\":40}]}",
                       note);
        ck_assert_int_eq(parse(text, &scale, &warnings, &error), length == 95 ? TDM_OK : TDM_ERR_FORMAT);
    }
    ck_assert_str_eq(error.place, "note");
}
END_TEST

START_TEST(unknown_keys_warn_once)
{
    tdm_level_scale scale;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    ck_assert_int_eq(
        parse(ENTRIES(LOW ",{\"level\":5,\"lstar\":40,\"a\":1,\"b\":2}"), &scale, &warnings, &error), TDM_OK);
    ck_assert_uint_eq(warnings.count, 1);
    ck_assert_str_eq(warnings.items[0].code, "scale-unknown-key");
    ck_assert_ptr_nonnull(strstr(warnings.items[0].text, "entries[1]"));
    tdm_warnings_free(&warnings);
}
END_TEST

START_TEST(no_such_file)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_level_scale scale;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    ck_assert_int_eq(tdm_scale_load("none.scale.json", &limits, &warnings, &scale, &error),
                     TDM_ERR_UNREADABLE);
    ck_assert_str_eq(error.file, "none.scale.json");
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {there_and_back,
                                  the_default_scale_can_be_a_file,
                                  a_note_in_another_encoding,
                                  each_bad_file_names_its_key,
                                  bounds,
                                  unknown_keys_warn_once,
                                  no_such_file,
                                  NULL};
    return run_suite("scale file", tests);
}
