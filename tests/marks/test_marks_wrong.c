/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: wrong marks that are taken, or whose error names another key; a limit that isn't kept. */
#include <stdlib.h>
#include <string.h>

#include "marks/marks_text.h"
#include "suite.h"

typedef struct bad {
    const char *text, *place, *says;
    tdm_code code;
} bad;

#define AREA "[[1,1],[9,1],[9,9]]"
#define SWATCH(inside) HEAD "\"swatches\":[{" inside "}]}"
#define ONE(zone) HEAD SCALE "\"zones\":[" zone "]}"
static const bad bads[] = {
    {"", "line 1, column 0", "valid JSON", TDM_ERR_FORMAT},
    {"{\"tidemark_marks\":1,", "line 1", "valid JSON", TDM_ERR_FORMAT},
    {"[1]", "", "must be an object", TDM_ERR_FORMAT},
    {"{\"tidemark_marks\":1,\"tidemark_marks\":1}", "line 1", "uplicate", TDM_ERR_FORMAT},
    {"{\"photo\":\"a\"}", "tidemark_marks", "marks file", TDM_ERR_FORMAT},
    {"{\"tidemark_marks\":2}", "tidemark_marks", "newer", TDM_ERR_FORMAT},
    {"{\"tidemark_marks\":1,\"size\":[400,300]}", "photo", "missing", TDM_ERR_FORMAT},
    {"{\"tidemark_marks\":1,\"photo\":\"a\"}", "size", "width, height", TDM_ERR_FORMAT},
    {"{\"tidemark_marks\":1,\"photo\":\"a\",\"size\":[400.5,300]}", "size", "whole pixels", TDM_ERR_FORMAT},
    {"{\"tidemark_marks\":1,\"photo\":\"a\",\"size\":[300,400]}", "size", "400 by 300", TDM_ERR_FORMAT},
    {HEAD "\"scale\":5," ZONES, "scale", "object", TDM_ERR_FORMAT},
    {HEAD "\"scale\":{\"from\":[1,1],\"to\":[1,1],\"mm\":5}," ZONES, "scale", "no length", TDM_ERR_FORMAT},
    {HEAD "\"scale\":{\"from\":[1,1],\"to\":[9,1],\"mm\":0}," ZONES, "scale.mm", "above 0", TDM_ERR_FORMAT},
    {HEAD "\"scale\":{\"from\":[1,1],\"to\":[9,1],\"mm\":NaN}," ZONES, "line 1", "valid JSON",
     TDM_ERR_FORMAT},
    {HEAD "\"scale\":{\"from\":[1,1],\"to\":[9,1],\"mm\":1e999}," ZONES, "line 1", "valid JSON",
     TDM_ERR_FORMAT},
    {HEAD "\"scale\":{\"from\":[1],\"to\":[9,1],\"mm\":5}," ZONES, "scale.from", "point", TDM_ERR_FORMAT},
    {HEAD "\"scale\":{\"from\":[1,\"x\"],\"to\":[9,1],\"mm\":5}," ZONES, "scale.from[1]", "number",
     TDM_ERR_FORMAT},
    {HEAD SCALE "\"target\":{\"kind\":\"other\"}," ZONES, "target.kind", "patch24", TDM_ERR_FORMAT},
    {HEAD SCALE "\"target\":{\"kind\":\"patch24\",\"corners\":[[1,1],[9,1],[9,9]]}," ZONES, "target.corners",
     "4", TDM_ERR_FORMAT},
    /* crossed, not round the target */
    {HEAD SCALE "\"target\":{\"kind\":\"patch24\",\"corners\":[[1,1],[9,9],[9,1],[1,9]]}," ZONES,
     "target.corners", "round the target", TDM_ERR_FORMAT},
    {HEAD SCALE "\"grey\":[{\"polygon\":[[1,1],[9,1],[9,9]],\"lstar\":0}]," ZONES, "grey[0].lstar", "above 0",
     TDM_ERR_FORMAT},
    {HEAD SCALE "\"grey\":[{\"polygon\":[[1,1],[9,1]],\"lstar\":5}]," ZONES, "grey[0].polygon", "at least 3",
     TDM_ERR_FORMAT},
    {HEAD SCALE "\"exclude\":[[[1,1],[401,1],[9,9]]]," ZONES, "exclude[0][1]", "outside", TDM_ERR_FORMAT},
    {HEAD "\"swatches\":{}," ZONES, "swatches", "list", TDM_ERR_FORMAT},
    {HEAD "\"swatches\":[4]}", "swatches[0]", "object", TDM_ERR_FORMAT},
    {SWATCH("\"polygon\":" AREA), "swatches[0].level", "missing", TDM_ERR_FORMAT},
    {SWATCH("\"level\":\"4\",\"polygon\":" AREA), "swatches[0].level", "number", TDM_ERR_FORMAT},
    {SWATCH("\"level\":0.5,\"polygon\":" AREA), "swatches[0].level", "1 to 12", TDM_ERR_FORMAT},
    {SWATCH("\"level\":12.5,\"polygon\":" AREA), "swatches[0].level", "1 to 12", TDM_ERR_FORMAT},
    {SWATCH("\"level\":4.25,\"polygon\":" AREA), "swatches[0].level", "half", TDM_ERR_FORMAT},
    {SWATCH("\"level\":4"), "swatches[0].polygon", "at least 3", TDM_ERR_FORMAT},
    {SWATCH("\"level\":4,\"polygon\":[[1,1],[9,1],[9,301]]"), "swatches[0].polygon[2]", "outside",
     TDM_ERR_FORMAT},
    {SWATCH("\"level\":4,\"polygon\":" AREA ",\"name\":\"\""), "swatches[0].name", "printable",
     TDM_ERR_FORMAT},
    {SWATCH("\"level\":4,\"polygon\":" AREA ",\"name\":\"a name of more than 31 characters\""),
     "swatches[0].name", "31", TDM_ERR_FORMAT},
    {SWATCH("\"level\":4,\"polygon\":" AREA "},{\"level\":4.0,\"polygon\":" AREA), "swatches[1].level",
     "swatches[0]", TDM_ERR_FORMAT},
    {HEAD SCALE "\"zones\":{}}", "zones", "list", TDM_ERR_FORMAT},
    {ONE("7"), "zones[0]", "object", TDM_ERR_FORMAT},
    {ONE("{\"path\":[[1,1],[1,9]],\"width_mm\":2}"), "zones[0].name", "missing", TDM_ERR_FORMAT},
    {ONE("{\"name\":\"\",\"path\":[[1,1],[1,9]],\"width_mm\":2}"), "zones[0].name", "printable",
     TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\\u001b[2J\",\"path\":[[1,1],[1,9]],\"width_mm\":2}"), "zones[0].name", "printable",
     TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"width_mm\":2}"), "zones[0].path", "at least 2", TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"path\":[[1,1]],\"width_mm\":2}"), "zones[0].path", "at least 2", TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"path\":[[1,1],[1,301]],\"width_mm\":2}"), "zones[0].path[1]", "outside",
     TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"path\":[[1,1],[1,1]],\"width_mm\":2}"), "zones[0].path[1]", "same",
     TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"path\":[[1,1],[1,9]]}"), "zones[0]", "either", TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"path\":[[1,1],[1,9]],\"width_mm\":2,\"width_px\":2}"), "zones[0]", "either",
     TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"path\":[[1,1],[1,9]],\"width_mm\":0}"), "zones[0].width_mm", "above 0",
     TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"path\":[[1,1],[1,9]],\"width_mm\":[2,3,4]}"), "zones[0].width_mm", "each point",
     TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"path\":[[1,1],[1,9]],\"width_mm\":[2,-3]}"), "zones[0].width_mm[1]", "above 0",
     TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"path\":[[1,1],[1,9]],\"width_mm\":\"2\"}"), "zones[0].width_mm", "number",
     TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"path\":[[1,1],[1,9]],\"width_mm\":2,\"weight\":0}"), "zones[0].weight", "above 0",
     TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"path\":[[1,1],[1,9]],\"width_mm\":2,\"root_mm\":-1}"), "zones[0].root_mm",
     "0 to 1000", TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"path\":[[1,1],[1,9]],\"width_mm\":2,\"root_mm\":1000.1}"), "zones[0].root_mm",
     "0 to 1000", TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"path\":[[1,1],[1,9]],\"width_mm\":2,\"root_mm\":[5]}"), "zones[0].root_mm",
     "number", TDM_ERR_FORMAT},
    {ONE("{\"name\":\"a\",\"side\":3,\"path\":[[1,1],[1,9]],\"width_mm\":2}"), "zones[0].side", "text",
     TDM_ERR_FORMAT},
    {ONE(ZONE "," ZONE), "zones[1].name", "earlier zone", TDM_ERR_FORMAT},
};

START_TEST(each_bad_file_names_its_key)
{
    for (size_t i = 0; i < sizeof bads / sizeof bads[0]; i++) {
        tdm_marks marks;
        tdm_warnings warnings = {0};
        tdm_error error = {0};
        const tdm_code code = parse_marks(bads[i].text, &marks, &warnings, &error);
        ck_assert_msg(code == bads[i].code, "%zu: code %d for %s", i, code, bads[i].text);
        ck_assert_msg(strncmp(error.place, bads[i].place, strlen(bads[i].place)) == 0, "%zu: place %s", i,
                      error.place);
        ck_assert_msg(strstr(error.text, bads[i].says) != NULL, "%zu: says %s", i, error.text);
        ck_assert_str_eq(error.file, "a.marks.json");
        tdm_warnings_free(&warnings);
    }
}
END_TEST

START_TEST(limits_from_both_sides)
{
    tdm_limits limits = tdm_limits_default();
    tdm_marks marks;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    const char *text =
        HEAD SCALE "\"zones\":[" ZONE ",{\"name\":\"b\",\"path\":[[1,1],[1,9],[2,20]],\"width_mm\":2}]}";
    limits.zones = 2;
    limits.points = 3;
    ck_assert_int_eq(tdm_marks_parse(text, strlen(text), "a", 400, 300, &limits, &warnings, &marks, &error),
                     TDM_OK);
    tdm_marks_free(&marks);
    limits.zones = 1;
    ck_assert_int_eq(tdm_marks_parse(text, strlen(text), "a", 400, 300, &limits, &warnings, &marks, &error),
                     TDM_ERR_LIMIT);
    limits.zones = 2;
    limits.points = 2;
    ck_assert_int_eq(tdm_marks_parse(text, strlen(text), "a", 400, 300, &limits, &warnings, &marks, &error),
                     TDM_ERR_LIMIT);
    ck_assert_str_eq(error.place, "zones[1].path");
    limits.marks_bytes = 10;
    ck_assert_int_eq(tdm_marks_parse(text, strlen(text), "a", 400, 300, &limits, &warnings, &marks, &error),
                     TDM_ERR_LIMIT);
}
END_TEST

START_TEST(deep_nesting_is_refused)
{
    char *text = malloc(200001);
    tdm_marks marks;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    ck_assert_ptr_nonnull(text);
    memset(text, '[', 200000);
    text[200000] = '\0';
    ck_assert_int_eq(parse_marks(text, &marks, &warnings, &error), TDM_ERR_FORMAT);
    free(text);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {each_bad_file_names_its_key, limits_from_both_sides,
                                  deep_nesting_is_refused, NULL};
    return run_suite("marks, wrong", tests);
}
