/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edges in two directions say how far the picture spreads along each, but not whether the two go together,
 * as in a smear along the diagonal. A corner does: what it has over the product of its edges' profiles sums
 * to the covariance of the spread (Hoeffding's identity). */
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_randist.h>
#include <math.h>

#include "measure/quality_edges.h"

/* What a corner may differ in from the product: moved across, moved down, its own light, the gap's light, and
 * the covariance. */
enum { ACROSS, DOWN, OWN, GAP, COVARIANCE, TERMS };
static const double least_contrast = 0.08;

typedef struct corner {
    double x, y;       /* where the two gaps' lines meet */
    double n[2], m[2]; /* outward of the patch across and down, px */
    double at_n, at_m; /* edges, along these from x, y */
    double sigma_n, sigma_m;
    double own, gap; /* light */
} corner;

/* Normal equations. */
typedef struct sums {
    double matrix[TERMS * TERMS], right[TERMS];
    size_t count;
} sums;

/* Where the middle lines of two gaps cross. */
static void meet(const tdm_gap *a, const tdm_gap *b, double *x, double *y)
{
    const double *n = a->normal, *m = b->normal;
    const double p = n[0] * a->x + n[1] * a->y, q = m[0] * b->x + m[1] * b->y;
    const double det = n[0] * m[1] - n[1] * m[0];
    *x = (p * m[1] - q * n[1]) / det;
    *y = (n[0] * q - m[0] * p) / det;
}

static corner corner_of(const tdm_gap *across, const tdm_gap *down, bool right, bool lower)
{
    corner it = {.sigma_n = across->sigma,
                 .sigma_m = down->sigma,
                 .own = ((right ? across->after : across->before) + (lower ? down->after : down->before)) / 2,
                 .gap = (across->between + down->between) / 2};
    meet(across, down, &it.x, &it.y);
    for (int i = 0; i < 2; i++) {
        it.n[i] = right ? -across->normal[i] : across->normal[i];
        it.m[i] = lower ? -down->normal[i] : down->normal[i];
    }
    it.at_n = right ? -across->to : across->from;
    it.at_m = lower ? -down->to : down->from;
    return it;
}

static void add_pixel(const corner *it, double light, double n, double m, sums *out)
{
    const double a = (n - it->at_n) / it->sigma_n, b = (m - it->at_m) / it->sigma_m;
    const double inside_n = gsl_cdf_ugaussian_Q(a), inside_m = gsl_cdf_ugaussian_Q(b);
    const double at_n = gsl_ran_ugaussian_pdf(a) / it->sigma_n, at_m = gsl_ran_ugaussian_pdf(b) / it->sigma_m;
    const double cover = inside_n * inside_m, contrast = it->own - it->gap;
    const double left = light - it->gap - contrast * cover;
    /* The last is the derivative of the two-dimensional normal distribution by its covariance. */
    const double term[TERMS] = {contrast * at_n * inside_m, contrast * inside_n * at_m, cover, 1 - cover,
                                contrast * at_n * at_m};
    for (int i = 0; i < TERMS; i++) {
        for (int j = 0; j < TERMS; j++)
            out->matrix[i * TERMS + j] += term[i] * term[j];
        out->right[i] += term[i] * left;
    }
    out->count++;
}

static sums add_up(const tdm_view *view, const corner *it, double reach)
{
    sums out = {0};
    for (uint32_t row = 0; row < view->rect.height; row++) {
        for (uint32_t column = 0; column < view->rect.width; column++) {
            const double dx = view->rect.x + column + 0.5 - it->x, dy = view->rect.y + row + 0.5 - it->y;
            const double n = dx * it->n[0] + dy * it->n[1], m = dx * it->m[0] + dy * it->m[1];
            if (n <= 0 && m <= 0 && n > it->at_n - reach && m > it->at_m - reach)
                add_pixel(it, (double)view->light[(size_t)row * view->rect.width + column], n, m, &out);
        }
    }
    return out;
}

static bool solve(sums *all, double *covariance)
{
    double result[TERMS];
    gsl_matrix_view matrix = gsl_matrix_view_array(all->matrix, TERMS, TERMS);
    const gsl_vector_const_view right = gsl_vector_const_view_array(all->right, TERMS);
    gsl_vector_view solved = gsl_vector_view_array(result, TERMS);
    if (all->count < 4 * TERMS || gsl_linalg_cholesky_decomp1(&matrix.matrix) != GSL_SUCCESS ||
        gsl_linalg_cholesky_solve(&matrix.matrix, &right.vector, &solved.vector) != GSL_SUCCESS)
        return false;
    *covariance = result[COVARIANCE];
    return isfinite(*covariance);
}

bool tdm_corner_covariance(const tdm_view *view, const tdm_crossing *crossing, int which, double reach,
                           double *covariance)
{
    const bool right = which & 1, lower = which & 2;
    const tdm_gap *across = crossing->left_right[lower], *down = crossing->up_down[right];
    if (!view->light || !across->fitted || !down->fitted)
        return false;
    const corner it = corner_of(across, down, right, lower);
    sums all = add_up(view, &it, reach);
    if (fabs(it.own - it.gap) < least_contrast || !solve(&all, covariance))
        return false;
    if (right != lower)
        *covariance = -*covariance;
    return true;
}
