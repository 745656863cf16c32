/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The spread of the picture, both ways and the diagonal, from the 38 gaps between the target's patches and
 * the 60 corners where they cross. */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/target.h"
#include "measure/quality_edges.h"

enum { ROWS = TDM_TARGET_ROWS, COLUMNS = TDM_TARGET_COLUMNS, FEWEST_GAPS = 5, FEWEST_CORNERS = 6 };
/* In units of the pitch; the gap's width as where the target's corners are used elsewhere. */
static const double patch_side = 0.85, reach_share = 0.25, length_share = 0.45, corner_share = 0.12;
static const double most_reach = 60, most_length = 64; /* px */

/* The Gaussian step that is nearest in squares to an even ramp has its length squared over this as variance
 * (found numerically; the ramp's own is over 12). */
static const double ramp = 9.776;

static const double pixel = 1.0 / 12; /* px²: no edge is sharper than a pixel is wide */

/* Values and what they come to. */
typedef struct heap {
    double values[ROWS * COLUMNS * 4];
    size_t count;
} heap;

typedef struct grid {
    const tdm_quality_input *input;
    tdm_homography map;
    tdm_gap left_right[ROWS][COLUMNS - 1], up_down[ROWS - 1][COLUMNS];
} grid;

static int compare(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Sorts. */
static double median(heap *all)
{
    if (all->count == 0)
        return NAN;
    qsort(all->values, all->count, sizeof all->values[0], compare);
    return (all->values[(all->count - 1) / 2] + all->values[all->count / 2]) / 2;
}

/* Median and its standard uncertainty by the median deviation: sqrt(pi / 2) times that of a mean. */
static double middle(heap *all, double *u)
{
    const double value = median(all);
    heap away = {.count = all->count};
    for (size_t i = 0; i < all->count; i++)
        away.values[i] = fabs(all->values[i] - value);
    *u = 1.2533 * 1.4826 * median(&away) / sqrt((double)all->count);
    return value;
}

static tdm_code fit_gap(const grid *all, double u, double v, bool up_down, tdm_gap *gap, tdm_error *error)
{
    const double half = (1 - patch_side) / 2, side = length_share / 2;
    double a[2], b[2], near[2], far[2];
    tdm_homography_at(&all->map, u, v, &gap->x, &gap->y);
    tdm_homography_at(&all->map, up_down ? u - side : u, up_down ? v : v - side, &a[0], &a[1]);
    tdm_homography_at(&all->map, up_down ? u + side : u, up_down ? v : v + side, &b[0], &b[1]);
    tdm_homography_at(&all->map, up_down ? u : u - half, up_down ? v - half : v, &near[0], &near[1]);
    tdm_homography_at(&all->map, up_down ? u : u + half, up_down ? v + half : v, &far[0], &far[1]);
    const double length = hypot(b[0] - a[0], b[1] - a[1]);
    double n[2] = {(b[1] - a[1]) / length, (a[0] - b[0]) / length};
    const double width = n[0] * (far[0] - near[0]) + n[1] * (far[1] - near[1]);
    for (int i = 0; i < 2; i++)
        gap->normal[i] = width < 0 ? -n[i] : n[i];
    gap->from = -fabs(width) / 2;
    gap->to = fabs(width) / 2;
    const double reach = fmin(reach_share * fabs(width) / (1 - patch_side), most_reach);
    tdm_view view;
    tdm_code code = tdm_view_make(all->input, gap->x, gap->y, hypot(reach + fabs(width) / 2, length / 2) + 1,
                                  &view, error);
    if (code == TDM_OK)
        code = tdm_gap_fit(&view, reach, fmin(length, most_length), gap, error);
    tdm_view_free(&view);
    return code;
}

static tdm_code fit_gaps(grid *all, tdm_error *error)
{
    tdm_code code = TDM_OK;
    for (int row = 0; row < ROWS; row++) {
        for (int column = 0; column < COLUMNS; column++) {
            const double u = column + patch_side / 2, v = row + patch_side / 2;
            if (code == TDM_OK && column < COLUMNS - 1)
                code = fit_gap(all, u + 0.5, v, false, &all->left_right[row][column], error);
            if (code == TDM_OK && row < ROWS - 1)
                code = fit_gap(all, u, v + 0.5, true, &all->up_down[row][column], error);
        }
    }
    return code;
}

/* Mean normal and median variance of one direction's gaps. */
static bool join(const tdm_gap *gaps, size_t count, double normal[2], double *variance, double *u)
{
    heap all = {0};
    normal[0] = normal[1] = 0;
    for (size_t i = 0; i < count; i++) {
        if (!gaps[i].fitted)
            continue;
        all.values[all.count++] = gaps[i].sigma * gaps[i].sigma;
        normal[0] += gaps[i].normal[0];
        normal[1] += gaps[i].normal[1];
    }
    const double length = hypot(normal[0], normal[1]);
    if (all.count < FEWEST_GAPS || !(length > 0))
        return false;
    normal[0] /= length;
    normal[1] /= length;
    *variance = middle(&all, u);
    return true;
}

static tdm_code look_at_crossing(const grid *all, int row, int column, heap signs[2], tdm_error *error)
{
    const tdm_crossing crossing = {
        .left_right = {&all->left_right[row][column], &all->left_right[row + 1][column]},
        .up_down = {&all->up_down[row][column], &all->up_down[row][column + 1]}};
    const tdm_gap *upper = crossing.left_right[0], *lower = crossing.left_right[1];
    const tdm_gap *left = crossing.up_down[0], *right = crossing.up_down[1];
    const double x = (upper->x + lower->x + left->x + right->x) / 4;
    const double y = (upper->y + lower->y + left->y + right->y) / 4;
    const double pitch = hypot(upper->x - lower->x, upper->y - lower->y);
    const double reach = fmin(corner_share * pitch, most_reach);
    tdm_view view;
    const tdm_code code = tdm_view_make(all->input, x, y, 1.5 * (reach + 0.1 * pitch) + 2, &view, error);
    for (int corner = 0; code == TDM_OK && corner < 4; corner++) {
        heap *sign = &signs[corner == 1 || corner == 2];
        sign->count += tdm_corner_covariance(&view, &crossing, corner, reach, &sign->values[sign->count]);
    }
    tdm_view_free(&view);
    return code;
}

/* 0 where the corners don't tell. */
static tdm_code covariance_of(const grid *all, double *covariance, double *u, tdm_error *error)
{
    heap signs[2] = {{.count = 0}, {.count = 0}};
    for (int row = 0; row < ROWS - 1; row++) {
        for (int column = 0; column < COLUMNS - 1; column++) {
            const tdm_code code = look_at_crossing(all, row, column, signs, error);
            if (code != TDM_OK)
                return code;
        }
    }
    *covariance = *u = 0;
    if (signs[0].count < FEWEST_CORNERS || signs[1].count < FEWEST_CORNERS)
        return TDM_OK;
    double u_plus, u_minus;
    *covariance = (middle(&signs[0], &u_plus) + middle(&signs[1], &u_minus)) / 2;
    *u = hypot(u_plus, u_minus) / 2;
    return TDM_OK;
}

/* From variances along two normals and their covariance to the axes of the spread. */
static void turn(const double n[2], const double m[2], double nn, double mm, double nm, tdm_edge_spread *out)
{
    const double det = n[0] * m[1] - n[1] * m[0];
    const double xx = (m[1] * m[1] * nn - 2 * m[1] * n[1] * nm + n[1] * n[1] * mm) / (det * det);
    const double yy = (m[0] * m[0] * nn - 2 * m[0] * n[0] * nm + n[0] * n[0] * mm) / (det * det);
    const double xy = (-m[0] * m[1] * nn + (m[1] * n[0] + m[0] * n[1]) * nm - n[0] * n[1] * mm) / (det * det);
    const double half = hypot((xx - yy) / 2, xy), centre = (xx + yy) / 2;
    const double degrees = -atan2(2 * xy, xx - yy) * 90 / 3.14159265358979323846; /* y points down */
    out->sharp = sqrt(fmax(centre - half, pixel));
    out->smeared = sqrt(fmax(centre + half, 0));
    out->direction = degrees < 0 ? degrees + 180 : degrees;
}

/* Variance along one direction. together: the gaps have run into one another, and it is at least so much. */
static bool along(const tdm_gap *gaps, size_t count, double normal[2], double *variance, double *u,
                  bool *together)
{
    size_t seen = 0, blurred = 0;
    double width = 0;
    for (size_t i = 0; i < count; i++) {
        seen += gaps[i].fitted;
        blurred += gaps[i].run_together;
        width += gaps[i].run_together ? gaps[i].to - gaps[i].from : 0;
    }
    *together = blurred >= FEWEST_GAPS && blurred > seen;
    if (!*together)
        return join(gaps, count, normal, variance, u);
    const double least = tdm_gap_widest * width / (double)blurred;
    normal[0] = gaps[0].normal[0];
    normal[1] = gaps[0].normal[1];
    *variance = least * least;
    *u = 0;
    return true;
}

static tdm_code spread_of(grid *all, tdm_edge_spread *out, tdm_error *error)
{
    double n[2], m[2], nn, mm, nm = 0, u_nn, u_mm, u_nm = 0;
    bool across, down;
    tdm_code code = fit_gaps(all, error);
    if (code != TDM_OK ||
        !along(all->left_right[0], sizeof all->left_right / sizeof(tdm_gap), n, &nn, &u_nn, &across) ||
        !along(all->up_down[0], sizeof all->up_down / sizeof(tdm_gap), m, &mm, &u_mm, &down))
        return code;
    if (across && down) {
        out->sharp = sqrt(fmin(nn, mm));
        return TDM_OK;
    }
    if (!across && !down)
        code = covariance_of(all, &nm, &u_nm, error);
    if (code != TDM_OK)
        return code;
    turn(n, m, nn, mm, nm, out);
    out->u_extra = sqrt(u_nn * u_nn + u_mm * u_mm + 4 * u_nm * u_nm);
    return TDM_OK;
}

double tdm_smear_length(const tdm_edge_spread *spread)
{
    const double extra = spread->smeared * spread->smeared - spread->sharp * spread->sharp;
    return extra < 0 ? 0 : sqrt(ramp * extra);
}

tdm_code tdm_spread_of_target(const tdm_quality_input *input, tdm_edge_spread *out, tdm_error *error)
{
    *out = (tdm_edge_spread){NAN, NAN, NAN, NAN};
    grid *all = calloc(1, sizeof *all);
    if (!all)
        return tdm_fail_memory(error, NULL);
    all->input = input;
    tdm_code code = TDM_OK;
    if (tdm_homography_make(COLUMNS - 1 + patch_side, ROWS - 1 + patch_side, input->corners, &all->map))
        code = spread_of(all, out, error);
    free(all);
    return code;
}
