/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/spread.h"
#include "measure/strand_tint.h"
#include "measure/strand_unmix.h"

static const double least_sd = 0.3;       /* CIELAB units; below the grid's own noise */
static const double bic_margin = 10;      /* very strong evidence, Kass and Raftery (1995) */
static const double least_separation = 2; /* Ashman's D */
static const double least_share = 0.02;
static const double least_bimodality = 0.5; /* between a normal distribution's 1/3 and an even one's 5/9 */

/* Resamples start where the whole ended, so few rounds do. */
enum { ROUNDS = 400, RESAMPLE_ROUNDS = 20, TURNS = 6 };

static bool two_parts(const tdm_strand_counts *counts, tdm_mixture *out)
{
    const tdm_weighted of = {counts->centre, counts->whole, TDM_TENTHS, least_sd};
    const tdm_normals_limits limits = {.effective = counts->effective,
                                       .margin = bic_margin,
                                       .separation = least_separation,
                                       .share = least_share};
    return counts->total > 0 && tdm_mixture_choose(&of, &limits, out) &&
           tdm_strand_counts_bimodality(counts) >= least_bimodality;
}

/* Pure colours as the fit has them so far. */
static bool unmix_counts(const tdm_strand_counts *counts, const tdm_partial *partial, double light[3],
                         double dark[3])
{
    tdm_unmix sums = {0};
    for (size_t i = 0; i < TDM_TENTHS; i++) {
        if (counts->whole[i] > 0)
            tdm_unmix_add(&sums, tdm_partial_expect(partial, counts->centre[i]), counts->whole[i],
                          counts->xyz + 3 * i);
    }
    return tdm_unmix_solve(&sums, light, dark);
}

static double along(const double axis[3], const double lab[3])
{
    return axis[0] * lab[0] + axis[1] * lab[1] + axis[2] * lab[2];
}

/* A place that is half light hair is more than half as light. */
static void bend(const double axis[3], const double light[3], const double dark[3], tdm_partial *of)
{
    double ends[2][3], mixed[3], lab[3];
    const double low = along(axis, dark), high = along(axis, light);
    tdm_lab_to_xyz(dark, ends[0]);
    tdm_lab_to_xyz(light, ends[1]);
    if (!(high > low))
        return;
    for (size_t k = 1; k <= TDM_PARTIAL_MIXED; k++) {
        const double f = tdm_partial_light(k);
        for (size_t c = 0; c < 3; c++)
            mixed[c] = ends[0][c] + f * (ends[1][c] - ends[0][c]);
        tdm_xyz_to_lab(mixed, lab);
        of->place[k] = fmin(fmax((along(axis, lab) - low) / (high - low), 0), 1);
    }
}

/* Fit, pure colours, and how their mixtures lie between them, in turns; pure light starts `beyond` the mean
 * of the lighter part, as a share of the parts' distance. */
static bool fit_from(const tdm_strand_counts *counts, const double axis[3], double beyond,
                     tdm_strand_parts *out)
{
    const tdm_mixture *mixture = &out->mixture;
    tdm_partial fit = tdm_partial_start(mixture);
    fit.mean[1] += beyond * (mixture->mean[1] - mixture->mean[0]);
    fit.sd = fmax(0.6 * mixture->sd, least_sd);
    for (int turn = 0; turn < TURNS; turn++) {
        if (!unmix_counts(counts, &fit, out->light, out->dark))
            return false;
        bend(axis, out->light, out->dark, &fit);
        if (!tdm_partial_fit(counts->centre, counts->whole, TDM_TENTHS, least_sd, ROUNDS / (turn + 1), &fit,
                             &fit))
            return false;
    }
    out->partial = fit;
    return unmix_counts(counts, &fit, out->light, out->dark);
}

/* Clear ribbons' lighter part is pure light hair, fine ones' a mix: the likelier of both starts. */
static bool fit_partial(const tdm_strand_counts *counts, const double axis[3], tdm_strand_parts *out)
{
    static const double beyond[] = {0, 0.3};
    double best = -INFINITY;
    for (size_t i = 0; i < sizeof beyond / sizeof beyond[0]; i++) {
        tdm_strand_parts trial = *out;
        if (!fit_from(counts, axis, beyond[i], &trial))
            continue;
        const double likelihood =
            tdm_partial_log_likelihood(counts->centre, counts->whole, TDM_TENTHS, &trial.partial);
        if (likelihood > best) {
            best = likelihood;
            *out = trial;
        }
    }
    return isfinite(best);
}

static tdm_code resample(const tdm_measure_input *input, const tdm_strand_counts *counts,
                         tdm_strand_parts *found, tdm_error *error)
{
    const size_t resamples = input->resampling->resamples;
    double *shares = malloc(3 * resamples * sizeof *shares);
    if (!shares)
        return tdm_fail_memory(error, NULL);
    double *distances = shares + resamples, *separations = distances + resamples;
    size_t count = 0;
    for (size_t i = 0; i < resamples; i++) {
        tdm_mixture mixture;
        tdm_partial partial;
        tdm_strand_counts_draw(counts, input->resampling->times + i * input->resampling->blocks);
        if (!tdm_mixture_fit(counts->centre, counts->drawn, TDM_TENTHS, least_sd, &found->mixture,
                             &mixture) ||
            !tdm_partial_fit(counts->centre, counts->drawn, TDM_TENTHS, least_sd, RESAMPLE_ROUNDS,
                             &found->partial, &partial))
            continue;
        shares[count] = tdm_partial_share(&partial);
        distances[count] = mixture.mean[1] - mixture.mean[0];
        separations[count++] = tdm_mixture_separation(&mixture);
    }
    found->share_u = tdm_half_range(shares, count);
    found->distance_u = tdm_half_range(distances, count);
    found->separation_u = tdm_half_range(separations, count);
    free(shares);
    return TDM_OK;
}

tdm_code tdm_strand_parts_fit(const tdm_measure_input *input, const double axis[3],
                              const tdm_strand_counts *counts, tdm_strand_parts *out, tdm_error *error)
{
    *out = (tdm_strand_parts){.share = NAN,
                              .share_u = NAN,
                              .distance_u = NAN,
                              .separation_u = NAN,
                              .middle_share = NAN,
                              .middle_u = NAN};
    if (!two_parts(counts, &out->mixture) || !fit_partial(counts, axis, out) ||
        tdm_is_shade(out->light, out->dark))
        return TDM_OK;
    out->separable = true;
    out->share = tdm_partial_share(&out->partial);
    return resample(input, counts, out, error);
}

tdm_code tdm_strand_parts_of(const tdm_measure_input *input, const tdm_strand_grid *grid,
                             tdm_strand_parts *out, tdm_error *error)
{
    tdm_strand_counts counts;
    tdm_code code = tdm_strand_counts_make(input, grid, &counts, error);
    if (code != TDM_OK)
        return code;
    code = tdm_strand_parts_fit(input, grid->axis, &counts, out, error);
    tdm_strand_counts_free(&counts);
    return code;
}

void tdm_strand_parts_mark(const tdm_strand_parts *parts, const tdm_strand_grid *grid)
{
    for (size_t i = 0; i < grid->windows * grid->cols; i++)
        grid->light[i] =
            isfinite(grid->score[i]) ? tdm_partial_expect(&parts->partial, grid->score[i]) : (double)NAN;
}

bool tdm_strand_unmix(const tdm_strand_grid *grid, double light[3], double dark[3])
{
    tdm_unmix sums = {0};
    for (size_t i = 0; i < grid->windows * grid->cols; i++) {
        double xyz[3];
        if (!isfinite(grid->light[i]))
            continue;
        tdm_lab_to_xyz(grid->lab + 3 * i, xyz);
        tdm_unmix_add(&sums, grid->light[i], 1, xyz);
    }
    return tdm_unmix_solve(&sums, light, dark);
}
