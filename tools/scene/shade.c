/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "drawing.h"

/* Cells of the picture, 5 mm wide: light with and without shading. */
typedef struct {
    double *shaded, *plain, *factor, *spare;
    size_t across, down;
    double cell;
} grid;

static bool grid_make(grid *g, const scn_canvas *canvas, double cell)
{
    *g = (grid){.across = (size_t)ceil((double)canvas->width / cell) + 1,
                .down = (size_t)ceil((double)canvas->height / cell) + 1,
                .cell = cell};
    const size_t count = g->across * g->down;
    g->shaded = calloc(count, sizeof(double));
    g->plain = calloc(count, sizeof(double));
    g->factor = calloc(count, sizeof(double));
    g->spare = calloc(count, sizeof(double));
    return g->shaded && g->plain && g->factor && g->spare;
}

static void grid_free(grid *g)
{
    free(g->shaded);
    free(g->plain);
    free(g->factor);
    free(g->spare);
}

/* Where the cell of `from` ends, px. */
static size_t cell_end(const grid *g, size_t from, size_t most)
{
    const size_t cell = (size_t)((double)from / g->cell);
    size_t to = from + 1;
    while (to < most && (size_t)((double)to / g->cell) == cell)
        to++;
    return to;
}

static void gather_cell(grid *g, const scn_canvas *canvas, size_t x0, size_t x1, size_t y0, size_t y1)
{
    const size_t cell = (size_t)((double)y0 / g->cell) * g->across + (size_t)((double)x0 / g->cell);
    for (size_t y = y0; y < y1; y++) {
        for (size_t x = x0; x < x1; x++) {
            const size_t at = scn_canvas_at(canvas, x, y);
            const float cover = canvas->cover[at], *v = canvas->pixels[at].v;
            if (cover < 0.05f)
                continue;
            g->plain[cell] += (double)v[SCN_Y];
            g->shaded[cell] += (double)(v[SCN_Y] * v[SCN_SHADE] / cover);
        }
    }
}

static void gather(grid *g, const scn_canvas *canvas)
{
    for (size_t y = 0, y1 = 0; y < canvas->height; y = y1) {
        y1 = cell_end(g, y, canvas->height);
        for (size_t x = 0, x1 = 0; x < canvas->width; x = x1) {
            x1 = cell_end(g, x, canvas->width);
            gather_cell(g, canvas, x, x1, y, y1);
        }
    }
}

/* Running mean over 2 reach + 1 cells in one direction. */
static void smooth(const grid *g, double *values, size_t count, size_t stride, size_t lines,
                   size_t line_stride, size_t reach)
{
    for (size_t line = 0; line < lines; line++) {
        double *v = values + line * line_stride;
        for (size_t i = 0; i < count; i++) {
            double sum = 0, weights = 0;
            for (size_t j = i > reach ? i - reach : 0; j <= i + reach && j < count; j++) {
                const double w = (double)(reach + 1) - fabs((double)i - (double)j);
                sum += w * v[j * stride];
                weights += w;
            }
            g->spare[i] = sum / weights;
        }
        for (size_t i = 0; i < count; i++)
            v[i * stride] = g->spare[i];
    }
}

/* Along the fall finely, across coarsely: locks keep their shading, the length keeps its mean. */
static void even(grid *g, size_t along, size_t across)
{
    double *const both[2] = {g->shaded, g->plain};
    for (int i = 0; i < 2; i++) {
        smooth(g, both[i], g->across, 1, g->down, g->across, across);
        smooth(g, both[i], g->down, g->across, g->across, 1, along);
    }
    for (size_t i = 0; i < g->across * g->down; i++)
        g->factor[i] = g->shaded[i] > 0 ? g->plain[i] / g->shaded[i] : 1;
}

static double factor_at(const grid *g, size_t x, size_t y)
{
    const double cx = fmax(0, ((double)x + 0.5) / g->cell - 0.5), a = cx - floor(cx);
    const double cy = fmax(0, ((double)y + 0.5) / g->cell - 0.5), b = cy - floor(cy);
    const size_t j = (size_t)cy;
    const double *f = g->factor + j * g->across + (size_t)cx;
    const size_t right = (size_t)cx + 1 < g->across, under = j + 1 < g->down ? g->across : 0;
    return (1 - b) * ((1 - a) * f[0] + a * f[right]) + b * ((1 - a) * f[under] + a * f[under + right]);
}

/* Tile by tile, as the canvas lies in memory. */
static void apply(const grid *g, scn_canvas *canvas)
{
    for (size_t left = 0; left < canvas->width; left += SCN_TILE)
        for (size_t y = 0; y < canvas->height; y++)
            for (size_t x = left; x < left + SCN_TILE && x < canvas->width; x++)
                canvas->pixels[scn_canvas_at(canvas, x, y)].v[SCN_SHADE] *= (float)factor_at(g, x, y);
}

bool scn_shade_level(scn_canvas *canvas, const scn_scene *scene)
{
    static const size_t along[] = {1, 1}, across[] = {5, 2};
    for (int pass = 0; pass < 2; pass++) {
        grid g;
        const bool good = grid_make(&g, canvas, fmax(4, 4 * scene->px_mm));
        if (good) {
            gather(&g, canvas);
            even(&g, along[pass], across[pass]);
            apply(&g, canvas);
        }
        grid_free(&g);
        if (!good)
            return scn_fail("hair", "out of memory");
    }
    return true;
}
