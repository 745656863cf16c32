/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/scielab_grid.h"

#include <stdlib.h>
#include <string.h>

#include "base/fail.h"

void tdm_grid_free(tdm_grid *grid)
{
    free(grid->sum);
    free(grid->share);
    *grid = (tdm_grid){0};
}

static bool allocate(size_t rows, size_t cols, double blurred, tdm_grid *out)
{
    *out = (tdm_grid){.rows = rows, .cols = cols, .blurred = blurred};
    out->sum = calloc(rows * cols, sizeof *out->sum);
    out->share = calloc(rows * cols, sizeof *out->share);
    return out->sum && out->share;
}

static void shrink_plane(const float *from, size_t rows, size_t cols, size_t down, size_t over, double *line,
                         float *to)
{
    const size_t wide = (cols + over - 1) / over;
    for (size_t first = 0; first < rows; first += down, to += wide) {
        const size_t past = first + down < rows ? first + down : rows;
        for (size_t j = 0; j < wide; j++)
            line[j] = 0;
        for (size_t i = first; i < past; i++) {
            const float *row = from + i * cols;
            for (size_t j = 0; j < wide; j++) {
                const size_t end = (j + 1) * over < cols ? (j + 1) * over : cols;
                float part = 0;
                for (size_t k = j * over; k < end; k++)
                    part += row[k];
                line[j] += (double)part;
            }
        }
        for (size_t j = 0; j < wide; j++)
            to[j] = (float)(line[j] / (double)(down * over)); /* what lies past the edge isn't used */
    }
}

tdm_code tdm_grid_shrink(const tdm_grid *grid, size_t down, size_t over, tdm_grid *out, tdm_error *error)
{
    tdm_grid made;
    double *line = malloc(((grid->cols + over - 1) / over) * sizeof *line);
    if (!allocate((grid->rows + down - 1) / down, (grid->cols + over - 1) / over, grid->blurred, &made) ||
        !line) {
        free(line);
        tdm_grid_free(&made);
        return tdm_fail_memory(error, NULL);
    }
    if (down == 1 && over == 1) {
        memcpy(made.sum, grid->sum, grid->rows * grid->cols * sizeof *made.sum);
        memcpy(made.share, grid->share, grid->rows * grid->cols * sizeof *made.share);
    } else {
        shrink_plane(grid->sum, grid->rows, grid->cols, down, over, line, made.sum);
        shrink_plane(grid->share, grid->rows, grid->cols, down, over, line, made.share);
    }
    free(line);
    *out = made;
    return TDM_OK;
}

/* How a fine cell is shared between the coarse cell whose middle lies before it and the next. */
typedef struct share {
    size_t next; /* coarse cell + 1, so that none lies before the first */
    float to_next;
} share;

static share share_of(size_t fine, size_t factor)
{
    const double place = ((double)fine + 0.5) / (double)factor + 0.5;
    const size_t next = (size_t)place;
    return (share){.next = next, .to_next = (float)(place - (double)next)};
}

static void add_row(float *restrict to, const float *restrict from, float weight, size_t count)
{
    for (size_t j = 0; j < count; j++)
        to[j] += weight * from[j];
}

/* lines: rows of fine columns for the coarse cell before and for the next. */
static void thin_row(const float *line, size_t cols, size_t factor, float *to, size_t wide)
{
    const float whole = (float)(factor * factor);
    for (size_t j = 0; j < cols; j++) {
        const share at = share_of(j, factor);
        if (at.next > 0)
            to[at.next - 1] += (1 - at.to_next) * line[j] / whole;
        if (at.next < wide)
            to[at.next] += at.to_next * line[j] / whole;
    }
}

static void thin_plane(const float *from, size_t rows, size_t cols, size_t factor, float *line, float *to)
{
    const size_t wide = (cols + factor - 1) / factor, tall = (rows + factor - 1) / factor;
    for (size_t i = 0; i < tall; i++) {
        const size_t middle = i * factor + factor / 2; /* the block's, or the cell after it */
        const size_t first = middle > factor ? middle - factor : 0;
        memset(line, 0, cols * sizeof *line);
        for (size_t k = first; k <= middle + factor && k < rows; k++) {
            const share at = share_of(k, factor);
            const float weight = at.next == i + 1 ? 1 - at.to_next : at.next == i ? at.to_next : 0;
            if (weight > 0)
                add_row(line, from + k * cols, weight, cols);
        }
        thin_row(line, cols, factor, to + i * wide, wide);
    }
}

/* Of the weights' places about a coarse cell's middle, and of the fine cells' own blur. */
static double thinned_blur(const tdm_grid *grid, size_t factor)
{
    double variance = 0, weights = 0;
    for (size_t k = 0; k < 2 * factor; k++) {
        const double wide = (double)factor;
        const double far = ((double)k + 0.5 - (factor % 2 ? 0.5 : 0) - wide) / wide;
        const double weight = far < 0 ? 1 + far : 1 - far;
        variance += weight * far * far;
        weights += weight;
    }
    return variance / weights + grid->blurred / (double)(factor * factor);
}

tdm_code tdm_grid_thin(const tdm_grid *grid, size_t factor, tdm_grid *out, tdm_error *error)
{
    if (factor == 1)
        return tdm_grid_shrink(grid, 1, 1, out, error);
    tdm_grid made;
    float *line = malloc(grid->cols * sizeof *line);
    if (!allocate((grid->rows + factor - 1) / factor, (grid->cols + factor - 1) / factor,
                  thinned_blur(grid, factor), &made) ||
        !line) {
        free(line);
        tdm_grid_free(&made);
        return tdm_fail_memory(error, NULL);
    }
    thin_plane(grid->sum, grid->rows, grid->cols, factor, line, made.sum);
    thin_plane(grid->share, grid->rows, grid->cols, factor, line, made.share);
    free(line);
    *out = made;
    return TDM_OK;
}
