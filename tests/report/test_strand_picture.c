/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a light strand that isn't marked or a dark one that is, hair to skip without its hatching, or
 * hair hatched that may be lightened; a ribbon's outline or start elsewhere; the photograph shown unasked, or
 * marked elsewhere than where the zone lies; something marked on a photograph that can't carry it; after that
 * doesn't stand beside before; a picture that differs from run to run. */
#include <math.h>
#include <string.h>

#include "photo/photo.h"
#include "report/made_strands.h"
#include "report/picture_words.h"
#include "suite.h"

/* Zones of 40 mm at the largest scale, 5 px a mm: a margin of 24, ruler 50 before the hair, 132 of words
 * above; from one picture to the next 40 mm and a gap of 14; a field is ruler, two of these and 40 mm, and 30
 * lie between. */
enum { LEFT = 24 + 50, TOP = 24 + 132, MM = 5, PITCH = 40 * MM + 14, FIELD = 50 + 2 * PITCH + 40 * MM + 30 };
/* The photograph: below the zones. */
enum { PHOTO_LEFT = 24, PHOTO_TOP = TOP + 100 * MM + 24 };

typedef struct picture {
    tdm_pixels pixels;
    uint32_t width, height;
} picture;

/* Through the library's own reader of PNG, which isn't cairo. */
static picture draw(const tdm_strand_view *one, const tdm_strand_view *other)
{
    const tdm_strand_view *const views[] = {one, other};
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    tdm_photo *photo = NULL;
    picture it = {0};
    uint8_t *bytes = NULL;
    size_t size = 0;
    const tdm_code code = tdm_strand_picture(views, other ? 2 : 1, &bytes, &size, &error);
    ck_assert_msg(code == TDM_OK, "%s", error.text);
    ck_assert_int_eq(tdm_photo_open_memory(bytes, size, "strands.png", &limits, &warnings, &photo, &error),
                     TDM_OK);
    it.width = tdm_photo_about(photo)->width;
    it.height = tdm_photo_about(photo)->height;
    ck_assert_int_eq(tdm_photo_read(photo, (tdm_rect){0, 0, it.width, it.height}, &it.pixels, &error),
                     TDM_OK);
    tdm_photo_close(photo);
    tdm_warnings_free(&warnings);
    tdm_free(bytes);
    return it;
}

static const uint8_t *pixel(const picture *it, size_t x, size_t y)
{
    ck_assert(x < it->width && y < it->height);
    return it->pixels.rgb8 + 3 * (y * it->width + x);
}

static void check_pixel(const picture *it, size_t x, size_t y, const unsigned rgb[3], int within)
{
    const uint8_t *p = pixel(it, x, y);
    ck_assert_msg(abs(p[0] - (int)rgb[0]) <= within && abs(p[1] - (int)rgb[1]) <= within &&
                      abs(p[2] - (int)rgb[2]) <= within,
                  "%zu, %zu: %d %d %d, not %u %u %u", x, y, p[0], p[1], p[2], rgb[0], rgb[1], rgb[2]);
}

/* The pixel whose left edge lies so many mm from the strip's left edge, on the nth picture of the first zone:
 * the strip's left is at the right, as where hair hangs down. */
static size_t across(size_t nth, double mm)
{
    return LEFT + nth * PITCH + (size_t)((40 - mm) * MM);
}

static size_t along(double mm)
{
    return TOP + (size_t)(mm * MM);
}

static double share_of(const picture *it, size_t left, size_t top, size_t side, const unsigned rgb[3])
{
    double count = 0;
    for (size_t y = top; y < top + side; y++) {
        for (size_t x = left; x < left + side; x++) {
            const uint8_t *p = pixel(it, x, y);
            count += p[0] == rgb[0] && p[1] == rgb[1] && p[2] == rgb[2];
        }
    }
    return count / (double)(side * side);
}

static const unsigned white[3] = {255, 255, 255}, dimmed[3] = {38, 27, 22}; /* 55 % of the dark hair */

static tdm_reading *reading;
static tdm_strand_view *view;

static void open_view(void)
{
    reading = made_strands_reading();
    view = made_strands(reading, false);
}

static void close_view(void)
{
    tdm_strand_view_free(view);
    tdm_reading_free(reading);
}

START_TEST(the_hair_as_it_is)
{
    picture it = draw(view, NULL);
    check_pixel(&it, across(0, 15), along(80), made_light_rgb, 0);
    check_pixel(&it, across(0, 30), along(80), made_dark_rgb, 0);
    check_pixel(&it, across(0, 15), along(10), made_dark_rgb, 0);
    /* nape stands beside it; the picture ends with some lines of words, as no photograph was asked for: that
     * would take 560 more */
    check_pixel(&it, across(0, 15) + FIELD, along(80), made_light_rgb, 0);
    ck_assert_uint_lt(it.height, along(100) + 400);
    tdm_pixels_free(&it.pixels);
}
END_TEST

START_TEST(light_strands_are_blue_and_dark_ones_dim)
{
    picture it = draw(view, NULL);
    const uint8_t *light = pixel(&it, across(1, 15), along(80));
    ck_assert_int_gt(light[2] - light[0], 80); /* of hair that is 80 redder than blue */
    check_pixel(&it, across(1, 30), along(80), dimmed, 1);
    check_pixel(&it, across(1, 1), along(80), made_dark_rgb, 0);  /* nothing known */
    check_pixel(&it, across(1, 15), along(10), made_dark_rgb, 0); /* above the strands */
    /* nape: not separable */
    check_pixel(&it, across(1, 15) + FIELD, along(80), made_light_rgb, 0);
    check_pixel(&it, across(1, 30) + FIELD, along(80), made_dark_rgb, 0);
    ck_assert_double_eq(share_of(&it, across(1, 15) + FIELD, along(48.2), 2, white), 1); /* which is said */
    ck_assert_double_eq(share_of(&it, across(1, 15), along(48.2), 2, white), 0);
    tdm_pixels_free(&it.pixels);
}
END_TEST

/* The outline is a white pixel on three black ones, its middle between two pixels: half white over black. */
START_TEST(ribbons_are_outlined_where_they_lie)
{
    picture it = draw(view, NULL);
    for (int edge = 10; edge <= 20; edge += 10) {
        ck_assert_int_gt(pixel(&it, across(1, edge), along(45))[0], 100);
        ck_assert_int_lt(pixel(&it, across(1, edge) - 2, along(45))[0], 60);
        /* above and below the ribbon there is none: plain blue on one side, plain dimmed on the other */
        const size_t outside = edge == 10 ? across(1, edge) : across(1, edge) - 1;
        check_pixel(&it, outside, along(25), dimmed, 1);
        check_pixel(&it, outside, along(65), dimmed, 1);
    }
    /* The start: a yellow triangle in the ribbon's middle, its tip at 30 mm. */
    const uint8_t *start = pixel(&it, across(1, 15), along(30) - 5);
    ck_assert(start[0] > 200 && start[1] > 150 && start[2] < 80);
    ck_assert_int_gt(pixel(&it, across(1, 15), along(30) + 5)[2], 150);
    tdm_pixels_free(&it.pixels);
}
END_TEST

/* Of eight pixels two are white, the others of one strong blue; darker hair is grey; above it dots. */
START_TEST(what_to_skip_is_hatched)
{
    picture it = draw(view, NULL);
    const size_t left = across(2, 18), top = along(75);
    unsigned ground[3] = {0, 0, 0};
    for (size_t i = 0; i < 8; i++) {
        const uint8_t *p = pixel(&it, left + i, top);
        for (size_t k = 0; p[0] != 255 && k < 3; k++)
            ground[k] = p[k];
    }
    ck_assert(ground[2] > 150 && ground[0] < 40);
    ck_assert_double_eq_tol(share_of(&it, left, top, 24, white), 0.25, 1e-9);
    ck_assert_double_eq_tol(share_of(&it, left, top, 24, ground), 0.75, 1e-9);
    ck_assert_double_eq(share_of(&it, across(2, 30), top, 24, white), 0);
    const uint8_t *may = pixel(&it, across(2, 30), along(80));
    ck_assert(may[0] == may[1] && may[1] == may[2] && may[0] > 130);
    /* dots: two greys, of both on the hair above and on the first 2 mm */
    const size_t places[2][2] = {{across(2, 15), along(10)}, {across(2, 1.8), along(80)}};
    for (size_t i = 0; i < 2; i++) {
        int least = 255, most = 0;
        for (size_t p = 0; p < 64; p++) {
            const uint8_t *at = pixel(&it, places[i][0] + p % 8, places[i][1] + p / 8);
            ck_assert(at[0] == at[2]);
            least = at[0] < least ? at[0] : least;
            most = at[0] > most ? at[0] : most;
        }
        ck_assert_int_gt(most - least, 80);
    }
    /* nape: nothing is known, nothing hatched */
    ck_assert_double_eq(share_of(&it, left + FIELD, top, 24, ground), 0);
    tdm_pixels_free(&it.pixels);
}
END_TEST

/* By level a zone is judged that isn't separable, too. */
START_TEST(by_level_where_strands_are_not_apart)
{
    tdm_skip_map *skip = &view->pieces[1].skip;
    *skip = (tdm_skip_map){.windows = 100, .cols = 80, .window = 1, .cell = 0.5};
    skip->state = malloc(100 * 80);
    ck_assert_ptr_nonnull(skip->state);
    for (size_t i = 0; i < 100 * 80; i++)
        skip->state[i] = i % 80 >= 60 ? TDM_SKIP_LEAVE : TDM_SKIP_MAY;
    view->skip_level = 8;
    picture it = draw(view, NULL);
    ck_assert_double_eq_tol(share_of(&it, across(2, 38) + FIELD, along(5), 24, white), 0.25, 1e-9);
    ck_assert_double_eq(share_of(&it, across(2, 15) + FIELD, along(5), 24, white), 0);
    tdm_pixels_free(&it.pixels);
}
END_TEST

/* Down the picture the strip's right is the picture's left: 15 mm from the strip's left edge lies 5 mm right
 * of the path, at (200 + 10 - 100) * 2 of the picture. */
START_TEST(on_the_photograph_where_the_zone_lies)
{
    tdm_strand_view *with = made_strands(reading, true);
    with->pieces[1].skip.windows = 0;
    picture it = draw(with, NULL);
    const size_t light = PHOTO_LEFT + 220, dark = PHOTO_LEFT + 160, y = PHOTO_TOP + (100 + 160 - 50) * 2;
    ck_assert_uint_ge(it.height, PHOTO_TOP + 560);
    /* blue between the lines of the hatch, which are white and black */
    double blue = 0, lines = 0;
    for (size_t i = 0; i < 64; i++) {
        const uint8_t *p = pixel(&it, light - 4 + i % 8, y + i / 8);
        blue += p[2] - p[0] > 80;
        lines += p[0] == p[2] && (p[0] == 255 || p[0] == 0);
    }
    ck_assert_double_eq_tol(blue / 64, 5.0 / 8, 1e-9);
    ck_assert_double_eq_tol(lines / 64, 3.0 / 8, 1e-9);
    const unsigned paper[3] = {128, 128, 128}, shaded[3] = {96, 96, 96};
    check_pixel(&it, dark, y, shaded, 1);
    /* above the strands, and outside the zone, the photograph as it is */
    check_pixel(&it, light, PHOTO_TOP + (100 + 20 - 50) * 2, paper, 0);
    check_pixel(&it, PHOTO_LEFT + 40, y, paper, 0);
    /* the zone's border, 20 mm to either side of the path: 40 px, at twice the size */
    for (int side = -1; side <= 1; side += 2) {
        const size_t edge = (size_t)(PHOTO_LEFT + 200 + side * 80);
        ck_assert_int_gt(pixel(&it, edge, PHOTO_TOP + 140)[0], 150);
        ck_assert_int_lt(pixel(&it, edge + 1, PHOTO_TOP + 140)[0], 60);
        ck_assert_int_lt(pixel(&it, edge - 2, PHOTO_TOP + 140)[0], 60);
    }
    tdm_pixels_free(&it.pixels);
    tdm_strand_view_free(with);
}
END_TEST

START_TEST(nothing_is_marked_where_the_photograph_is_not_usable)
{
    reading->usable = false;
    picture it = draw(view, NULL);
    check_pixel(&it, across(1, 15), along(80), made_light_rgb, 0);
    ck_assert_double_eq(share_of(&it, across(2, 18), along(75), 24, white), 0);
    tdm_pixels_free(&it.pixels);
}
END_TEST

/* The second photograph has nape alone: it stands third, beside nape before. */
START_TEST(after_beside_before)
{
    tdm_strand_view *after = made_strands(reading, false);
    tdm_strand_piece_free(&after->pieces[0]);
    after->pieces[0] = after->pieces[1];
    after->count = 1;
    for (size_t i = 0; i < after->pieces[0].rows * after->pieces[0].cols; i++)
        after->pieces[0].hair[i] = UINT32_C(0xff0a141e);
    picture it = draw(view, after);
    check_pixel(&it, across(0, 15) + FIELD, along(80), made_light_rgb, 0);
    check_pixel(&it, across(0, 15) + 2 * FIELD, along(80), (const unsigned[]){10, 20, 30}, 0);
    tdm_pixels_free(&it.pixels);
    tdm_strand_view_free(after);
}
END_TEST

START_TEST(the_same_bytes_again)
{
    const tdm_strand_view *const views[] = {view};
    tdm_error error = {0};
    uint8_t *bytes[2] = {NULL, NULL};
    size_t sizes[2] = {0, 0};
    for (size_t i = 0; i < 2; i++)
        ck_assert_int_eq(tdm_strand_picture(views, 1, &bytes[i], &sizes[i], &error), TDM_OK);
    ck_assert_uint_eq(sizes[0], sizes[1]);
    ck_assert_mem_eq(bytes[0], bytes[1], sizes[0]);
    tdm_free(bytes[0]);
    tdm_free(bytes[1]);
}
END_TEST

START_TEST(nothing_to_draw)
{
    const tdm_strand_view *const views[] = {view, view, view};
    tdm_error error = {0};
    uint8_t *bytes = NULL;
    size_t size = 0;
    ck_assert_int_eq(tdm_strand_picture(views, 0, &bytes, &size, &error), TDM_ERR_USAGE);
    ck_assert_int_eq(tdm_strand_picture(views, 3, &bytes, &size, &error), TDM_ERR_USAGE);
    const size_t count = view->count;
    view->count = 0;
    ck_assert_int_eq(tdm_strand_picture(views, 1, &bytes, &size, &error), TDM_ERR_UNUSABLE);
    view->count = count;
    ck_assert_ptr_null(bytes);
}
END_TEST

/* However many and large the zones are, the page stays within bounds. */
START_TEST(a_page_has_bounds)
{
    enum { MANY = 64 };
    const tdm_strand_view *views[1];
    tdm_strand_piece pieces[MANY];
    tdm_strand_view many = *view;
    tdm_error error = {0};
    tdm_strand_page page = {.views = views, .view_count = 1};
    for (size_t i = 0; i < MANY; i++) {
        pieces[i] = view->pieces[i % 2];
        pieces[i].rows = 5000;
        pieces[i].across = i == 3 ? 8000 : 400;
    }
    many.pieces = pieces;
    many.count = MANY;
    views[0] = &many;
    ck_assert_int_eq(tdm_strand_lay_out(&page, &error), TDM_OK);
    ck_assert_uint_eq(page.count, MANY);
    ck_assert_double_le(page.width * page.bottom, 4e7);
    ck_assert_double_le(page.bottom, 32000);
    free(page.panels);
}
END_TEST

START_TEST(options_are_checked)
{
    tdm_strand_options how = tdm_strand_options_default();
    tdm_reading *out = NULL;
    tdm_strand_view *made = NULL;
    tdm_error error = {0};
    ck_assert(isnan(how.skip_level) && !how.on_photo);
    how.skip_level = 12.5;
    ck_assert_int_eq(tdm_read_strands("none.jpg", NULL, NULL, &how, &out, &made, &error), TDM_ERR_USAGE);
    how.skip_level = 0.5;
    ck_assert_int_eq(tdm_read_strands("none.jpg", NULL, NULL, &how, &out, &made, &error), TDM_ERR_USAGE);
    how.skip_level = 8;
    ck_assert_int_eq(tdm_read_strands("none.jpg", NULL, NULL, &how, &out, &made, &error), TDM_ERR_UNREADABLE);
    ck_assert(!out && !made);
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("strand picture");
    tcase_add_checked_fixture(tests, open_view, close_view);
    tcase_add_test(tests, the_hair_as_it_is);
    tcase_add_test(tests, light_strands_are_blue_and_dark_ones_dim);
    tcase_add_test(tests, ribbons_are_outlined_where_they_lie);
    tcase_add_test(tests, what_to_skip_is_hatched);
    tcase_add_test(tests, by_level_where_strands_are_not_apart);
    tcase_add_test(tests, on_the_photograph_where_the_zone_lies);
    tcase_add_test(tests, nothing_is_marked_where_the_photograph_is_not_usable);
    tcase_add_test(tests, after_beside_before);
    tcase_add_test(tests, the_same_bytes_again);
    tcase_add_test(tests, nothing_to_draw);
    tcase_add_test(tests, a_page_has_bounds);
    tcase_add_test(tests, options_are_checked);
    return run_case("strand picture", tests);
}
