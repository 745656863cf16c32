/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tone and uneven light from grey references, in turns. */
#include <math.h>
#include <stdlib.h>

#include "colour/greys_parts.h"

enum { ROUNDS = 20 };
static const double alike_lstar = 1; /* within it references are of one lightness, and show the light */

bool tdm_grey_fit_start(tdm_grey_fit *work, size_t count, uint32_t width, uint32_t height)
{
    *work = (tdm_grey_fit){.count = count, .width = width, .height = height, .plane.significance = 0};
    work->half = (width > height ? width : height) / 2.0;
    work->greys = calloc(count, sizeof *work->greys);
    work->group = calloc(count, sizeof *work->group);
    work->rows = calloc(count, sizeof *work->rows);
    work->misfits = calloc(3 * count, sizeof *work->misfits);
    if (!work->greys || !work->group || !work->rows || !work->misfits)
        return false;
    work->scratch = work->misfits + count;
    work->weights = work->scratch + count;
    return true;
}

void tdm_grey_fit_end(tdm_grey_fit *work)
{
    free(work->greys);
    free(work->group);
    free(work->rows);
    free(work->misfits);
}

/* Each reference joins the first one that is of its lightness. */
static void find_groups(tdm_grey_fit *work)
{
    for (size_t i = 0; i < work->count; i++) {
        work->at[0] += work->greys[i].middle[0] / (double)work->count;
        work->at[1] += work->greys[i].middle[1] / (double)work->count;
        work->group[i] = i;
        for (size_t j = 0; j < i; j++) {
            if (work->group[j] == j && fabs(work->greys[i].lstar - work->greys[j].lstar) <= alike_lstar) {
                work->group[i] = j;
                work->pairs = true;
                break;
            }
        }
    }
}

/* Per channel the factor on cube roots, in which errors are about even in lightness. */
static void fit_gains(tdm_grey_fit *work)
{
    for (int c = 0; c < 3; c++) {
        double product = 0, square = 0;
        for (size_t i = 0; i < work->count; i++) {
            const tdm_grey_measured *grey = &work->greys[i];
            double factors[3];
            tdm_light_at(&work->calibration.light, grey->middle[0], grey->middle[1], factors);
            const double in = cbrt(grey->rgb[c]), wanted = cbrt(grey->wanted / factors[c]);
            product += grey->weight * in * wanted;
            square += grey->weight * in * in;
        }
        work->calibration.gain[c] = pow(product / square, 3);
    }
}

static void fit_tone(tdm_grey_fit *work)
{
    work->curved = tdm_greys_curve(work->greys, work->count, &work->calibration.light, &work->calibration);
    if (!work->curved) {
        work->calibration.knots = 0;
        fit_gains(work);
    }
}

/* Corrected over wanted, stops a channel; lit: with the light taken out. */
static void ratio_of(const tdm_grey_fit *work, size_t index, bool lit, double stops[3])
{
    const tdm_grey_measured *grey = &work->greys[index];
    double factors[3] = {1, 1, 1};
    if (lit)
        tdm_light_at(&work->calibration.light, grey->middle[0], grey->middle[1], factors);
    for (int c = 0; c < 3; c++)
        stops[c] =
            log2(factors[c] * tdm_calibration_channel(&work->calibration, c, grey->rgb[c]) / grey->wanted);
}

/* Place and ratio against the mean of the reference's group: tone cancels, light stays. */
static void fill_rows(tdm_grey_fit *work)
{
    for (size_t i = 0; i < work->count; i++) {
        const tdm_grey_measured *grey = &work->greys[i];
        tdm_plane_row *row = &work->rows[i];
        *row = (tdm_plane_row){.weight = grey->weight};
        row->basis[1] = (grey->middle[0] - work->at[0]) / work->half;
        row->basis[2] = (grey->middle[1] - work->at[1]) / work->half;
        ratio_of(work, i, false, row->y);
    }
}

static void take_group_mean(tdm_grey_fit *work, size_t group)
{
    double sum = 0, mean[6] = {0};
    for (size_t i = 0; i < work->count; i++) {
        const tdm_plane_row *row = &work->rows[i];
        if (work->group[i] != group)
            continue;
        sum += row->weight;
        for (int k = 0; k < 3; k++) {
            mean[k] += row->weight * row->basis[k];
            mean[3 + k] += row->weight * row->y[k];
        }
    }
    for (size_t i = 0; sum > 0 && i < work->count; i++) {
        for (int k = 0; work->group[i] == group && k < 3; k++) {
            work->rows[i].basis[k] -= mean[k] / sum;
            work->rows[i].y[k] -= mean[3 + k] / sum;
        }
    }
}

static void fit_light(tdm_grey_fit *work)
{
    const double prior[3] = {1, tdm_slope_prior, tdm_slope_prior};
    fill_rows(work);
    for (size_t i = 0; i < work->count; i++) {
        if (work->group[i] == i)
            take_group_mean(work, i);
    }
    tdm_plane_fit(work->rows, work->count, prior, &work->plane);
    work->calibration.light = tdm_light_of_plane(&work->plane, work->width, work->height, work->at, 0);
}

static void weigh(tdm_grey_fit *work)
{
    for (size_t i = 0; i < work->count; i++) {
        double stops[3];
        ratio_of(work, i, true, stops);
        work->misfits[i] = sqrt((stops[0] * stops[0] + stops[1] * stops[1] + stops[2] * stops[2]) / 3);
    }
    tdm_huber_weights(work->misfits, work->count, work->scratch, work->weights);
    for (size_t i = 0; i < work->count; i++)
        work->greys[i].weight = work->weights[i];
}

/* Tone and light in turns: each is judged with the other taken out. */
static void fit_in_turns(tdm_grey_fit *work, bool with_light)
{
    work->calibration.light = work->known ? *work->known : (tdm_light){0};
    for (size_t i = 0; i < work->count; i++)
        work->greys[i].weight = 1;
    for (int round = 0; round < ROUNDS; round++) {
        fit_tone(work);
        if (with_light)
            fit_light(work);
        weigh(work);
    }
    fit_tone(work);
}

/* Root mean square of what is left: in L* as cube roots say it, and in stops for the light. */
static double misfit(tdm_grey_fit *work)
{
    double square = 0, stops_square = 0;
    for (size_t i = 0; i < work->count; i++) {
        double stops[3];
        ratio_of(work, i, true, stops);
        for (int c = 0; c < 3; c++) {
            const double miss = cbrt(work->greys[i].wanted) * (exp2(stops[c] / 3) - 1);
            square += miss * miss / (3 * (double)work->count);
            stops_square += stops[c] * stops[c] / (3 * (double)work->count);
        }
    }
    tdm_light *light = &work->calibration.light;
    if (light->degree > 0 && !work->known)
        light->misfit = tdm_plane_misfit(light, work->greys, work->count, sqrt(stops_square));
    return 116 * sqrt(square); /* L* is 116 cube roots of Y, less 16 */
}

double tdm_grey_fit_run(tdm_grey_fit *work)
{
    find_groups(work);
    fit_in_turns(work, work->pairs && !work->known);
    if (work->pairs && !work->known && work->plane.significance < tdm_clearly_uneven)
        fit_in_turns(work, false);
    return misfit(work);
}
