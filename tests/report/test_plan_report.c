/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a plan without the caution, a figure under another's name, a null that isn't null, hair
 * hatched that isn't light or left unhatched that is, left for right, a bar of another colour, a map that
 * differs from run to run. */
#include <math.h>
#include <string.h>

#include "photo/photo.h"
#include "report/made_plan.h"
#include "report/page.h"
#include "report/parsed_json.h"
#include "report/plan_map.h"
#include "suite.h"

static tdm_plan *plan;

static void open_plan(void)
{
    plan = made_plan();
}

static void close_plan(void)
{
    tdm_plan_free(plan);
}

START_TEST(json_has_every_figure_in_its_place)
{
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_plan_json(plan, &text, &error), TDM_OK);
    json_t *json = parsed_json(text);
    ck_assert_int_eq(json_integer_value(at(json, "tidemark_plan")), 1);
    check_number(at(json, "distance_m"), 1.2);
    ck_assert_ptr_nonnull(strstr(json_string_value(at(json, "caution")), "patch"));
    ck_assert_int_eq(json_integer_value(at(json, "reading.tidemark_reading")), 1);
    json_t *front = json_array_get(at(json, "zones"), 0), *crown = json_array_get(at(json, "zones"), 2);
    ck_assert_str_eq(json_string_value(at(front, "need")), "needed");
    ck_assert_int_eq(json_integer_value(at(front, "order")), 1);
    check_number(at(front, "dprime"), 6.25);
    check_number(at(front, "shade.from_mm"), 0);
    check_number(at(front, "shade.feather_from_mm"), 40);
    check_number(at(front, "shade.to_mm"), 60);
    check_number(at(front, "shade.feather_to_mm"), 80);
    check_number(at(front, "shade.level.value"), 5.5);
    check_number(at(front, "after.width_mm.value"), 45);
    check_number(at(front, "after.dprime.u"), 0.25);
    check_number(at(front, "light.share.value"), 0.25);
    check_number(at(front, "light.to_mm"), 97.5);
    ck_assert(json_is_true(at(front, "enough")));
    ck_assert(json_is_null(at(crown, "shade")) && json_is_null(at(crown, "after")) &&
              json_is_null(at(crown, "order")) && json_is_null(at(crown, "enough")) &&
              json_is_null(at(crown, "dprime")) && json_is_null(at(crown, "blend")));
    check_number(at(crown, "light.share.value"), NAN);
    json_decref(json);
}
END_TEST

START_TEST(text_says_it_in_words)
{
    const tdm_text_style style = {.width = 80};
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_plan_text(plan, &style, &text, &error), TDM_OK);
    static const char *const wanted[] = {
        "Begin with front.",       "front: blend needed", "The line at 50 mm", "A root shade, feathered out.",
        "don't lighten it",        "level 5.5 +- 0.2",    "width 45 +- 6 mm",  "nape: blend not needed",
        "crown: no plan possible", "allergy (patch)"};
    for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++)
        ck_assert_msg(strstr(text, wanted[i]) != NULL, "no '%s' in:\n%s", wanted[i], text);
    ck_assert_ptr_null(strstr(text, "nan"));
    tdm_free(text);
}
END_TEST

/* Through the library's own reader of PNG, which isn't cairo. */
static tdm_pixels drawn_map(uint32_t *width, uint32_t *height)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    tdm_photo *photo = NULL;
    tdm_pixels pixels = {0};
    uint8_t *bytes = NULL, *again = NULL;
    size_t size = 0, size_again = 0;
    ck_assert_msg(tdm_plan_map(plan, &bytes, &size, &error) == TDM_OK, "%s", error.text);
    ck_assert_int_eq(tdm_plan_map(plan, &again, &size_again, &error), TDM_OK);
    ck_assert_uint_eq(size, size_again);
    ck_assert_mem_eq(bytes, again, size);
    ck_assert_int_eq(tdm_photo_open_memory(bytes, size, "map.png", &limits, &warnings, &photo, &error),
                     TDM_OK);
    *width = tdm_photo_about(photo)->width;
    *height = tdm_photo_about(photo)->height;
    ck_assert_int_eq(tdm_photo_read(photo, (tdm_rect){0, 0, *width, *height}, &pixels, &error), TDM_OK);
    tdm_photo_close(photo);
    tdm_warnings_free(&warnings);
    tdm_free(bytes);
    tdm_free(again);
    return pixels;
}

/* How many of the pixels of a rectangle have a colour, within 2 of 255. */
static double share_of(const tdm_pixels *pixels, uint32_t width, size_t left, size_t top, size_t side,
                       const unsigned rgb[3])
{
    double count = 0;
    for (size_t y = top; y < top + side; y++) {
        for (size_t x = left; x < left + side; x++) {
            const uint8_t *p = pixels->rgb8 + 3 * (y * width + x);
            count +=
                abs(p[0] - (int)rgb[0]) <= 2 && abs(p[1] - (int)rgb[1]) <= 2 && abs(p[2] - (int)rgb[2]) <= 2;
        }
    }
    return count / (double)(side * side);
}

/* Where the parts lie: two zones of 40 mm, one of them twice, at the largest scale of 4 px a millimetre; a
 * margin of 24, ruler 56 and bar 26 before the hair, 136 above it. The strip's light right half, on the way
 * from root to ends, hangs at the left. */
START_TEST(map_hatches_light_hair_alone)
{
    enum { LEFT = 24 + 56 + 26, TOP = 24 + 136, MM = 4, BAR = 24 + 56 + 2 };
    uint32_t width = 0, height = 0;
    unsigned dark[3], light[3], shade[3];
    const unsigned white[3] = {255, 255, 255};
    tdm_lab_to_srgb8(made_dark, dark);
    tdm_lab_to_srgb8(made_light, light);
    tdm_lab_to_srgb8(made_shade, shade);
    tdm_pixels map = drawn_map(&width, &height);
    const size_t second = LEFT + 40 * MM + TDM_MAP_GAP;
    ck_assert_double_eq(share_of(&map, width, LEFT + 30 * MM, TOP + 10 * MM, 18, dark), 1);
    ck_assert_double_eq(share_of(&map, width, LEFT + 30 * MM, TOP + 85 * MM, 18, dark), 1);
    /* Of nine pixels two are white and one is black. */
    ck_assert_double_eq_tol(share_of(&map, width, LEFT + 10 * MM, TOP + 85 * MM, 18, white), 2.0 / 9, 0.01);
    ck_assert_double_eq_tol(share_of(&map, width, LEFT + 10 * MM, TOP + 85 * MM, 18, light), 6.0 / 9, 0.01);
    /* After the blend: nothing is hatched, light hair is half covered at 60 mm and hardly any more at 95 mm.
     */
    ck_assert_double_eq(share_of(&map, width, second + 30 * MM, TOP + 85 * MM, 18, dark), 1);
    ck_assert_double_eq(share_of(&map, width, second + 10 * MM, TOP + 56 * MM, 8, light), 0);
    ck_assert_double_eq(share_of(&map, width, second + 10 * MM, TOP + 60 * MM, 8, white), 0);
    ck_assert_double_eq(share_of(&map, width, BAR, TOP + 5 * MM, 10, shade), 1);
    ck_assert_uint_gt(height, TOP + 100 * MM);
    tdm_pixels_free(&map);
}
END_TEST

START_TEST(no_map_without_hair)
{
    uint8_t *bytes = NULL;
    size_t size = 0;
    tdm_error error = {0};
    plan->zones[0].has_hair = plan->zones[1].has_hair = false;
    ck_assert_int_eq(tdm_plan_map(plan, &bytes, &size, &error), TDM_ERR_UNUSABLE);
    ck_assert_ptr_null(bytes);
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("plan report");
    tcase_add_checked_fixture(tests, open_plan, close_plan);
    tcase_add_test(tests, json_has_every_figure_in_its_place);
    tcase_add_test(tests, text_says_it_in_words);
    tcase_add_test(tests, map_hatches_light_hair_alone);
    tcase_add_test(tests, no_map_without_hair);
    return run_case("plan report", tests);
}
