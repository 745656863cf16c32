/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/scielab_blur.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"

/* Taps reach so many standard deviations: what is cut off is 6e-5 of the whole. */
static const double reach_sigmas = 4;
/* Wide Gaussians are taken on coarser grids, of cells a third of their standard deviation, unless that leaves
 * fewer cells than this along an axis. */
static const double sigmas_a_cell = 1.0 / 3;
enum { FEWEST_CELLS = 24 };

/* One axis of a Gaussian: weights of a cell and of its neighbours to one side. */
typedef struct taps {
    size_t reach;
    float *weight; /* reach + 1, of distance 0 first; both sides together sum to 1 */
} taps;

/* Sampled, a Gaussian has its variance to within 0.3 % from 0.35 up; below, three taps with that variance
 * follow its response more closely. most: as many neighbours as there are. */
static bool make_taps(double variance, size_t most, taps *out)
{
    static const double sampled_from = 0.35;
    const double reach = variance < sampled_from ? 1 : ceil(reach_sigmas * sqrt(variance));
    out->reach = reach < (double)most ? (size_t)reach : most;
    out->weight = malloc((out->reach + 1) * sizeof *out->weight);
    if (!out->weight)
        return false;
    double sum = 0;
    for (size_t k = 0; k <= out->reach; k++) {
        const double far = (double)k;
        const double weight = variance >= sampled_from ? exp(-0.5 * far * far / variance)
                              : k > 0                  ? 0.5 * fmax(variance, 0)
                                                       : 1 - fmax(variance, 0);
        out->weight[k] = (float)weight;
        sum += k ? 2 * weight : weight;
    }
    for (size_t k = 0; k <= out->reach; k++)
        out->weight[k] = (float)((double)out->weight[k] / sum);
    return true;
}

/* Sums of a run of cells with their neighbours k before and behind: before[k] and behind[k] point at those of
 * the run's first cell. RUN cells at a time stay in registers. */
enum { RUN = 16 };

static void sum_run(const float *const *before, const float *const *behind, const taps *along, size_t first,
                    float *to)
{
    float sum[RUN];
    for (size_t i = 0; i < RUN; i++)
        sum[i] = along->weight[0] * before[0][first + i];
    for (size_t k = 1; k <= along->reach; k++) {
        const float weight = along->weight[k], *one = before[k] + first, *other = behind[k] + first;
        for (size_t i = 0; i < RUN; i++)
            sum[i] += weight * (one[i] + other[i]);
    }
    for (size_t i = 0; i < RUN; i++)
        to[first + i] = sum[i];
}

/* Scratch of one convolution: planes and rows with room for a whole number of runs. */
typedef struct scratch {
    size_t stride;                  /* of `between` */
    float *between;                 /* rows * stride */
    float *row;                     /* a row with `reach` zeros before and behind it */
    float *none;                    /* stride zeros: a row past the edge */
    const float **before, **behind; /* the longer reach + 1 */
} scratch;

static void scratch_free(scratch *use)
{
    free(use->between);
    free(use->row);
    free(use->none);
    free(use->before);
    free(use->behind);
}

static bool scratch_make(const tdm_grid *grid, const taps *down, const taps *over, scratch *out)
{
    const size_t reach = (down->reach > over->reach ? down->reach : over->reach) + 1;
    const size_t stride = (grid->cols + RUN - 1) / RUN * RUN;
    *out = (scratch){.stride = stride};
    out->between = calloc(grid->rows * stride, sizeof *out->between);
    out->row = calloc(stride + 2 * reach, sizeof *out->row);
    out->none = calloc(2 * stride, sizeof *out->none);
    out->before = calloc(reach, sizeof *out->before);
    out->behind = calloc(reach, sizeof *out->behind);
    return out->between && out->row && out->none && out->before && out->behind;
}

/* Cells past the edges count as 0. Along the rows first, then along the columns. */
static void convolve(float *plane, const tdm_grid *grid, const taps *down, const taps *over, scratch *use)
{
    float *middle = use->row + over->reach, *line = use->none + use->stride;
    for (size_t k = 0; k <= over->reach; k++) {
        use->before[k] = middle - k;
        use->behind[k] = middle + k;
    }
    for (size_t i = 0; i < grid->rows; i++) {
        memcpy(middle, plane + i * grid->cols, grid->cols * sizeof *middle);
        for (size_t j = 0; j < use->stride; j += RUN)
            sum_run(use->before, use->behind, over, j, use->between + i * use->stride);
    }
    for (size_t i = 0; i < grid->rows; i++) {
        for (size_t k = 0; k <= down->reach; k++) {
            use->before[k] = i >= k ? use->between + (i - k) * use->stride : use->none;
            use->behind[k] = i + k < grid->rows ? use->between + (i + k) * use->stride : use->none;
        }
        for (size_t j = 0; j < use->stride; j += RUN)
            sum_run(use->before, use->behind, down, j, line);
        memcpy(plane + i * grid->cols, line, grid->cols * sizeof *line);
    }
}

/* Of a grid whose cells are down by over cells of the first: blur in place, and divide. */
static tdm_code blur_here(tdm_grid *grid, double sigma, size_t down, size_t over, tdm_error *error)
{
    const double tall = (double)(down * down), wide = (double)(over * over);
    /* Off the variance comes what is blurred already, then by the blocks, and on average by the interpolation
     * back. */
    const double wanted = sigma * sigma - grid->blurred;
    const double down_left = (wanted - (tall - 1) / 12) / tall - (down > 1 ? 1.0 / 6 : 0);
    const double over_left = (wanted - (wide - 1) / 12) / wide - (over > 1 ? 1.0 / 6 : 0);
    taps vertical = {0}, horizontal = {0};
    scratch use = {0};
    const bool made = make_taps(down_left, grid->rows - 1, &vertical) &&
                      make_taps(over_left, grid->cols - 1, &horizontal) &&
                      scratch_make(grid, &vertical, &horizontal, &use);
    if (made) {
        convolve(grid->sum, grid, &vertical, &horizontal, &use);
        convolve(grid->share, grid, &vertical, &horizontal, &use);
        for (size_t i = 0; i < grid->rows * grid->cols; i++)
            grid->sum[i] = grid->share[i] > 0 ? grid->sum[i] / grid->share[i] : 0;
    }
    scratch_free(&use);
    free(vertical.weight);
    free(horizontal.weight);
    return made ? TDM_OK : tdm_fail_memory(error, NULL);
}

/* The coarse cell before a place and how far on towards the next it is; past the outer middles the line
 * through the last two goes on. */
static size_t coarse_at(size_t fine, size_t factor, size_t count, float *part)
{
    *part = 0;
    if (count < 2)
        return 0;
    const double place = ((double)fine + 0.5) / (double)factor - 0.5;
    const double first = fmin(fmax(floor(place), 0), (double)count - 2);
    *part = (float)(place - first);
    return (size_t)first;
}

/* Linear between the middles of coarse cells. A used cell's four are all within a Gaussian's reach of it. */
static void enlarge(const tdm_grid *coarse, size_t down, size_t over, size_t rows, size_t cols,
                    size_t *column, float *part, float *out)
{
    if (down == 1 && over == 1) {
        memcpy(out, coarse->sum, rows * cols * sizeof *out);
        return;
    }
    const size_t next_col = coarse->cols > 1, next_row = coarse->rows > 1 ? coarse->cols : 0;
    for (size_t j = 0; j < cols; j++)
        column[j] = coarse_at(j, over, coarse->cols, part + j);
    for (size_t i = 0; i < rows; i++) {
        float below;
        const float *row = coarse->sum + coarse_at(i, down, coarse->rows, &below) * coarse->cols;
        for (size_t j = 0; j < cols; j++) {
            const float *at = row + column[j];
            const float upper = at[0] + part[j] * (at[next_col] - at[0]);
            const float lower = at[next_row] + part[j] * (at[next_row + next_col] - at[next_row]);
            out[i * cols + j] = upper + below * (lower - upper);
        }
    }
}

static size_t coarser(double sigma, size_t cells)
{
    const double most = fmax((double)(cells / FEWEST_CELLS), 1);
    return (size_t)fmin(fmax(floor(sigma * sigmas_a_cell), 1), most);
}

tdm_code tdm_grid_blur(const tdm_grid *grid, double sigma, float *out, tdm_error *error)
{
    const size_t down = coarser(sigma, grid->rows), over = coarser(sigma, grid->cols);
    tdm_grid coarse = {0};
    size_t *column = malloc(grid->cols * sizeof *column);
    float *part = malloc(grid->cols * sizeof *part);
    tdm_code code =
        column && part ? tdm_grid_shrink(grid, down, over, &coarse, error) : tdm_fail_memory(error, NULL);
    if (code == TDM_OK)
        code = blur_here(&coarse, sigma, down, over, error);
    if (code == TDM_OK)
        enlarge(&coarse, down, over, grid->rows, grid->cols, column, part, out);
    tdm_grid_free(&coarse);
    free(column);
    free(part);
    return code;
}
