/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gauss-Newton on the map from the picture to the lattice and on the patches' share of the pitch: every edge
 * point should fall on its column's or row's edge. */
#include "colour/find_refine.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/find_edges.h"
#include "colour/find_plane.h"
#include "colour/matrix.h"

enum { UNKNOWNS = 9, SHARE = 8, ROUNDS = 10, PASSES = 4, FEWEST_POINTS = 80 };

static const double margin = 0.35;      /* of the pitch, round the outer patches' middles plus a half */
static const double most_pixels = 12e6; /* a larger target is refined on a smaller picture */
static const double usual_share = 0.85, least_share = 0.72, most_share = 0.98;
static const double furthest = 0.35; /* of the pitch, that a patch may move */

typedef struct fit {
    const tdm_find_edge *edges;
    size_t count;
    double x, y, size;        /* the frame in which the unknowns are near 1 */
    double unknown[UNKNOWNS]; /* eight of the map, and the share */
    double *rest;             /* one a point, in pitches */
} fit;

/* The rest, and its derivatives. */
static double rest_of(const fit *f, const tdm_find_edge *edge, double by[UNKNOWNS])
{
    const double x = (edge->x - f->x) / f->size, y = (edge->y - f->y) / f->size;
    const double *k = f->unknown, *line = edge->across ? k : k + 3;
    const double w = k[6] * x + k[7] * y + 1;
    const double at = (line[0] * x + line[1] * y + line[2]) / w;
    for (int i = 0; i < UNKNOWNS; i++)
        by[i] = 0;
    double *const own = edge->across ? by : by + 3;
    own[0] = x / w;
    own[1] = y / w;
    own[2] = 1 / w;
    by[6] = -at * x / w;
    by[7] = -at * y / w;
    by[SHARE] = -edge->side / 2.0;
    return at - edge->middle - edge->side * k[SHARE] / 2;
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Median of the rests' sizes, as a standard deviation. */
static double scatter(const fit *f)
{
    double by[UNKNOWNS];
    for (size_t i = 0; i < f->count; i++)
        f->rest[i] = fabs(rest_of(f, &f->edges[i], by));
    qsort(f->rest, f->count, sizeof *f->rest, by_size);
    return 1.4826 * f->rest[f->count / 2] + 1e-6;
}

static bool improve(fit *f)
{
    double a[UNKNOWNS * UNKNOWNS] = {0}, b[UNKNOWNS] = {0}, by[UNKNOWNS];
    const double far = 2.5 * scatter(f);
    for (size_t i = 0; i < f->count; i++) {
        const double rest = rest_of(f, &f->edges[i], by);
        const double part = rest / far;
        const double weight =
            fabs(part) < 1 ? (1 - part * part) * (1 - part * part) : 0; /* Tukey's biweight */
        for (int r = 0; r < UNKNOWNS; r++) {
            for (int c = 0; c <= r; c++)
                a[r * UNKNOWNS + c] += weight * by[r] * by[c];
            b[r] -= weight * by[r] * rest;
        }
    }
    if (!tdm_find_solve(a, b, UNKNOWNS))
        return false;
    for (int i = 0; i < UNKNOWNS; i++)
        f->unknown[i] += b[i];
    return true;
}

/* Into the fit's frame: picture to lattice, the last number 1. */
static bool set_frame(fit *f, const tdm_homography *map)
{
    double inverse[9], x, y;
    tdm_homography_at(map, 2.5, 1.5, &f->x, &f->y);
    tdm_homography_at(map, 5, 3, &x, &y);
    f->size = hypot(x - f->x, y - f->y);
    const double to_picture[9] = {f->size, 0, f->x, 0, f->size, f->y, 0, 0, 1};
    if (!(f->size > 0) || !tdm_matrix_invert(map->m, inverse))
        return false;
    tdm_matrix_multiply(inverse, to_picture, inverse);
    for (int i = 0; i < 8; i++)
        f->unknown[i] = inverse[i] / inverse[8];
    f->unknown[SHARE] = usual_share;
    return isfinite(f->unknown[0]);
}

static bool take_map(const fit *f, tdm_homography *map)
{
    const double from_picture[9] = {1 / f->size, 0, -f->x / f->size, 0, 1 / f->size, -f->y / f->size, 0,
                                    0,           1};
    double to_lattice[9] = {[8] = 1};
    for (int i = 0; i < 8; i++)
        to_lattice[i] = f->unknown[i];
    tdm_matrix_multiply(to_lattice, from_picture, to_lattice);
    return tdm_matrix_invert(to_lattice, map->m);
}

static bool near_enough(const tdm_homography *before, const tdm_homography *after)
{
    for (int i = 0; i < 4; i++) {
        const double u = i % 2 ? 5 : 0, v = i / 2 ? 3 : 0;
        double x, y, at_x, at_y, next_x, next_y;
        tdm_homography_at(before, u, v, &x, &y);
        tdm_homography_at(before, u, v + 1, &next_x, &next_y);
        tdm_homography_at(after, u, v, &at_x, &at_y);
        if (!(hypot(at_x - x, at_y - y) <= furthest * hypot(next_x - x, next_y - y)))
            return false;
    }
    return true;
}

/* False where the edges don't settle it; *map is then as it was. */
static bool refine(const tdm_find_picture *picture, tdm_find_edge *edges, double *rests, tdm_homography *map)
{
    tdm_homography now = *map;
    for (int pass = 0; pass < PASSES; pass++) {
        fit f = {.edges = edges, .rest = rests};
        f.count = tdm_find_edges(picture, &now, edges);
        if (f.count < FEWEST_POINTS || !set_frame(&f, &now))
            return false;
        for (int i = 0; i < ROUNDS; i++) {
            if (!improve(&f))
                return false;
        }
        if (f.unknown[SHARE] < least_share || f.unknown[SHARE] > most_share || !take_map(&f, &now) ||
            !near_enough(map, &now))
            return false;
    }
    *map = now;
    return true;
}

static bool refine_on(const tdm_find_picture *picture, tdm_homography *map)
{
    tdm_find_edge *edges = malloc(TDM_MOST_EDGE_POINTS * sizeof *edges);
    double *rests = malloc(TDM_MOST_EDGE_POINTS * sizeof *rests);
    const bool room = edges && rests;
    if (room) {
        /* Photograph to this picture, and back. */
        const double f = picture->factor;
        const double to[9] = {1 / f, 0, -picture->left / f, 0, 1 / f, -picture->top / f, 0, 0, 1};
        const double from[9] = {f, 0, picture->left, 0, f, picture->top, 0, 0, 1};
        tdm_homography here;
        tdm_matrix_multiply(to, map->m, here.m);
        if (refine(picture, edges, rests, &here))
            tdm_matrix_multiply(from, here.m, map->m);
    }
    free(edges);
    free(rests);
    return room;
}

static tdm_rect around(const tdm_photo_info *info, const tdm_homography *map)
{
    double left = info->width, right = 0, top = info->height, bottom = 0;
    for (int i = 0; i < 4; i++) {
        double x, y;
        tdm_homography_at(map, i % 2 ? 5.5 + margin : -0.5 - margin, i / 2 ? 3.5 + margin : -0.5 - margin, &x,
                          &y);
        left = fmin(left, x);
        right = fmax(right, x);
        top = fmin(top, y);
        bottom = fmax(bottom, y);
    }
    left = floor(fmin(fmax(left, 0), info->width - 1.0));
    top = floor(fmin(fmax(top, 0), info->height - 1.0));
    right = ceil(fmin(fmax(right, left + 1), info->width));
    bottom = ceil(fmin(fmax(bottom, top + 1), info->height));
    return (tdm_rect){(uint32_t)left, (uint32_t)top, (uint32_t)(right - left), (uint32_t)(bottom - top)};
}

tdm_code tdm_find_refine(tdm_photo *photo, tdm_homography *map, tdm_error *error)
{
    const tdm_photo_info *info = tdm_photo_about(photo);
    const tdm_rect rect = around(info, map);
    const double by = ceil(sqrt((double)rect.width * rect.height / most_pixels));
    double factor = 1;
    tdm_pixels pixels;
    tdm_find_picture picture;
    const tdm_code code =
        by > 1 ? tdm_photo_read_small(photo, (uint32_t)(fmax(info->width, info->height) / by) + 1, &pixels,
                                      &factor, error)
               : tdm_photo_read(photo, rect, &pixels, error);
    if (code != TDM_OK)
        return code;
    bool well = tdm_find_picture_take(&pixels, factor, &picture);
    tdm_pixels_free(&pixels);
    well = well && refine_on(&picture, map);
    tdm_find_picture_free(&picture);
    return well ? TDM_OK : tdm_fail_memory(error, NULL);
}
