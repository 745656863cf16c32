/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The spread of strands' edges, where no target shows it: on lines of pixels, each run of rising or falling
 * light is taken for a Gaussian step, whose largest difference between neighbouring pixels over its whole
 * height gives its sigma. The median of those counts. */
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/quality_edges.h"

enum { SITES = 12, MOST_EDGES = 1 << 15, FEWEST_EDGES = 200 };
static const double site_reach = 40;      /* px */
static const double least_contrast = 0.3; /* of an edge, over its own mean light: a strand, not noise */
static const double longest = 40;         /* px of a run */
static const double pixel = 1.0 / 12;     /* px²: no edge is sharper than a pixel is wide */

typedef struct edges {
    float *sigma;
    size_t count;
} edges;

/* A step of height `whole` whose largest pixel to pixel difference is `step`: the difference over one pixel
 * of a Gaussian step in its middle is 2 P(1 / (2 sigma)) - 1. */
static double sigma_of(double step, double whole)
{
    return 0.5 / gsl_cdf_ugaussian_Pinv((fmin(step / whole, 0.999) + 1) / 2);
}

/* Against noise, of a pixel and its neighbours on the line, 1 2 1: that adds 1/2 px² to an edge's variance.
 */
static double at(const float *light, size_t i, size_t stride)
{
    return ((double)light[(i - 1) * stride] + 2 * (double)light[i * stride] +
            (double)light[(i + 1) * stride]) /
           4;
}

/* A rise or fall that has come to its end. across: step to the line beside it where it is steepest. */
static void add_edge(double whole, double mean, double steepest, double across, edges *out)
{
    /* An edge more across this line than along it is left to lines the other way. */
    if (fabs(whole) > least_contrast * mean && across < steepest && out->count < MOST_EDGES)
        out->sigma[out->count++] = (float)(sigma_of(steepest, fabs(whole)) * cos(atan2(across, steepest)));
}

/* One line of pixels, stride apart; side: to the line beside it. */
static void add_line(const float *light, size_t count, size_t stride, size_t side, edges *out)
{
    if (count < 3)
        return;
    size_t start = 1, steepest = 1;
    double most = 0, first = at(light, 1, stride), last = first;
    for (size_t i = 2; i + 1 < count; i++) {
        const double now = at(light, i, stride), step = now - last;
        if (i - 1 > start && step * (last - first) <= 0) {
            const double across = fabs(at(light + side, steepest, stride) - at(light, steepest, stride));
            if ((double)(i - start) < longest)
                add_edge(last - first, (last + first) / 2, most, across, out);
            start = i - 1;
            first = last;
            most = 0;
        }
        if (fabs(step) > most) {
            most = fabs(step);
            steepest = i;
        }
        last = now;
    }
}

static void add_view(const tdm_view *view, edges *out)
{
    const size_t width = view->rect.width, height = view->rect.height;
    for (size_t row = 0; row + 1 < height; row += 2)
        add_line(view->light + row * width, width, 1, width, out);
    for (size_t column = 0; column + 1 < width; column += 2)
        add_line(view->light + column, height, width, 1, out);
}

/* A place on the zone's path, as a share of its points' chain. */
static void path_at(const tdm_polyline *path, double share, double *x, double *y)
{
    const double place = share * (double)(path->count - 1);
    const size_t i = (size_t)fmin(place, (double)path->count - 2);
    const double rest = place - (double)i;
    *x = path->xy[2 * i] + rest * (path->xy[2 * i + 2] - path->xy[2 * i]);
    *y = path->xy[2 * i + 1] + rest * (path->xy[2 * i + 3] - path->xy[2 * i + 1]);
}

static tdm_code gather(const tdm_quality_input *input, edges *out, tdm_error *error)
{
    for (size_t zone = 0; zone < input->marks->zone_count; zone++) {
        for (int site = 0; site < SITES; site++) {
            double x, y;
            tdm_view view;
            path_at(&input->marks->zones[zone].path, (site + 0.5) / SITES, &x, &y);
            const tdm_code code = tdm_view_make(input, x, y, site_reach, &view, error);
            if (code != TDM_OK)
                return code;
            if (view.light)
                add_view(&view, out);
            tdm_view_free(&view);
        }
    }
    return TDM_OK;
}

static int compare(const void *a, const void *b)
{
    const float x = *(const float *)a, y = *(const float *)b;
    return (x > y) - (x < y);
}

tdm_code tdm_spread_of_hair(const tdm_quality_input *input, tdm_edge_spread *out, tdm_error *error)
{
    *out = (tdm_edge_spread){NAN, NAN, NAN, NAN};
    edges all = {.sigma = malloc(MOST_EDGES * sizeof(float))};
    if (!all.sigma)
        return tdm_fail_memory(error, NULL);
    const tdm_code code = gather(input, &all, error);
    if (code == TDM_OK && all.count >= FEWEST_EDGES) {
        qsort(all.sigma, all.count, sizeof all.sigma[0], compare);
        const double sigma = (double)all.sigma[all.count / 2];
        out->sharp = sqrt(fmax(sigma * sigma - 0.5, pixel));
    }
    free(all.sigma);
    return code;
}
