/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_tensor.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/strand_gradient.h"

static const double node_mm = 1;
/* Contrast counts up to here in full, in shares of the mean over the strip: a line must not outvote strands,
 * nor noise count like them. */
static const double usual_contrast = 0.1;

double tdm_tensor_angle(const tdm_tensor *of)
{
    return 0.5 * atan2(-2 * of->st, of->tt - of->ss);
}

double tdm_tensor_coherence(const tdm_tensor *of)
{
    const double trace = of->ss + of->tt;
    return trace > 0 ? hypot(of->tt - of->ss, 2 * of->st) / trace : 0;
}

/* Beside a hole or the edge a gradient is half made up, and counts less. */
static void add_row(const tdm_strip *strip, const uint8_t *use, const tdm_gradient_row *row, size_t per,
                    tdm_tensor *nodes)
{
    for (size_t j = 0; j < strip->cols; j++) {
        const double sure = fmax(2 * (double)row->use[j] - 1, 0), weight = sure * sure;
        if (!use[j] || weight <= 0)
            continue;
        const double s = (double)row->along[j], t = (double)row->across[j];
        tdm_tensor *node = nodes + j / per;
        node->ss += weight * s * s;
        node->st += weight * s * t;
        node->tt += weight * t * t;
    }
}

void tdm_tensor_even(tdm_tensor_grid *grid)
{
    double sum = 0, count = 0;
    for (size_t i = 0; i < grid->rows * grid->cols; i++) {
        const double trace = grid->node[i].ss + grid->node[i].tt;
        sum += trace;
        count += trace > 0;
    }
    const double least = count > 0 ? usual_contrast * sum / count : 0;
    for (size_t i = 0; i < grid->rows * grid->cols; i++) {
        tdm_tensor *node = grid->node + i;
        const double over = node->ss + node->tt + least;
        if (over > 0)
            *node = (tdm_tensor){node->ss / over, node->st / over, node->tt / over};
    }
}

tdm_code tdm_tensor_grid_make(const tdm_strip *strip, tdm_tensor_grid *out, tdm_error *error)
{
    const size_t per = (size_t)fmax(node_mm / strip->cell + 0.5, 1);
    tdm_tensor_grid grid = {.rows = (strip->rows + per - 1) / per,
                            .cols = (strip->cols + per - 1) / per,
                            .step = (double)per * strip->cell};
    tdm_gradient gradient = {0};
    grid.node = calloc(grid.rows * grid.cols + 1, sizeof *grid.node);
    tdm_code code = grid.node ? tdm_gradient_make(strip, &gradient, error) : tdm_fail_memory(error, NULL);
    if (code != TDM_OK) {
        tdm_tensor_grid_free(&grid);
        return code;
    }
    for (size_t i = 0; i < strip->rows; i++) {
        const tdm_gradient_row row = tdm_gradient_at(&gradient, i);
        add_row(strip, strip->use + i * strip->cols, &row, per, grid.node + i / per * grid.cols);
    }
    tdm_gradient_free(&gradient);
    *out = grid;
    return TDM_OK;
}

void tdm_tensor_grid_free(tdm_tensor_grid *grid)
{
    free(grid->node);
    *grid = (tdm_tensor_grid){0};
}

static void add_share(tdm_tensor *to, double share, const tdm_tensor *from)
{
    to->ss += share * from->ss;
    to->st += share * from->st;
    to->tt += share * from->tt;
}

/* One line of `count` nodes, `stride` apart. weight: reach + 1, of distance 0 first. */
static void spread_line(const tdm_tensor *from, size_t count, size_t stride, const double *weight,
                        size_t reach, double share, tdm_tensor *to)
{
    for (size_t i = 0; i < count; i++) {
        const size_t first = i > reach ? i - reach : 0, last = i + reach < count ? i + reach : count - 1;
        for (size_t k = first; k <= last; k++)
            add_share(to + i * stride, share * weight[k > i ? k - i : i - k], from + k * stride);
    }
}

tdm_code tdm_tensor_spread(const tdm_tensor_grid *from, double sigma, double share, tdm_tensor *out,
                           tdm_error *error)
{
    const size_t reach = (size_t)ceil(3 * sigma);
    double *weight = malloc((reach + 1) * sizeof *weight);
    tdm_tensor *between = calloc(from->rows * from->cols + 1, sizeof *between);
    tdm_code code = weight && between ? TDM_OK : tdm_fail_memory(error, NULL);
    if (code == TDM_OK) {
        double sum = 0;
        for (size_t k = 0; k <= reach; k++) {
            weight[k] = exp(-0.5 * (double)(k * k) / (sigma * sigma));
            sum += k ? 2 * weight[k] : weight[k];
        }
        for (size_t k = 0; k <= reach; k++)
            weight[k] /= sum;
        for (size_t i = 0; i < from->rows; i++)
            spread_line(from->node + i * from->cols, from->cols, 1, weight, reach, 1,
                        between + i * from->cols);
        for (size_t j = 0; j < from->cols; j++)
            spread_line(between + j, from->rows, from->cols, weight, reach, share, out + j);
    }
    free(weight);
    free(between);
    return code;
}
