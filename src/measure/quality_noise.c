/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Noise of a pixel in L* on surfaces that are even and about as dark as hair. */
#include <gsl/gsl_linalg.h>
#include <math.h>

#include "colour/lab.h"
#include "colour/target.h"
#include "measure/quality_edges.h"
#include "measure/quality_parts.h"

enum { PLANE = 3, FEWEST = 30 };
static const int dark[] = {0, 22, 23};                   /* dark skin, neutral 3.5, black */
static const double patch_side = 0.85, looked_at = 0.25; /* a square of this half side, in pitches */
static const double part_of_grey = 0.35; /* half side of a square, over the grey's shorter extent */
static const double most_half = 60;      /* px */

typedef struct moments {
    double matrix[PLANE * PLANE], right[PLANE], squares;
    size_t count;
} moments;

/* L* of a pixel as a plane over the view, so that a shading isn't taken for noise. */
static moments add_up(const tdm_view *view)
{
    moments out = {0};
    for (uint32_t row = 0; row < view->rect.height; row++) {
        for (uint32_t column = 0; column < view->rect.width; column++) {
            const double light = (double)view->light[(size_t)row * view->rect.width + column];
            const double xyz[3] = {0, light, 0};
            double lab[3];
            tdm_xyz_to_lab(xyz, lab);
            const double term[PLANE] = {1, row, column};
            for (int i = 0; i < PLANE; i++) {
                for (int j = 0; j < PLANE; j++)
                    out.matrix[i * PLANE + j] += term[i] * term[j];
                out.right[i] += term[i] * lab[0];
            }
            out.squares += lab[0] * lab[0];
            out.count++;
        }
    }
    return out;
}

/* NaN where there are too few pixels. */
static double scatter(const tdm_view *view)
{
    double plane[PLANE], explained = 0;
    moments all = add_up(view);
    gsl_matrix_view matrix = gsl_matrix_view_array(all.matrix, PLANE, PLANE);
    const gsl_vector_const_view right = gsl_vector_const_view_array(all.right, PLANE);
    gsl_vector_view solved = gsl_vector_view_array(plane, PLANE);
    if (all.count < FEWEST || gsl_linalg_cholesky_decomp1(&matrix.matrix) != GSL_SUCCESS ||
        gsl_linalg_cholesky_solve(&matrix.matrix, &right.vector, &solved.vector) != GSL_SUCCESS)
        return NAN;
    for (int i = 0; i < PLANE; i++)
        explained += plane[i] * all.right[i];
    return sqrt(fmax(all.squares - explained, 0) / (double)(all.count - PLANE));
}

static tdm_code look(const tdm_quality_input *input, double x, double y, double half, double *squares,
                     int *count, tdm_error *error)
{
    tdm_view view;
    const tdm_code code = tdm_view_make(input, x, y, fmin(half, most_half), &view, error);
    if (code != TDM_OK)
        return code;
    const double sigma = view.light ? scatter(&view) : NAN;
    tdm_view_free(&view);
    if (isfinite(sigma)) {
        *squares += sigma * sigma;
        ++*count;
    }
    return TDM_OK;
}

static tdm_code on_target(const tdm_quality_input *input, double *squares, int *count, tdm_error *error)
{
    tdm_homography map;
    if (!tdm_homography_make(TDM_TARGET_COLUMNS - 1 + patch_side, TDM_TARGET_ROWS - 1 + patch_side,
                             input->corners, &map))
        return TDM_OK;
    for (size_t i = 0; i < sizeof dark / sizeof dark[0]; i++) {
        const double u = dark[i] % TDM_TARGET_COLUMNS + patch_side / 2;
        const double v = dark[i] / TDM_TARGET_COLUMNS + patch_side / 2;
        double x, y, right[2], below[2];
        tdm_homography_at(&map, u, v, &x, &y);
        tdm_homography_at(&map, u + looked_at, v, &right[0], &right[1]);
        tdm_homography_at(&map, u, v + looked_at, &below[0], &below[1]);
        /* However the target is turned, an upright square of this size lies in the patch. */
        const double half =
            fmin(hypot(right[0] - x, right[1] - y), hypot(below[0] - x, below[1] - y)) / sqrt(2);
        const tdm_code code = look(input, x, y, half, squares, count, error);
        if (code != TDM_OK)
            return code;
    }
    return TDM_OK;
}

/* A grey card's middle: its vertices' mean. */
static tdm_code on_greys(const tdm_quality_input *input, double *squares, int *count, tdm_error *error)
{
    for (size_t i = 0; i < input->marks->grey_count; i++) {
        const tdm_polyline *polygon = &input->marks->greys[i].polygon;
        double x = 0, y = 0, nearest = INFINITY;
        for (size_t k = 0; k < polygon->count; k++) {
            x += polygon->xy[2 * k] / (double)polygon->count;
            y += polygon->xy[2 * k + 1] / (double)polygon->count;
        }
        for (size_t k = 0, j = polygon->count - 1; k < polygon->count; j = k++) {
            const double *a = polygon->xy + 2 * j, *b = polygon->xy + 2 * k;
            const double length = hypot(b[0] - a[0], b[1] - a[1]);
            if (length > 0)
                nearest =
                    fmin(nearest, fabs((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / length);
        }
        const tdm_code code = look(input, x, y, part_of_grey * 2 * nearest / sqrt(2), squares, count, error);
        if (code != TDM_OK)
            return code;
    }
    return TDM_OK;
}

tdm_code tdm_quality_noise(const tdm_quality_input *input, double *lstar, tdm_error *error)
{
    double squares = 0;
    int count = 0;
    tdm_code code = TDM_OK;
    if (input->corners)
        code = on_target(input, &squares, &count, error);
    if (code == TDM_OK && count == 0)
        code = on_greys(input, &squares, &count, error);
    *lstar = count > 0 ? sqrt(squares / count) : NAN;
    return code;
}
