/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_field.h"

#include <gsl/gsl_math.h>
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/strand_tensor.h"

static const double near_mm = 3, wide_mm = 10; /* Gaussians over which neighbours are heard */
static const double wide_share = 0.03;         /* the wide one's voice where the near one has a direction */
static const double steepest = M_PI / 3;       /* off the way along; beyond it what is seen isn't strands */
static const double chance_coherence = 0.14;   /* what noise reaches over the near Gaussian */
static const double follow_mm = 1;

/* Near 0 where noise has that much coherence, near 1 from twice that on. */
static double trust(double coherence)
{
    const double over = gsl_pow_4(coherence / chance_coherence);
    return over / (1 + over);
}

/* Silences nodes that say nothing or what strands can't do. */
static void weigh_nodes(tdm_tensor *nodes, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        tdm_tensor *node = nodes + i;
        const bool possible = fabs(tdm_tensor_angle(node)) <= steepest;
        const double weight = possible ? trust(tdm_tensor_coherence(node)) : 0;
        *node = (tdm_tensor){weight * node->ss, weight * node->st, weight * node->tt};
    }
}

static void read_nodes(const tdm_tensor *nodes, const double *coherence, tdm_strand_field *field)
{
    for (size_t i = 0; i < field->rows * field->cols; i++) {
        const double angle = fmin(fmax(tdm_tensor_angle(nodes + i), -steepest), steepest);
        field->slope[i] = tan(angle) * trust(tdm_tensor_coherence(nodes + i));
        field->coherence[i] = coherence[i];
    }
}

/* Near means, freed of what strands can't do; then wide ones fill what that left. */
static tdm_code settle(const tdm_tensor_grid *raw, double unit, tdm_tensor *near, tdm_tensor *all,
                       tdm_strand_field *field, tdm_error *error)
{
    const size_t count = raw->rows * raw->cols;
    tdm_code code = tdm_tensor_spread(raw, near_mm / unit, 1, near, error);
    if (code != TDM_OK)
        return code;
    for (size_t i = 0; i < count; i++)
        field->coherence[i] = tdm_tensor_coherence(near + i);
    weigh_nodes(near, count);
    for (size_t i = 0; i < count; i++)
        all[i] = near[i];
    const tdm_tensor_grid told = {.rows = raw->rows, .cols = raw->cols, .step = raw->step, .node = near};
    code = tdm_tensor_spread(&told, wide_mm / unit, wide_share, all, error);
    if (code == TDM_OK)
        read_nodes(all, field->coherence, field);
    return code;
}

tdm_code tdm_strand_field_make(const tdm_strip *strip, tdm_strand_field *out, tdm_error *error)
{
    tdm_tensor_grid raw = {0};
    tdm_code code = tdm_tensor_grid_make(strip, &raw, error);
    if (code != TDM_OK)
        return code;
    tdm_tensor_even(&raw);
    const size_t count = raw.rows * raw.cols;
    tdm_strand_field field = {.rows = raw.rows, .cols = raw.cols, .step = raw.step};
    field.slope = calloc(count + 1, sizeof *field.slope);
    field.coherence = calloc(count + 1, sizeof *field.coherence);
    tdm_tensor *near = calloc(2 * count + 1, sizeof *near);
    code = field.slope && field.coherence && near ? TDM_OK : tdm_fail_memory(error, NULL);
    if (code == TDM_OK)
        code = settle(&raw, raw.step, near, near + count, &field, error);
    free(near);
    tdm_tensor_grid_free(&raw);
    if (code != TDM_OK) {
        tdm_strand_field_free(&field);
        return code;
    }
    *out = field;
    return TDM_OK;
}

void tdm_strand_field_free(tdm_strand_field *field)
{
    free(field->slope);
    free(field->coherence);
    *field = (tdm_strand_field){0};
}

/* The node before a place and how far on towards the next it is. */
static size_t node_at(double place, double step, size_t count, double *part)
{
    const double at = fmin(fmax(place / step - 0.5, 0), (double)count - 1);
    const size_t first = count > 1 ? (size_t)fmin(at, (double)count - 2) : 0;
    *part = at - (double)first;
    return first;
}

double tdm_strand_field_slope(const tdm_strand_field *field, double along, double across)
{
    if (field->rows == 0 || field->cols == 0)
        return 0;
    double down, over;
    const size_t row = node_at(along, field->step, field->rows, &down);
    const size_t col = node_at(across, field->step, field->cols, &over);
    const size_t right = field->cols > 1, below = field->rows > 1 ? field->cols : 0;
    const double *at = field->slope + row * field->cols + col;
    const double upper = at[0] + over * (at[right] - at[0]);
    const double lower = at[below] + over * (at[below + right] - at[below]);
    return upper + down * (lower - upper);
}

double tdm_strand_field_follow(const tdm_strand_field *field, double along, double across, double to)
{
    const double steps = fmax(ceil(fabs(to - along) / fmax(follow_mm, field->step)), 1);
    const double step = (to - along) / steps;
    for (double i = 0; i < steps; i += 1) { /* midpoint rule */
        const double from = along + i * step;
        const double middle = across + 0.5 * step * tdm_strand_field_slope(field, from, across);
        across += step * tdm_strand_field_slope(field, from + 0.5 * step, middle);
    }
    return across;
}
