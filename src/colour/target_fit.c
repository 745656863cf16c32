/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The numbers that bring the coloured patches nearest to their references by CIEDE2000, robustly; the neutral
 * ones are met by the curves, which every trial rebuilds. */
#include <gsl/gsl_multifit_nlinear.h>
#include <gsl/gsl_sort.h>
#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "colour/target.h"

enum {
    FEWEST_COLOURED = 6,
    ROUNDS = 4,
    NEAR_ROUNDS = 2,
    ITERATIONS = 20,
    COLOURED = TDM_FIRST_NEUTRAL,
    LAST_SKIN = 1
};
static const double tuning = 1.345;    /* Huber 1981 */
static const double least_scale = 0.5; /* CIEDE2000: nothing below is an outlier */
/* Dark and light skin, the coloured patches nearest to hair: a choice, see METHODS.md. */
static const double skin_weight = 4;
static const double close_enough = 1e-6; /* relative */
static const double hopeless = 100;      /* a part of CIEDE2000 where no curve can be made */

/* A search under way. */
typedef struct search {
    const tdm_target *target;
    int without;
    tdm_target_fit fit;
    size_t count; /* of patches */
    int patch[COLOURED];
    size_t free_count;
    int free_at[TDM_FREE];
} search;

static void list_patches(search *s)
{
    for (int i = 0; i < COLOURED; i++) {
        if (s->target->patches[i].state == TDM_PATCH_KEPT && i != s->without)
            s->patch[s->count++] = i;
    }
}

static void list_free(search *s)
{
    const tdm_terms *terms = &s->fit.terms;
    for (int i = 0; i < TDM_FREE; i++) {
        if (i < TDM_FREE_ROOTS || (i < TDM_FREE_SLOPE && terms->rooted) ||
            (i >= TDM_FREE_SLOPE && i < TDM_FREE_STEP && terms->sloped) ||
            (i == TDM_FREE_STEP && terms->stepped))
            s->free_at[s->free_count++] = i;
        else
            s->fit.free[i] = 0;
    }
}

static size_t slope_at(const search *s)
{
    return (size_t)(TDM_FREE_SLOPE - (s->fit.terms.rooted ? 0 : TDM_FREE_SLOPE - TDM_FREE_ROOTS));
}

static void get_free(const search *s, gsl_vector *out)
{
    for (size_t i = 0; i < s->free_count; i++)
        gsl_vector_set(out, i, s->fit.free[s->free_at[i]]);
}

static void set_free(search *s, const gsl_vector *from)
{
    for (size_t i = 0; i < s->free_count; i++)
        s->fit.free[s->free_at[i]] = gsl_vector_get(from, i);
}

static int residuals(const gsl_vector *free, void *context, gsl_vector *out)
{
    search *s = context;
    set_free(s, free);
    if (!tdm_target_build(s->target, s->without, &s->fit)) {
        gsl_vector_set_all(out, hopeless);
        return GSL_SUCCESS;
    }
    for (size_t i = 0; i < s->count; i++) {
        double lab[3], parts[3];
        tdm_target_patch_lab(s->target, &s->fit, s->patch[i], lab);
        tdm_de00_parts(s->target->patches[s->patch[i]].lab, lab, parts);
        for (size_t k = 0; k < 3; k++)
            gsl_vector_set(out, 3 * i + k, isfinite(parts[k]) ? parts[k] : hopeless);
    }
    return GSL_SUCCESS;
}

static double length3(const gsl_vector *parts, size_t patch)
{
    const double *p = parts->data + 3 * patch;
    return sqrt(p[0] * p[0] + p[1] * p[1] + p[2] * p[2]);
}

static void weigh(const search *s, const gsl_vector *parts, gsl_vector *weights)
{
    const size_t count = s->count;
    double sorted[COLOURED];
    for (size_t i = 0; i < count; i++)
        sorted[i] = length3(parts, i);
    gsl_sort(sorted, 1, count);
    const double limit = tuning * fmax(1.4826 * sorted[count / 2], least_scale);
    for (size_t i = 0; i < count; i++) {
        const double miss = length3(parts, i);
        const double weight =
            (miss > limit ? limit / miss : 1) * (s->patch[i] <= LAST_SKIN ? skin_weight : 1);
        for (size_t k = 0; k < 3; k++)
            gsl_vector_set(weights, 3 * i + k, weight);
    }
}

typedef struct tools {
    gsl_multifit_nlinear_workspace *work;
    gsl_vector *free, *parts, *weights, *moved;
} tools;

static bool tools_make(const search *s, tools *out)
{
    const gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters();
    const size_t n = 3 * s->count;
    out->work = gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &parameters, n, s->free_count);
    out->free = gsl_vector_alloc(s->free_count);
    out->parts = gsl_vector_alloc(n);
    out->weights = gsl_vector_alloc(n);
    out->moved = gsl_vector_alloc(n);
    return out->work && out->free && out->parts && out->weights && out->moved;
}

static void tools_free(tools *t)
{
    gsl_multifit_nlinear_free(t->work);
    gsl_vector_free(t->free);
    gsl_vector_free(t->parts);
    gsl_vector_free(t->weights);
    gsl_vector_free(t->moved);
}

static void judge(search *s, const gsl_vector *parts)
{
    double sorted[COLOURED];
    s->fit.mean = 0;
    for (size_t i = 0; i < s->count; i++) {
        sorted[i] = length3(parts, i);
        s->fit.mean += sorted[i] / (double)s->count;
    }
    gsl_sort(sorted, 1, s->count);
    const size_t most = (2 * s->count + 2) / 3;
    s->fit.typical = 0;
    for (size_t i = 0; i < most; i++)
        s->fit.typical += sorted[i] / (double)most;
}

/* Levenberg-Marquardt, reweighted a fixed number of times. */
static bool refine(search *s, tools *t, int rounds)
{
    gsl_multifit_nlinear_fdf problem = {.f = residuals, .n = 3 * s->count, .p = s->free_count, .params = s};
    get_free(s, t->free);
    for (int round = 0; round < rounds; round++) {
        int info = 0;
        (void)residuals(t->free, s, t->parts);
        weigh(s, t->parts, t->weights);
        (void)gsl_multifit_nlinear_winit(t->free, t->weights, &problem, t->work);
        /* Running out of steps is no fault: the best so far stands, and the residuals are reported. */
        (void)gsl_multifit_nlinear_driver(ITERATIONS, close_enough, close_enough, 0, NULL, NULL, &info,
                                          t->work);
        (void)gsl_vector_memcpy(t->free, gsl_multifit_nlinear_position(t->work));
    }
    (void)residuals(t->free, s, t->parts);
    judge(s, t->parts);
    return s->fit.mean < hopeless && tdm_target_build(s->target, s->without, &s->fit);
}

/* How the slope answers to one more unit of CIEDE2000 in a neutral patch's reference, or reading, along an
 * axis of CIELAB: the curves carry it into every residual. */
static void answer(const search *s, const tools *t, const gsl_matrix *covariance, int neutral, int axis,
                   double out[2])
{
    tdm_target moved = *s->target;
    tdm_patch *patch = &moved.patches[neutral];
    search other = *s;
    const double unit = 0.1;
    double lab[3];
    memcpy(lab, patch->lab, sizeof lab);
    lab[axis] += unit;
    tdm_lab_to_xyz(lab, patch->xyz);
    other.target = &moved;
    (void)residuals(t->free, &other, t->moved);
    const double size = tdm_de00(patch->lab, lab);
    const gsl_matrix *slopes = gsl_multifit_nlinear_jac(t->work);
    out[0] = out[1] = 0;
    for (size_t p = 0; p < s->free_count; p++) {
        double along = 0;
        for (size_t i = 0; i < t->parts->size; i++)
            along += gsl_matrix_get(slopes, i, p) * sqrt(gsl_vector_get(t->weights, i)) *
                     (gsl_vector_get(t->moved, i) - gsl_vector_get(t->parts, i)) / size;
        for (size_t k = 0; k < 2; k++)
            out[k] -= gsl_matrix_get(covariance, slope_at(s) + k, p) * along;
    }
}

/* Law of propagation (JCGM 100, 5.1.2 and annex H.3): the residuals' own variance, taken to hold for the
 * neutral patches too, which leave none. */
static bool vary(const search *s, const tools *t, double variance[3])
{
    gsl_matrix *covariance = gsl_matrix_alloc(s->free_count, s->free_count);
    if (!covariance)
        return false;
    (void)gsl_multifit_nlinear_covar(gsl_multifit_nlinear_jac(t->work), 0, covariance);
    const size_t x = slope_at(s), y = x + 1;
    double sum = 0, own[3] = {gsl_matrix_get(covariance, x, x), gsl_matrix_get(covariance, x, y),
                              gsl_matrix_get(covariance, y, y)};
    for (size_t i = 0; i < t->parts->size; i++)
        sum += gsl_vector_get(t->weights, i) * gsl_vector_get(t->parts, i) * gsl_vector_get(t->parts, i);
    for (int i = 0; i < 3 * TDM_NEUTRALS; i++) {
        const int neutral = TDM_FIRST_NEUTRAL + i / 3;
        double g[2];
        if (s->target->patches[neutral].state != TDM_PATCH_KEPT || neutral == s->without)
            continue;
        answer(s, t, covariance, neutral, i % 3, g);
        own[0] += g[0] * g[0];
        own[1] += g[0] * g[1];
        own[2] += g[1] * g[1];
    }
    for (int i = 0; i < 3; i++)
        variance[i] = own[i] * sum / (double)(t->parts->size - s->free_count);
    gsl_matrix_free(covariance);
    return true;
}

bool tdm_target_solve(const tdm_target *target, const tdm_terms *terms, int without,
                      const tdm_target_fit *from, tdm_target_fit *out, double variance[3])
{
    search s = {.target = target, .without = without, .fit = {.terms = *terms}};
    tools t = {0};
    list_patches(&s);
    if (from)
        memcpy(s.fit.free, from->free, sizeof s.fit.free);
    else if (s.count < FEWEST_COLOURED || !tdm_target_start(target, s.patch, s.count, without, &s.fit))
        return false;
    list_free(&s);
    bool done = s.count >= FEWEST_COLOURED && 3 * s.count > s.free_count && tools_make(&s, &t) &&
                refine(&s, &t, from ? NEAR_ROUNDS : ROUNDS);
    if (done)
        *out = s.fit;
    if (done && variance && terms->sloped)
        done = vary(&s, &t, variance);
    tools_free(&t);
    return done;
}
