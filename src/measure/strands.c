/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Light and dark strands: whether they are two populations at all, their share, colours and contrast. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/matte.h"
#include "measure/measure.h"
#include "measure/mixture.h"
#include "measure/partial.h"
#include "measure/ribbons.h"
#include "measure/spread.h"
#include "measure/strand_grid.h"

/* Scores of -50 to 50 CIELAB units in tenths: resamples are then sums of histograms. */
enum { TENTHS = 1001 };
static const double lowest = -50;
static const double least_sd = 0.3;       /* CIELAB units; below the grid's own noise */
static const double bic_margin = 10;      /* very strong evidence, Kass and Raftery (1995) */
static const double least_separation = 2; /* Ashman's D */
static const double least_share = 0.02;
static const double least_tint = 0.1;   /* share of the contrast that shade alone can't explain */
static const double least_chroma = 5;   /* below it tint says nothing … */
static const double least_neutral = 10; /* … and only this much contrast in L* is surely more than shade */

typedef struct histograms {
    double *counts; /* blocks * TENTHS */
    double *centre; /* TENTHS */
    double *drawn;  /* TENTHS: of the resample at hand */
    size_t blocks;
    size_t block_cols;
} histograms;

static bool allocate(const tdm_measure_input *input, histograms *out)
{
    out->blocks = input->columns->blocks;
    out->block_cols = (size_t)(input->columns->block / input->strip->cell + 0.5);
    out->counts = calloc(out->blocks * TENTHS, sizeof *out->counts);
    out->centre = calloc(TENTHS, sizeof *out->centre);
    out->drawn = calloc(TENTHS, sizeof *out->drawn);
    for (size_t i = 0; out->centre && i < TENTHS; i++)
        out->centre[i] = lowest + 0.1 * (double)i;
    return out->counts && out->centre && out->drawn;
}

static void release(histograms *of)
{
    free(of->counts);
    free(of->centre);
    free(of->drawn);
}

static void count_values(const tdm_strand_grid *grid, histograms *out)
{
    for (size_t i = 0; i < grid->windows * grid->cols; i++) {
        if (!isfinite(grid->score[i]))
            continue;
        size_t block = i % grid->cols / out->block_cols;
        if (block >= out->blocks)
            block = out->blocks - 1;
        const double tenth = fmin(fmax(10 * (grid->score[i] - lowest) + 0.5, 0), TENTHS - 1);
        out->counts[block * TENTHS + (size_t)tenth] += 1;
    }
}

/* Sum of the blocks as drawn; times NULL takes each once. Returns the number of values. */
static double draw(const histograms *from, const uint16_t *times)
{
    double total = 0;
    for (size_t i = 0; i < TENTHS; i++)
        from->drawn[i] = 0;
    for (size_t block = 0; block < from->blocks; block++) {
        const double drawn = times ? times[block] : 1;
        for (size_t i = 0; drawn > 0 && i < TENTHS; i++)
            from->drawn[i] += drawn * from->counts[block * TENTHS + i];
    }
    for (size_t i = 0; i < TENTHS; i++)
        total += from->drawn[i];
    return total;
}

/* Two parts against one by BIC, with as many independent values as there are windows times blocks. */
static bool two_parts(const histograms *from, size_t windows, tdm_mixture *out)
{
    tdm_mixture start;
    const double total = draw(from, NULL);
    if (total <= 0 || !tdm_mixture_start(from->centre, from->drawn, TENTHS, least_sd, &start) ||
        !tdm_mixture_fit(from->centre, from->drawn, TENTHS, least_sd, &start, out))
        return false;
    const double effective = (double)(windows * from->blocks);
    const double one = tdm_single_log_likelihood(from->centre, from->drawn, TENTHS, least_sd);
    const double gain = 2 * (out->log_likelihood - one) * effective / total;
    return gain - 2 * log(effective) > bic_margin && tdm_mixture_separation(out) >= least_separation &&
           out->share >= least_share && out->share <= 1 - least_share;
}

/* Colours of the parts: means of linear light in which each place counts by its probability. */
static bool part_colours(const tdm_strand_grid *grid, const tdm_mixture *mixture, double light[3],
                         double dark[3])
{
    double sums[2][4] = {{0}};
    for (size_t i = 0; i < grid->windows * grid->cols; i++) {
        if (!isfinite(grid->score[i]))
            continue;
        const double share = tdm_mixture_posterior(mixture, grid->score[i]);
        const double weights[2] = {1 - share, share};
        for (int part = 0; part < 2; part++) {
            sums[part][3] += weights[part];
            for (size_t k = 0; k < 3; k++)
                sums[part][k] += weights[part] * grid->xyz[3 * i + k];
        }
    }
    if (!(sums[0][3] > 0) || !(sums[1][3] > 0))
        return false;
    for (int part = 0; part < 2; part++) {
        for (int k = 0; k < 3; k++)
            sums[part][k] /= sums[part][3];
    }
    tdm_xyz_to_lab(sums[0], dark);
    tdm_xyz_to_lab(sums[1], light);
    return true;
}

/* Shade dims all wavelengths alike: in CIELAB it takes a* and b* down in proportion to L* + 16 (ISO/CIE
 * 11664-4). More or less melanin changes long against short wavelengths, which leaves a difference that shade
 * doesn't. */
static bool is_shade(const double light[3], const double dark[3])
{
    const double contrast = light[0] - dark[0], dimming = (dark[0] + 16) / (light[0] + 16);
    if (tdm_chroma(light) < least_chroma)
        return contrast < least_neutral;
    return hypot(dark[1] - dimming * light[1], dark[2] - dimming * light[2]) < least_tint * contrast;
}

/* The two parts, and the share of light hair when places may hold both kinds. */
typedef struct parts {
    tdm_mixture mixture;
    tdm_partial partial;
    double share_u, distance_u; /* distance: between the mixture's means */
} parts;

/* Resamples start where the whole ended, so few rounds do. */
enum { ROUNDS = 2000, RESAMPLE_ROUNDS = 20 };

static bool fit_partial(const histograms *from, parts *found)
{
    const tdm_partial start = tdm_partial_start(&found->mixture);
    (void)draw(from, NULL);
    return tdm_partial_fit(from->centre, from->drawn, TENTHS, least_sd, ROUNDS, &start, &found->partial);
}

static tdm_code spread(const tdm_measure_input *input, const histograms *from, parts *found, tdm_error *error)
{
    const size_t resamples = input->resampling->resamples;
    double *shares = malloc(2 * resamples * sizeof *shares);
    if (!shares)
        return tdm_fail_memory(error, NULL);
    double *distances = shares + resamples;
    size_t count = 0;
    for (size_t i = 0; i < resamples; i++) {
        tdm_mixture mixture;
        tdm_partial partial;
        (void)draw(from, input->resampling->times + i * input->resampling->blocks);
        if (!tdm_mixture_fit(from->centre, from->drawn, TENTHS, least_sd, &found->mixture, &mixture) ||
            !tdm_partial_fit(from->centre, from->drawn, TENTHS, least_sd, RESAMPLE_ROUNDS, &found->partial,
                             &partial))
            continue;
        shares[count] = tdm_partial_share(&partial);
        distances[count++] = mixture.mean[1] - mixture.mean[0];
    }
    found->share_u = tdm_half_range(shares, count);
    found->distance_u = tdm_half_range(distances, count);
    free(shares);
    return TDM_OK;
}

static double stretch_gloss(const tdm_measure_input *input, const tdm_strand_grid *grid)
{
    const double bin = input->columns->bin;
    return tdm_gloss_doubt(tdm_gloss_mean(input, (size_t)(grid->from / bin), (size_t)(grid->to / bin)));
}

/* What mixtures leave, as a standard uncertainty: found on drawn heads (METHODS.md). */
static const double share_left = 0.1, contrast_left_share = 0.06, contrast_left = 0.35;

/* Leaves all null where what differs is shade. */
static void report(const tdm_measure_input *input, const tdm_strand_grid *grid, const parts *found,
                   struct tdm_zone_reading *out)
{
    double light[3], dark[3];
    if (!part_colours(grid, &found->mixture, light, dark) || is_shade(light, dark))
        return;
    memcpy(out->strands.light_lab, light, sizeof light);
    memcpy(out->strands.dark_lab, dark, sizeof dark);
    out->strands.separable = true;
    const tdm_budget share = {
        .part = {[TDM_PART_SAMPLING] = found->share_u / 2, [TDM_PART_METHOD] = share_left}};
    tdm_put(out, &out->strands.light_share, tdm_partial_share(&found->partial), &share);
    const double contrast = out->strands.light_lab[0] - out->strands.dark_lab[0];
    const double de00 = tdm_de00(out->strands.light_lab, out->strands.dark_lab);
    /* Along the scores' axis the sampling error is a share of the distance, and the same share of each
     * contrast. */
    const double sampling = found->distance_u / (found->mixture.mean[1] - found->mixture.mean[0]) * contrast;
    tdm_budget lstar = tdm_difference_budget(input->sources, light[0], contrast, fabs(sampling) / 2,
                                             stretch_gloss(input, grid));
    lstar.part[TDM_PART_METHOD] = tdm_quadrature(contrast_left_share * contrast, contrast_left);
    const tdm_budget whole = tdm_budget_times(&lstar, contrast > 0 ? de00 / contrast : NAN);
    tdm_put(out, &out->strands.contrast_lstar, contrast, &lstar);
    tdm_put(out, &out->strands.contrast_de00, de00, &whole);
}

static void mark_light(const tdm_mixture *mixture, tdm_strand_grid *grid)
{
    for (size_t i = 0; i < grid->windows * grid->cols; i++)
        grid->light[i] = isfinite(grid->score[i]) ? tdm_mixture_posterior(mixture, grid->score[i]) : NAN;
}

static tdm_code keep_map(const tdm_measure_input *input, const tdm_strand_grid *grid, tdm_strand_map *out,
                         tdm_error *error)
{
    float *light = malloc(grid->windows * grid->cols * sizeof *light);
    if (!light)
        return tdm_fail_memory(error, NULL);
    for (size_t i = 0; i < grid->windows * grid->cols; i++)
        light[i] = (float)grid->light[i];
    *out = (tdm_strand_map){.windows = grid->windows,
                            .cols = grid->cols,
                            .from = grid->from,
                            .window = grid->window,
                            .cell = input->strip->cell,
                            .light = light};
    return TDM_OK;
}

static tdm_code measure_grid(const tdm_measure_input *input, tdm_strand_grid *grid, const histograms *from,
                             struct tdm_zone_reading *out, tdm_warnings *warnings, tdm_error *error)
{
    parts found = {.share_u = NAN};
    if (!two_parts(from, grid->windows, &found.mixture) || !fit_partial(from, &found))
        return TDM_OK; /* "not separable" is an answer, not a fault */
    const tdm_code code = spread(input, from, &found, error);
    if (code != TDM_OK)
        return code;
    report(input, grid, &found, out);
    if (!out->strands.separable)
        return TDM_OK;
    mark_light(&found.mixture, grid);
    tdm_code made = keep_map(input, grid, &out->strands.map, error);
    if (made == TDM_OK)
        made = tdm_ribbons(input, NULL, grid, out, warnings, error);
    return made;
}

static tdm_code compute(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_warnings *warnings,
                        tdm_error *error)
{
    tdm_strand_grid grid = {0};
    tdm_error own = {0};
    tdm_code code = tdm_strand_grid_make(input, &grid, &own);
    if (code == TDM_ERR_UNUSABLE)
        return tdm_warn(warnings, error, "short-strands", input->zone, "%s", own.text);
    if (code != TDM_OK) {
        if (error)
            *error = own;
        return code;
    }
    histograms counted = {0};
    if (allocate(input, &counted)) {
        count_values(&grid, &counted);
        code = measure_grid(input, &grid, &counted, out, warnings, error);
    } else {
        code = tdm_fail_memory(error, NULL);
    }
    release(&counted);
    tdm_strand_grid_free(&grid);
    return code;
}

const tdm_measure tdm_measure_strands = {.name = "strands", .compute = compute};
