/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: an outline drawn elsewhere than where the patch was sampled, a reference square of another
 * colour, a left-out patch without its cross, a picture that is no PNG or differs from run to run. */
#include <math.h>
#include <string.h>

#include "colour/drawn.h"
#include "photo/photo.h"
#include "report/made_target.h"
#include "report/overlay_words.h"
#include "suite.h"
#include "tidemark/report.h"

/* Through the library's own reader of PNG, which isn't cairo. */
typedef struct picture {
    tdm_pixels pixels;
    uint32_t width, height;
} picture;

static picture draw(const tdm_target_reading *target)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    tdm_photo *photo = NULL;
    picture it = {0};
    uint8_t *bytes = NULL, *again = NULL;
    size_t size = 0, size_again = 0;
    ck_assert_msg(tdm_target_overlay(target, &bytes, &size, &error) == TDM_OK, "%s", error.text);
    ck_assert_int_eq(tdm_target_overlay(target, &again, &size_again, &error), TDM_OK);
    ck_assert_uint_eq(size, size_again);
    ck_assert_mem_eq(bytes, again, size);
    ck_assert_msg(tdm_photo_open_memory(bytes, size, "overlay.png", &limits, &warnings, &photo, &error) ==
                      TDM_OK,
                  "%s", error.text);
    it.width = tdm_photo_about(photo)->width;
    it.height = tdm_photo_about(photo)->height;
    ck_assert_int_eq(tdm_photo_read(photo, (tdm_rect){0, 0, it.width, it.height}, &it.pixels, &error),
                     TDM_OK);
    tdm_photo_close(photo);
    tdm_warnings_free(&warnings);
    tdm_free(bytes);
    tdm_free(again);
    return it;
}

static void check_pixel(const picture *it, double x, double y, int r, int g, int b, int within)
{
    const size_t at = 3 * ((size_t)y * it->width + (size_t)x);
    const uint8_t *p = it->pixels.rgb8 + at;
    ck_assert_msg(abs(p[0] - r) <= within && abs(p[1] - g) <= within && abs(p[2] - b) <= within,
                  "%g, %g: %d %d %d, not %d %d %d", x, y, p[0], p[1], p[2], r, g, b);
}

/* The target as made is 420 px wide and shown at twice its size. The line is two pixels wide, one at either
 * side of where it lies, on an edge of four. */
START_TEST(areas_where_they_were_sampled)
{
    tdm_target_reading *target = made_target();
    const picture it = draw(target);
    ck_assert_uint_eq(it.width, 840);
    ck_assert_uint_eq(it.height, 600);
    for (int i = 0; i < 24; i++) {
        const double x = 2 * (30 + i % 6 * 60 + 25.5), y = 2 * (30 + i / 6 * 60 + 25.5);
        const bool kept = i != 14 && i != 15;
        /* middle of the right side, away from the number at the first corner */
        check_pixel(&it, x + 25 - 0.5, y, 255, kept ? 255 : 0, kept ? 255 : 0, 0);
        check_pixel(&it, x + 25 + 0.5, y, 255, kept ? 255 : 0, kept ? 255 : 0, 0);
        check_pixel(&it, x + 25 + 1.5, y, 0, 0, 0, 0);
        if (!kept) /* the cross's middle */
            check_pixel(&it, x, y, 255, 0, 0, 0);
    }
    /* the block's outline, the dot at its first corner, and none at the others */
    check_pixel(&it, 400, 60, 255, 255, 0, 0);
    check_pixel(&it, 57, 57, 255, 255, 0, 0);
    ck_assert_int_lt(it.pixels.rgb8[3 * (57 * 840 + 765)], 100);
    tdm_pixels_free((tdm_pixels *)&it.pixels);
    tdm_target_reading_free(target);
}
END_TEST

/* sRGB of the reference as computed outside this program (target24_srgb8_derived.csv, edition B), within one
 * step of rounding. Red light was drawn at 0.8, so that the square
 * differs from what surrounds it. */
START_TEST(reference_squares)
{
    tdm_target_reading *target = made_target();
    const picture it = draw(target);
    double cells[24][10];
    size_t checked = 0;
    ck_assert_uint_eq(read_table("target24_srgb8_derived.csv", &cells[0][0], 10, 24), 24);
    for (size_t i = 0; i < 24; i++) {
        const double *want = cells[i] + 6;
        const double x = 2 * (30 + (double)(i % 6) * 60 + 25.5), y = 2 * (30 + (double)(i / 6) * 60 + 25.5);
        if (want[3] != 0 || i == 14 || i == 15) /* out of gamut, or left out */
            continue;
        check_pixel(&it, x, y, (int)want[0], (int)want[1], (int)want[2], 1);
        const size_t beside = 3 * ((size_t)y * it.width + (size_t)x + 18);
        ck_assert(want[0] < 40 || it.pixels.rgb8[beside] < want[0] - 3);
        checked++;
    }
    ck_assert_uint_ge(checked, 20);
    tdm_pixels_free((tdm_pixels *)&it.pixels);
    tdm_target_reading_free(target);
}
END_TEST

/* A large target is reduced by a whole factor, a small one enlarged; lines stay where they belong. */
START_TEST(large_and_small)
{
    tdm_target_reading *target = made_target();
    const tdm_pixels whole = target->crop;
    const uint32_t times = 9;
    tdm_pixels large = {.rect = {1000, 500, 420 * times, 300 * times}, .bits = 8};
    large.rgb8 = malloc((size_t)3 * large.rect.width * large.rect.height);
    for (uint32_t y = 0; y < large.rect.height; y++) {
        for (uint32_t x = 0; x < large.rect.width; x++)
            memcpy(large.rgb8 + 3 * ((size_t)y * large.rect.width + x),
                   whole.rgb8 + 3 * ((size_t)(y / times) * 420 + x / times), 3);
    }
    target->crop = large;
    for (size_t i = 0; i < 8; i++)
        target->found.corners[i] = target->found.corners[i] * times + (i % 2 ? 500 : 1000);
    for (size_t p = 0; p < 24; p++) {
        for (size_t i = 0; i < 8; i++)
            target->results[p].outline[i] = target->results[p].outline[i] * times + (i % 2 ? 500 : 1000);
    }
    picture it = draw(target);
    ck_assert_uint_eq(it.width, 1260); /* 3780 / 3 */
    check_pixel(&it, 3 * 68 - 0.5, 3 * 55.5, 255, 255, 255, 0);
    tdm_pixels_free(&it.pixels);
    tdm_pixels_free(&target->crop);
    /* 140 px wide */
    tdm_pixels small = {.rect = {0, 0, 140, 100}, .bits = 8};
    small.rgb8 = calloc(3 * 140, 100);
    target->crop = small;
    it = draw(target);
    ck_assert_uint_eq(it.width, 840); /* six times */
    tdm_pixels_free(&it.pixels);
    tdm_pixels_free((tdm_pixels *)&whole);
    tdm_target_reading_free(target);
}
END_TEST

/* A letter without strokes would be a gap in the word. */
START_TEST(every_letter_has_strokes)
{
    static const char said[] = "upright,on its left side,upside down,on its right side,mirrored,0123456789";
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, 1, 1);
    cairo_t *cairo = cairo_create(surface);
    for (const char *at = said; *at; at++) {
        const char one[] = {*at, '\0'};
        double left, top, right, bottom;
        tdm_words_path(cairo, one, 10, 20, 8);
        cairo_path_extents(cairo, &left, &top, &right, &bottom);
        cairo_new_path(cairo);
        if (*at == ' ')
            continue;
        ck_assert_msg(bottom > top && left >= 10 && right <= 10 + tdm_words_width(one, 8), "%s", one);
        ck_assert(top >= 20 && bottom <= 20 + 1.25 * 8);
    }
    cairo_destroy(cairo);
    cairo_surface_destroy(surface);
}
END_TEST

START_TEST(without_a_picture)
{
    tdm_target_reading *target = made_target();
    tdm_error error = {0};
    uint8_t *bytes = NULL;
    size_t size = 0;
    tdm_pixels_free(&target->crop);
    target->crop = (tdm_pixels){0};
    ck_assert_int_eq(tdm_target_overlay(target, &bytes, &size, &error), TDM_ERR_UNUSABLE);
    ck_assert_ptr_null(bytes);
    tdm_target_reading_free(target);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {areas_where_they_were_sampled, reference_squares, large_and_small,
                                  every_letter_has_strokes,      without_a_picture, NULL};
    return run_suite("overlay", tests);
}
