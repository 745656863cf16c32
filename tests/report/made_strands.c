/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/made_strands.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "compare/made_reading.h"

const unsigned made_dark_rgb[3] = {70, 50, 40}, made_light_rgb[3] = {200, 170, 120};

enum { ROWS = 200, COLS = 80, WINDOWS = 40, FROM = 20 };

static bool is_light(size_t row, size_t col)
{
    return row >= 2 * FROM && col >= 20 && col < 40;
}

static void fill_map(tdm_strand_map *map)
{
    *map = (tdm_strand_map){.windows = WINDOWS, .cols = COLS, .from = FROM, .window = 2, .cell = 0.5};
    map->light = malloc(WINDOWS * COLS * sizeof *map->light);
    map->ribbons = calloc(1, sizeof *map->ribbons);
    ck_assert(map->light && map->ribbons);
    for (size_t i = 0; i < WINDOWS * COLS; i++)
        map->light[i] = i % COLS < 4 ? NAN : is_light(2 * FROM, i % COLS) ? 0.875F : 0.125F;
    map->ribbon_count = 1;
    tdm_ribbon *ribbon = &map->ribbons[0];
    *ribbon = (tdm_ribbon){.first = 5, .windows = 15, .start = 30, .onset = 4};
    ribbon->edges = malloc(2 * 15 * sizeof *ribbon->edges);
    ck_assert_ptr_nonnull(ribbon->edges);
    for (size_t i = 0; i < 15; i++) {
        ribbon->edges[2 * i] = 10;
        ribbon->edges[2 * i + 1] = 20;
    }
}

tdm_reading *made_strands_reading(void)
{
    static const char *const names[] = {"front", "nape"};
    tdm_reading *reading = made_reading("before.jpg", 2);
    for (size_t i = 0; i < 2; i++) {
        free(reading->zones[i].name);
        reading->zones[i].name = made_copy(names[i]);
    }
    reading->zones[0].strands.separable = true;
    reading->zones[0].strands.light_share = (tdm_value){.value = 0.25, .u = 0.125};
    fill_map(&reading->zones[0].strands.map);
    reading->scale = tdm_level_scale_default();
    return reading;
}

static uint32_t pack(const unsigned rgb[3])
{
    return UINT32_C(0xff000000) | rgb[0] << 16 | rgb[1] << 8 | rgb[2];
}

static tdm_strand_piece made_piece(const tdm_reading *reading, size_t index)
{
    tdm_error error = {0};
    tdm_strand_piece piece = {.index = index,
                              .rows = ROWS,
                              .cols = COLS,
                              .cell = 0.5,
                              .across = 40,
                              .unit = 2,
                              .length = 100,
                              .scaled = true,
                              .hair = malloc(ROWS * COLS * sizeof(uint32_t))};
    ck_assert_ptr_nonnull(piece.hair);
    for (size_t i = 0; i < ROWS * COLS; i++)
        piece.hair[i] = pack(is_light(i / COLS, i % COLS) ? made_light_rgb : made_dark_rgb);
    ck_assert_int_eq(tdm_skip_by_strands(&reading->zones[index], &piece.skip, &error), TDM_OK);
    return piece;
}

/* From 200, 100 down to 200, 300 in the photograph, of which the part from 100, 50 on is shown at twice its
 * size. */
static void add_photo(tdm_strand_view *view)
{
    double xy[] = {200, 100, 200, 300}, widths[] = {80, 80};
    tdm_zone_marks zone = {.path = {.xy = xy, .count = 2}, .widths = widths};
    const tdm_marks marks = {.zones = &zone, .zone_count = 1};
    tdm_error error = {0};
    for (size_t i = 0; i < 2; i++)
        ck_assert_int_eq(tdm_strip_way_make(&marks, 0, 2, &view->pieces[i].way, &error), TDM_OK);
    view->photo = (tdm_overlay){.surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, 400, 560),
                                .left = 100,
                                .top = 50,
                                .scale = 2};
    cairo_t *cairo = cairo_create(view->photo.surface);
    cairo_set_source_rgb(cairo, 128 / 255.0, 128 / 255.0, 128 / 255.0);
    cairo_paint(cairo);
    cairo_destroy(cairo);
}

tdm_strand_view *made_strands(tdm_reading *reading, bool with_photo)
{
    tdm_strand_view *view = calloc(1, sizeof *view);
    ck_assert_ptr_nonnull(view);
    *view = (tdm_strand_view){.reading = reading, .skip_level = (double)NAN, .count = 2};
    view->pieces = calloc(2, sizeof *view->pieces);
    ck_assert_ptr_nonnull(view->pieces);
    for (size_t i = 0; i < 2; i++)
        view->pieces[i] = made_piece(reading, i);
    if (with_photo)
        add_photo(view);
    return view;
}
