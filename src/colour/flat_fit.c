/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A polynomial a channel through the cells: Tukey's bisquare (GSL), degree by Schwarz's criterion. */
#include <gsl/gsl_multifit.h>
#include <gsl/gsl_sort.h>
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

/* Running out of rounds is no fault: the residuals are judged. */
static tdm_code code_of(int status)
{
    if (status == GSL_SUCCESS || status == GSL_EMAXITER)
        return TDM_OK;
    return status == GSL_ENOMEM ? TDM_ERR_MEMORY : TDM_ERR_UNUSABLE;
}

/* One channel. TDM_ERR_MEMORY, or TDM_ERR_UNUSABLE where numbers fail; neither tells its text. */
static tdm_code fit_channel(const tdm_flat_cell *cells, size_t count, int channel, const gsl_matrix *terms,
                            tdm_light *light)
{
    const size_t unknowns = (size_t)tdm_light_terms(light->degree);
    gsl_multifit_robust_workspace *work =
        gsl_multifit_robust_alloc(gsl_multifit_robust_bisquare, count, unknowns);
    gsl_vector *stops = gsl_vector_alloc(count), *found = gsl_vector_calloc(unknowns);
    gsl_matrix *spread = gsl_matrix_alloc(unknowns, unknowns);
    tdm_code code = work && stops && found && spread ? TDM_OK : TDM_ERR_MEMORY;
    for (size_t i = 0; code == TDM_OK && i < count; i++)
        gsl_vector_set(stops, i, cells[i].stops[channel]);
    if (code == TDM_OK)
        code = code_of(gsl_multifit_robust(terms, stops, found, spread, work));
    for (size_t k = 0; code == TDM_OK && k < unknowns; k++) {
        light->stops[channel][k] = gsl_vector_get(found, k);
        if (!isfinite(light->stops[channel][k]))
            code = TDM_ERR_UNUSABLE;
    }
    gsl_multifit_robust_free(work);
    gsl_vector_free(stops);
    gsl_vector_free(found);
    gsl_matrix_free(spread);
    return code;
}

static tdm_code fit_degree(const tdm_flat_cell *cells, size_t count, tdm_light *light)
{
    const size_t unknowns = (size_t)tdm_light_terms(light->degree);
    if (count <= unknowns)
        return TDM_ERR_UNUSABLE;
    gsl_matrix *terms = gsl_matrix_alloc(count, unknowns);
    tdm_code code = terms ? TDM_OK : TDM_ERR_MEMORY;
    if (code == TDM_OK)
        fill_terms(cells, count, light, terms);
    for (int c = 0; code == TDM_OK && c < 3; c++)
        code = fit_channel(cells, count, c, terms, light);
    gsl_matrix_free(terms);
    return code;
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

/* Standard deviation by the median, so that odd cells don't count. scratch: room for count. */
static double typical_miss(const tdm_flat_cell *cells, size_t count, const tdm_light *light, double *scratch)
{
    for (size_t i = 0; i < count; i++)
        scratch[i] = miss_of(&cells[i], light);
    gsl_sort(scratch, 1, count);
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

/* Where numbers fail at a degree, those before it stand. scratch: room for count. *typical: INFINITY where
 * none does. */
static tdm_code best_degree(const tdm_flat_cell *cells, size_t count, double *scratch, double *typical,
                            tdm_light *out)
{
    const tdm_light empty = {.width = out->width, .height = out->height};
    double best = INFINITY;
    *typical = INFINITY;
    for (int degree = 0; degree <= MOST_DEGREE; degree++) {
        tdm_light tried = empty;
        tried.degree = degree;
        const tdm_code code = fit_degree(cells, count, &tried);
        if (code != TDM_OK)
            return code == TDM_ERR_MEMORY ? code : TDM_OK;
        const double miss = typical_miss(cells, count, &tried, scratch), n = (double)count;
        /* 1e-4 stops: below what codes carry, so that no term is paid for rounding. */
        const double criterion = n * log(miss * miss + 1e-8) + tdm_light_terms(degree) * log(n);
        if (criterion < best) {
            best = criterion;
            *typical = miss;
            *out = tried;
        }
    }
    return TDM_OK;
}

tdm_code tdm_flat_fit(tdm_flat_cell *cells, size_t count, const char *file, tdm_light *out, tdm_error *error)
{
    double *scratch = calloc(count, sizeof *scratch), typical = INFINITY;
    const tdm_code code = scratch ? best_degree(cells, count, scratch, &typical, out) : TDM_ERR_MEMORY;
    free(scratch);
    if (code != TDM_OK)
        return tdm_fail_memory(error, file);
    if (isinf(typical))
        return tdm_fail(error, TDM_ERR_UNUSABLE, file, "",
                        "the card's light can't be fitted: retake the flat-field photograph");
    weigh(cells, count, typical, out);
    return TDM_OK;
}
