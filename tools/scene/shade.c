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

static void gather(grid *g, const scn_canvas *canvas)
{
    for (size_t y = 0; y < canvas->height; y++) {
        const size_t row = (size_t)((double)y / g->cell) * g->across;
        for (size_t x = 0; x < canvas->width; x++) {
            const size_t at = y * canvas->width + x, cell = row + (size_t)((double)x / g->cell);
            const float cover = canvas->cover[at], *v = canvas->pixels[at].v;
            if (cover < 0.05f)
                continue;
            g->plain[cell] += (double)v[SCN_Y];
            g->shaded[cell] += (double)(v[SCN_Y] * v[SCN_SHADE] / cover);
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

static void apply(const grid *g, scn_canvas *canvas)
{
    for (size_t y = 0; y < canvas->height; y++) {
        const double cy = fmax(0, ((double)y + 0.5) / g->cell - 0.5);
        const size_t j = (size_t)cy;
        for (size_t x = 0; x < canvas->width; x++) {
            const double cx = fmax(0, ((double)x + 0.5) / g->cell - 0.5), a = cx - floor(cx),
                         b = cy - floor(cy);
            const double *f = g->factor + j * g->across + (size_t)cx;
            const size_t right = (size_t)cx + 1 < g->across, under = j + 1 < g->down ? g->across : 0;
            canvas->pixels[y * canvas->width + x].v[SCN_SHADE] *=
                (float)((1 - b) * ((1 - a) * f[0] + a * f[right]) +
                        b * ((1 - a) * f[under] + a * f[under + right]));
        }
    }
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
