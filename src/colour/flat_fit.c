/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A polynomial a channel through the cells: Tukey's bisquare (GSL), degree by Schwarz's criterion. */
#include <gsl/gsl_multifit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/flat_parts.h"

enum { MOST_DEGREE = 4 };
static const double odd = 4;          /* standard deviations: dust, a hand, the card's edge */
static const double least_odd = 0.05; /* stops: nothing below is odd */

static void fill_terms(const tdm_flat_cell *cells, size_t count, const tdm_light *light, gsl_matrix *terms)
{
    for (size_t i = 0; i < count; i++) {
        double basis[TDM_LIGHT_TERMS];
        tdm_light_basis(light, cells[i].x, cells[i].y, basis);
        for (int k = 0; k < tdm_light_terms(light->degree); k++)
            gsl_matrix_set(terms, i, (size_t)k, basis[k]);
    }
}

/* One channel. False when out of memory or where numbers fail. */
static bool fit_channel(const tdm_flat_cell *cells, size_t count, int channel, const gsl_matrix *terms,
                        tdm_light *light)
{
    const size_t unknowns = (size_t)tdm_light_terms(light->degree);
    gsl_multifit_robust_workspace *work =
        gsl_multifit_robust_alloc(gsl_multifit_robust_bisquare, count, unknowns);
    gsl_vector *stops = gsl_vector_alloc(count), *found = gsl_vector_calloc(unknowns);
    gsl_matrix *spread = gsl_matrix_alloc(unknowns, unknowns);
    bool good = work && stops && found && spread;
    for (size_t i = 0; good && i < count; i++)
        gsl_vector_set(stops, i, cells[i].stops[channel]);
    if (good) {
        const int status = gsl_multifit_robust(terms, stops, found, spread, work);
        /* Running out of rounds is no fault: the residuals are judged. */
        good = status == GSL_SUCCESS || status == GSL_EMAXITER;
    }
    for (size_t k = 0; good && k < unknowns; k++) {
        light->stops[channel][k] = gsl_vector_get(found, k);
        good = isfinite(light->stops[channel][k]);
    }
    gsl_multifit_robust_free(work);
    gsl_vector_free(stops);
    gsl_vector_free(found);
    gsl_matrix_free(spread);
    return good;
}

static bool fit_degree(const tdm_flat_cell *cells, size_t count, tdm_light *light)
{
    gsl_matrix *terms = gsl_matrix_alloc(count, (size_t)tdm_light_terms(light->degree));
    bool good = terms != NULL;
    if (good)
        fill_terms(cells, count, light, terms);
    for (int c = 0; good && c < 3; c++)
        good = fit_channel(cells, count, c, terms, light);
    gsl_matrix_free(terms);
    return good;
}

static double miss_of(const tdm_flat_cell *cell, const tdm_light *light)
{
    double basis[TDM_LIGHT_TERMS], square = 0;
    tdm_light_basis(light, cell->x, cell->y, basis);
    for (int c = 0; c < 3; c++) {
        double miss = cell->stops[c];
        for (int k = 0; k < tdm_light_terms(light->degree); k++)
            miss -= light->stops[c][k] * basis[k];
        square += miss * miss / 3;
    }
    return sqrt(square);
}

static int compare_doubles(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Standard deviation by the median, so that odd cells don't count. scratch: room for count. */
static double typical_miss(const tdm_flat_cell *cells, size_t count, const tdm_light *light, double *scratch)
{
    for (size_t i = 0; i < count; i++)
        scratch[i] = miss_of(&cells[i], light);
    qsort(scratch, count, sizeof *scratch, compare_doubles);
    return 1.4826 * scratch[count / 2];
}

static void weigh(tdm_flat_cell *cells, size_t count, double typical, tdm_light *light)
{
    double square = 0, kept = 0;
    for (size_t i = 0; i < count; i++) {
        const double miss = miss_of(&cells[i], light);
        cells[i].weight = miss <= fmax(odd * typical, least_odd) ? 1 : 0;
        square += cells[i].weight * miss * miss;
        kept += cells[i].weight;
    }
    light->misfit = sqrt(square / kept); /* at least half of them are within the median */
}

tdm_code tdm_flat_fit(tdm_flat_cell *cells, size_t count, tdm_light *out, tdm_error *error)
{
    double *scratch = malloc(count * sizeof *scratch), best = INFINITY, typical = 0;
    const tdm_light empty = {.width = out->width, .height = out->height};
    bool good = scratch != NULL;
    for (int degree = 0; good && degree <= MOST_DEGREE; degree++) {
        tdm_light tried = empty;
        tried.degree = degree;
        good = fit_degree(cells, count, &tried);
        if (!good)
            break;
        const double miss = typical_miss(cells, count, &tried, scratch), n = (double)count;
        /* 1e-4 stops: below what codes carry, so that no term is paid for rounding. */
        const double criterion = n * log(miss * miss + 1e-8) + tdm_light_terms(degree) * log(n);
        if (criterion < best) {
            best = criterion;
            typical = miss;
            *out = tried;
        }
    }
    if (good)
        weigh(cells, count, typical, out);
    free(scratch);
    return good ? TDM_OK : tdm_fail_memory(error, NULL);
}
