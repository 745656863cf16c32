/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Traces of compression in the pixels, which stay when the file is saved again in another way: steps that are
 * larger at every eighth pixel. Where the grid of blocks begins isn't known after turning and cropping, so
 * each of eight places is tried. */
#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "measure/quality_edges.h"
#include "measure/quality_parts.h"

enum { BLOCK = 8, SITES = 6 };
static const double site_reach = 64; /* px */
static const double fewest = 2000;   /* steps a place */

typedef struct steps {
    double sum[BLOCK], number[BLOCK];
} steps;

static double lightness(float light)
{
    const double xyz[3] = {0, (double)light, 0};
    double lab[3];
    tdm_xyz_to_lab(xyz, lab);
    return lab[0];
}

/* The part of a step in L* that the steps before and after it don't foretell. */
static void add_line(const float *light, size_t count, size_t stride, size_t first, steps *out)
{
    double l[4] = {0};
    for (size_t i = 0; i < count; i++) {
        l[3] = lightness(light[i * stride]);
        if (i >= 3) {
            out->sum[(first + i - 1) % BLOCK] += fabs(l[2] - l[1] - (l[1] - l[0] + l[3] - l[2]) / 2);
            out->number[(first + i - 1) % BLOCK]++;
        }
        memmove(l, l + 1, 3 * sizeof l[0]);
    }
}

static void add_view(const tdm_view *view, steps *across, steps *down)
{
    const size_t width = view->rect.width, height = view->rect.height;
    for (size_t row = 0; row < height; row++)
        add_line(view->light + row * width, width, 1, view->rect.x, across);
    for (size_t column = 0; column < width; column++)
        add_line(view->light + column, height, width, view->rect.y, down);
}

/* The largest of the eight means, less the mean of the other seven. */
static double excess(const steps *all)
{
    double most = 0, sum = 0;
    for (int i = 0; i < BLOCK; i++) {
        if (all->number[i] < fewest)
            return NAN;
        const double mean = all->sum[i] / all->number[i];
        most = fmax(most, mean);
        sum += mean;
    }
    return most - (sum - most) / (BLOCK - 1);
}

tdm_code tdm_quality_blocks(const tdm_quality_input *input, double *lstar, tdm_error *error)
{
    steps across = {.sum = {0}}, down = {.sum = {0}};
    *lstar = NAN;
    for (size_t zone = 0; zone < input->marks->zone_count; zone++) {
        const tdm_polyline *path = &input->marks->zones[zone].path;
        for (int site = 0; site < SITES; site++) {
            const double place = (site + 0.5) / SITES * (double)(path->count - 1);
            const double *a = path->xy + 2 * (size_t)place, rest = place - floor(place);
            tdm_view view;
            const tdm_code code = tdm_view_make(input, a[0] + rest * (a[2] - a[0]),
                                                a[1] + rest * (a[3] - a[1]), site_reach, &view, error);
            if (code != TDM_OK)
                return code;
            if (view.light)
                add_view(&view, &across, &down);
            tdm_view_free(&view);
        }
    }
    *lstar = fmin(excess(&across), excess(&down)); /* hair's own pattern is in one direction only */
    return TDM_OK;
}
