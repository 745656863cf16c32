/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A drawn head with white hair above its line, and one whose light strands begin at the root instead. Would
 * break: anything from the picture to the share of grey hair. */
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "suite.h"
#include "tidemark/tidemark.h"
#include "world/drawn_scene.h"

/* 5 px a millimetre. */
#define SMALL                                                                                                \
    "size=[1000,750]", "field_mm=[200,150]", "hair.span_mm=90", "hair.length_mm=95",                         \
        "target.at_mm=[166,40]", "target.width_mm=50", "target.in_marks_width=true", "marks.grey=false",     \
        "marks.scale=false", "natural.level=4",                                                              \
        "zones=[{\"name\": \"side\", \"at_mm\": 45, \"width_mm\": 40, \"length_mm\": 80}]"

static double true_share(const char *name)
{
    char path[DRAWN_PATH];
    (void)snprintf(path, sizeof path, "%s/%s.truth.json", SCENE_FOLDER, name);
    json_t *root = json_load_file(path, 0, NULL);
    const json_t *zone = json_array_get(json_object_get(root, "zones"), 0);
    const json_t *share = json_object_get(json_object_get(zone, "grey"), "share");
    ck_assert(json_is_number(share));
    const double number = json_number_value(share);
    json_decref(root);
    return number;
}

static tdm_value read_share(const char *name, const char *const *values, bool *warned)
{
    char photo[DRAWN_PATH];
    tdm_reading *reading = NULL;
    tdm_error error = {0};
    tdm_value found;
    drawn_scene(name, values, photo);
    ck_assert_msg(tdm_read_photo(photo, NULL, NULL, &reading, &error) == TDM_OK, "%s", error.text);
    ck_assert(tdm_zone_value(tdm_reading_zone(reading, 0), tdm_figure_find("grey.share"), &found));
    size_t count = 0;
    const tdm_warning *warnings = tdm_reading_warnings(reading, &count);
    *warned = false;
    for (size_t i = 0; i < count; i++)
        *warned = *warned || strcmp(warnings[i].code, "grey-hair") == 0;
    tdm_reading_free(reading);
    return found;
}

/* 0.05 is the aim. */
START_TEST(white_hair_is_counted)
{
    const char *const values[] = {SMALL, "grey.share=0.25", "seed=41", NULL};
    bool warned = false;
    const tdm_value found = read_share("grey", values, &warned);
    ck_assert_double_eq_tol(found.value, true_share("grey"), 0.05);
    ck_assert_double_lt(fabs(found.value - true_share("grey")), found.u);
    ck_assert(warned);
}
END_TEST

/* 0.02 is the aim. */
START_TEST(light_strands_are_not_grey)
{
    const char *const values[] = {SMALL, "light.start_mm=-30", "gloss=0.2", "seed=42", NULL};
    bool warned = true;
    const tdm_value found = read_share("not-grey", values, &warned);
    ck_assert_double_lt(found.value, 0.02);
    ck_assert(!warned);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {white_hair_is_counted, light_strands_are_not_grey, NULL};
    return run_suite("white hair", tests);
}
