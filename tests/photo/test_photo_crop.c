/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if decoding a part gave other digits than decoding the whole: at the edges of the rectangle,
 * where upsampling looks at its neighbours, or by a row or column where rows are skipped. The reference is a
 * plain decode by libjpeg of the whole picture. */
#include <stdio.h>
#include <string.h>

#include "made.h"
#include "suite.h"

static tdm_photo *open_made(made file, tdm_warnings *warnings)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_photo *photo = NULL;
    tdm_error error = {0};
    const tdm_code code =
        tdm_photo_open_memory(file.data, file.size, "made", &limits, warnings, &photo, &error);
    ck_assert_msg(code == TDM_OK, "%s", error.text);
    return photo;
}

static void check_rect(tdm_photo *photo, const uint8_t *whole, tdm_rect rect)
{
    tdm_pixels pixels;
    tdm_error error = {0};
    const size_t width = tdm_photo_about(photo)->width;
    const tdm_code code = tdm_photo_read(photo, rect, &pixels, &error);
    ck_assert_msg(code == TDM_OK, "%s", error.text);
    ck_assert_int_eq(pixels.bits, 8);
    ck_assert_ptr_null(pixels.opaque);
    for (uint32_t y = 0; y < rect.height; y++) {
        const uint8_t *want = whole + 3 * ((rect.y + y) * width + rect.x);
        const uint8_t *have = pixels.rgb8 + 3 * (size_t)y * rect.width;
        ck_assert_msg(memcmp(want, have, 3 * (size_t)rect.width) == 0,
                      "row %u of %ux%u at %u, %u of a picture %zu wide", y, rect.width, rect.height, rect.x,
                      rect.y, width);
    }
    tdm_pixels_free(&pixels);
}

/* A fixed walk over rectangles: corners, edges, single pixels, thin strips and odd places. */
static void check_many(tdm_photo *photo, const uint8_t *whole)
{
    const uint32_t width = tdm_photo_about(photo)->width, height = tdm_photo_about(photo)->height;
    check_rect(photo, whole, (tdm_rect){0, 0, width, height});
    uint32_t state = 1;
    for (int i = 0; i < 120; i++) {
        uint32_t draw[4];
        for (int k = 0; k < 4; k++) {
            state = state * 1664525u + 1013904223u;
            draw[k] = state >> 16;
        }
        tdm_rect rect = {draw[0] % width, draw[1] % height, 0, 0};
        rect.width = i % 5 == 0 ? 1 : 1 + draw[2] % (width - rect.x);
        rect.height = i % 7 == 0 ? 1 : 1 + draw[3] % (height - rect.y);
        check_rect(photo, whole, rect);
    }
    check_rect(photo, whole, (tdm_rect){width - 1, height - 1, 1, 1});
    check_rect(photo, whole, (tdm_rect){0, height - 1, width, 1});
    check_rect(photo, whole, (tdm_rect){width - 1, 0, 1, height});
}

static void check_plan(const made_jpeg_plan *plan)
{
    tdm_warnings warnings = {0};
    const made file = made_jpeg(plan);
    uint8_t *whole = made_jpeg_reference(file);
    tdm_photo *photo = open_made(file, &warnings);
    check_many(photo, whole);
    tdm_photo_close(photo);
    tdm_warnings_free(&warnings);
    free(whole);
    free(file.data);
}

static const struct {
    int across, down;
} samplings[] = {{1, 1}, {2, 1}, {1, 2}, {2, 2}, {4, 1}, {1, 4}, {4, 2}, {2, 4}};

static void check_samplings(made_jpeg_plan plan)
{
    for (size_t i = 0; i < sizeof samplings / sizeof *samplings; i++) {
        plan.across = samplings[i].across;
        plan.down = samplings[i].down;
        check_plan(&plan);
    }
}

/* 163 x 149: not whole blocks, and wide enough for a margin on both sides. */
START_TEST(baseline)
{
    check_samplings((made_jpeg_plan){.width = 163, .height = 149, .colours = MADE_YCC, .sample = made_busy});
}
END_TEST

START_TEST(progressive)
{
    check_samplings((made_jpeg_plan){
        .width = 163, .height = 149, .colours = MADE_YCC, .progressive = true, .sample = made_busy});
}
END_TEST

START_TEST(restarts)
{
    check_samplings((made_jpeg_plan){
        .width = 163, .height = 149, .colours = MADE_YCC, .restart = 3, .sample = made_busy});
}
END_TEST

START_TEST(one_scan_a_channel)
{
    check_samplings((made_jpeg_plan){
        .width = 163, .height = 149, .colours = MADE_YCC, .separate = true, .sample = made_busy});
}
END_TEST

/* Whole blocks, where an off-by-one at the far edge would show. */
START_TEST(whole_blocks)
{
    check_samplings((made_jpeg_plan){.width = 128, .height = 128, .colours = MADE_YCC, .sample = made_busy});
}
END_TEST

/* So small that a crop is all margin. */
START_TEST(small)
{
    for (unsigned side = 1; side < 20; side++) {
        check_samplings(
            (made_jpeg_plan){.width = side, .height = 20 - side, .colours = MADE_YCC, .sample = made_busy});
        check_samplings((made_jpeg_plan){.width = side,
                                         .height = 20 - side,
                                         .colours = MADE_YCC,
                                         .progressive = true,
                                         .sample = made_busy});
    }
}
END_TEST

START_TEST(grey_and_rgb)
{
    made_jpeg_plan plan = {.width = 101, .height = 77, .colours = MADE_GREY, .sample = made_busy};
    check_samplings(plan);
    plan.progressive = true;
    check_samplings(plan);
    plan.colours = MADE_RGB;
    check_samplings(plan);
    plan.progressive = false;
    check_samplings(plan);
}
END_TEST

/* The rectangle is asked for in the upright picture: it must be the upright whole's own part, for each code.
 */
START_TEST(oriented)
{
    for (int orientation = 1; orientation <= 8; orientation++) {
        const made exif = made_exif(&(made_exif_plan){.orientation = orientation}, true);
        const made_part part = {.code = 0xe1, .data = exif.data, .size = exif.size};
        const made file = made_jpeg(&(made_jpeg_plan){.width = 90,
                                                      .height = 61,
                                                      .colours = MADE_YCC,
                                                      .across = 2,
                                                      .down = 2,
                                                      .sample = made_busy,
                                                      .parts = &part,
                                                      .part_count = 1});
        made_read whole = made_read_all(file);
        ck_assert_int_eq(whole.code, TDM_OK);
        ck_assert_int_eq(whole.info.orientation, orientation);
        tdm_photo *photo = open_made(file, &whole.warnings);
        check_many(photo, whole.pixels.rgb8);
        tdm_photo_close(photo);
        made_read_free(&whole);
        free(file.data);
        free(exif.data);
    }
}
END_TEST

START_TEST(outside)
{
    tdm_warnings warnings = {0};
    const made file =
        made_jpeg(&(made_jpeg_plan){.width = 20, .height = 10, .colours = MADE_YCC, .sample = made_flat});
    tdm_photo *photo = open_made(file, &warnings);
    const tdm_rect wrong[] = {{0, 0, 0, 1},  {0, 0, 1, 0},          {20, 0, 1, 1},         {0, 10, 1, 1},
                              {1, 0, 20, 1}, {UINT32_MAX, 0, 2, 1}, {0, 0, 1, UINT32_MAX}, {19, 9, 2, 2}};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        tdm_pixels pixels;
        tdm_error error = {0};
        ck_assert_int_eq(tdm_photo_read(photo, wrong[i], &pixels, &error), TDM_ERR_USAGE);
    }
    tdm_photo_close(photo);
    tdm_warnings_free(&warnings);
    free(file.data);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {baseline,     progressive, restarts,     one_scan_a_channel,
                                  whole_blocks, small,       grey_and_rgb, oriented,
                                  outside,      NULL};
    return run_suite("photo crop", tests);
}
