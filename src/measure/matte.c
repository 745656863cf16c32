/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/matte.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/lightness_cause.h"
#include "measure/matte_fit.h"
#include "measure/spread.h"

/* A zone of hair is 200 mm long, or taken so: knots lie about so far apart. */
static const double light_knot = 50, gloss_knot = 15;
static const double floor_noise[3] = {0.4, 0.12, 0.2}, noise_factor = 3;
static const double gloss_doubt = 0.5, gloss_least = 0.4; /* of what is expected, and per cent at least */
static const double most_gloss = 0.4,
                    most_light = 0.6; /* of the light that is seen; in logarithms, about 1 */
static const double half_part = 0.05; /* of the length: what root and ends are read from */
enum { LEAST_PLACES = 24, STARTS = 2 };

/* What a richer shape must be better by. */
static const double price[] = {
    [TDM_SHAPE_UNIFORM] = 0, [TDM_SHAPE_RAMP] = 15, [TDM_SHAPE_TRANSITION] = 30, [TDM_SHAPE_BAND] = 60};

typedef struct candidate {
    tdm_matte_model model;
    tdm_matte_values values;
    double cost;
    bool there;
} candidate;

double tdm_gloss_sure(double gloss)
{
    return fmax(gloss - 0.004, 0);
}

double tdm_gloss_doubt(double gloss)
{
    return 0.5 * gloss + 0.0008; /* choices: a seventh of an L* at 40 where there is none */
}

void tdm_matte_colour(const double xyz[3], double gloss, double light, double out[3])
{
    /* Never below a tenth of what is there: hair reflects something. */
    for (int k = 0; k < 3; k++)
        out[k] = fmax(xyz[k] - gloss * tdm_white_d50[k], 0.1 * xyz[k]) / light;
}

/* Neighbouring places of the course taken together, so that there are at most TDM_MATTE_PLACES. */
static void gather(const tdm_seen_course *course, tdm_matte_model *model)
{
    const size_t each = (course->count + TDM_MATTE_PLACES - 1) / TDM_MATTE_PLACES;
    for (size_t from = 0; from < course->count; from += each) {
        double sum[3] = {0, 0, 0}, along = 0, weights = 0;
        for (size_t i = from; i < from + each && i < course->count; i++) {
            for (int k = 0; k < 3; k++)
                sum[k] += course->weight[i] * course->xyz[3 * i + (size_t)k];
            along += course->weight[i] * course->along[i];
            weights += course->weight[i];
        }
        if (weights <= 0)
            continue;
        for (int k = 0; k < 3; k++)
            sum[k] /= weights;
        tdm_xyz_to_lab(sum, model->lab[model->places]);
        model->along[model->places++] = along / weights / course->length;
    }
}

/* From second differences, which a smooth course leaves alone. */
static void measure_noise(tdm_matte_model *model)
{
    double bend[TDM_MATTE_PLACES];
    for (int k = 0; k < 3; k++) {
        for (size_t i = 2; i < model->places; i++)
            bend[i - 2] = fabs(model->lab[i][k] - 2 * model->lab[i - 1][k] + model->lab[i - 2][k]) / sqrt(6);
        const double noise = 1.4826 * tdm_quantile(bend, model->places - 2, 0.5);
        model->noise[k] = tdm_quadrature(noise_factor * noise, floor_noise[k]);
    }
}

static size_t knots(double length, double apart, size_t most)
{
    const size_t count = (size_t)lround(length / apart) + 1;
    return count < 2 ? 2 : count > most ? most : count;
}

/* What scatter says of the gloss around a share of the length. */
static double expected_gloss(const tdm_seen_course *course, double along, double reach)
{
    double sum = 0, weights = 0;
    for (size_t i = 0; course->gloss && i < course->count; i++) {
        const double apart = fabs(course->along[i] / course->length - along) / reach;
        if (apart >= 1)
            continue;
        sum += (1 - apart) * fmin(course->gloss[i], most_gloss * course->xyz[3 * i + 1]);
        weights += 1 - apart;
    }
    return weights > 0 ? sum / weights : 0;
}

static void set_knots(const tdm_seen_course *course, tdm_matte_model *model)
{
    model->lights = knots(course->length, light_knot, TDM_MATTE_LIGHTS);
    model->glosses = knots(course->length, gloss_knot, TDM_MATTE_GLOSSES);
    const double apart = 1 / (double)(model->glosses - 1);
    for (size_t i = 0; i < model->glosses; i++) {
        model->gloss[i] = 100 * expected_gloss(course, (double)i * apart, apart);
        model->gloss_spread[i] = gloss_doubt * model->gloss[i] + gloss_least;
    }
}

/* Mean colour of the places between two shares of the length. */
static bool mean_lab(const tdm_matte_model *model, double from, double to, double lab[3])
{
    double sum[3] = {0, 0, 0}, count = 0;
    for (size_t i = 0; i < model->places; i++) {
        if (model->along[i] < from || model->along[i] > to)
            continue;
        for (int k = 0; k < 3; k++)
            sum[k] += model->lab[i][k];
        count++;
    }
    for (int k = 0; k < 3; k++)
        lab[k] = sum[k] / count;
    return count > 0;
}

/* Straight from what is seen at root, ends and (of a band) between the two rises. */
static bool seen_values(const tdm_matte_model *model, tdm_matte_values *values)
{
    double middle[3], ends[3];
    const double first = model->along[0], last = model->along[model->places - 1];
    if (!mean_lab(model, first, first + 2 * half_part, values->root) ||
        !mean_lab(model, last - 2 * half_part, last, ends))
        return false;
    const bool band = model->shape == TDM_SHAPE_BAND;
    const double centre = 0.5 * (values->centre[0] + values->centre[1]);
    if (band && !mean_lab(model, centre - half_part, centre + half_part, middle))
        return false;
    for (int k = 0; k < 3; k++) {
        values->step[0][k] = (band ? middle[k] : ends[k]) - values->root[k];
        values->step[1][k] = band ? ends[k] - middle[k] : 0;
    }
    memcpy(values->gloss, model->gloss, sizeof values->gloss);
    return true;
}

/* Keeps the STARTS best in order of misfit. */
static void keep_start(const tdm_matte_model *model, const tdm_matte_values *values,
                       tdm_matte_values best[STARTS], double misfit[STARTS])
{
    double here = tdm_matte_misfit(model, values);
    tdm_matte_values moved = *values;
    for (int i = 0; i < STARTS; i++) {
        if (!(here < misfit[i]))
            continue;
        const double other = misfit[i];
        const tdm_matte_values pushed = best[i];
        misfit[i] = here;
        best[i] = moved;
        here = other;
        moved = pushed;
    }
}

static void find_starts(const tdm_matte_model *model, tdm_matte_values best[STARTS], double misfit[STARTS])
{
    static const double centres[] = {0.08, 0.2, 0.35, 0.5, 0.7, 0.9}, sigmas[] = {0.015, 0.05, 0.12, 0.25};
    enum { CENTRES = sizeof centres / sizeof centres[0], SIGMAS = sizeof sigmas / sizeof sigmas[0] };
    const bool band = model->shape == TDM_SHAPE_BAND;
    const bool rises = band || model->shape == TDM_SHAPE_TRANSITION;
    for (int i = 0; i < (rises ? CENTRES : 1); i++) {
        for (int j = band ? i + 1 : 0; j < (band ? CENTRES : 1); j++) {
            for (int k = 0; k < (rises ? SIGMAS - band : 1); k++) {
                tdm_matte_values values = {.centre = {centres[i], centres[j]}, .mix = 0.5};
                values.log_sigma[0] = values.log_sigma[1] = log(sigmas[k]);
                if (seen_values(model, &values))
                    keep_start(model, &values, best, misfit);
            }
        }
    }
}

static void fit_shape(candidate *one)
{
    tdm_matte_values starts[STARTS];
    double misfit[STARTS] = {INFINITY, INFINITY};
    find_starts(&one->model, starts, misfit);
    for (int i = 0; i < STARTS && isfinite(misfit[i]); i++) {
        double cost = 0;
        if (!tdm_matte_fit(&one->model, &starts[i], &cost) || (one->there && cost >= one->cost))
            continue;
        one->values = starts[i];
        one->cost = cost;
        one->there = true;
    }
}

/* A step that light or gloss can have made is left to them. */
static bool has_colour(const candidate *one)
{
    double most = 0, side[2][3];
    for (size_t i = 0; i < one->model.glosses; i++)
        most = fmax(most, 0.01 * one->values.gloss[i]);
    memcpy(side[0], one->values.root, sizeof side[0]);
    for (int i = 0; i < (one->model.shape == TDM_SHAPE_BAND ? 2 : 1); i++) {
        for (int k = 0; k < 3; k++)
            side[1][k] = side[0][k] + one->values.step[i][k];
        const int dark = side[0][0] > side[1][0];
        if (one->model.shape != TDM_SHAPE_UNIFORM &&
            !tdm_is_colour_change(side[dark], side[!dark], most + TDM_GLOSS_LEFT))
            return false;
        memcpy(side[0], side[1], sizeof side[0]);
    }
    return true;
}

/* What would explain colours by more gloss or more uneven light than a photograph worth reading has. */
static bool is_sensible(const candidate *one)
{
    for (size_t i = 0; i < one->model.places; i++) {
        const double along = one->model.along[i], f = (one->model.lab[i][0] + 16) / 116;
        if (tdm_matte_gloss(&one->model, &one->values, along) > most_gloss * f * f * f ||
            fabs(log(tdm_matte_light(&one->model, &one->values, along))) > most_light)
            return false;
    }
    return true;
}

/* The cheapest shape; false where none can be fitted. */
static bool choose(const tdm_matte_model *common, candidate *best)
{
    best->there = false;
    for (int shape = TDM_SHAPE_UNIFORM; shape <= TDM_SHAPE_BAND; shape++) {
        candidate one = {.model = *common};
        one.model.shape = (tdm_shape)shape;
        fit_shape(&one);
        one.cost += price[shape];
        if (one.there && is_sensible(&one) && has_colour(&one) && (!best->there || one.cost < best->cost))
            *best = one;
    }
    return best->there;
}

/* Light has no zero of its own: its mean over the course is made 1. */
static void fill(const tdm_seen_course *course, const candidate *found, double *gloss, double *light)
{
    double sum = 0, weights = 0;
    for (size_t i = 0; i < course->count; i++) {
        const double along = course->along[i] / course->length;
        gloss[i] = tdm_matte_gloss(&found->model, &found->values, along);
        light[i] = tdm_matte_light(&found->model, &found->values, along);
        sum += course->weight[i] * log(light[i]);
        weights += course->weight[i];
    }
    for (size_t i = 0; i < course->count; i++)
        light[i] /= exp(sum / weights);
}

static tdm_matte_shape shape_of(const candidate *found)
{
    tdm_matte_shape out = {.shape = found->model.shape};
    memcpy(out.root, found->values.root, sizeof out.root);
    memcpy(out.step, found->values.step, sizeof out.step);
    return out;
}

tdm_code tdm_matte_find(const tdm_seen_course *course, double *gloss, double *light, tdm_matte_shape *shape,
                        tdm_error *error)
{
    *shape = (tdm_matte_shape){.shape = TDM_SHAPE_UNIFORM};
    for (size_t i = 0; i < course->count; i++) {
        gloss[i] = 0;
        light[i] = 1;
    }
    candidate *best = malloc(sizeof *best);
    tdm_matte_model *common = calloc(1, sizeof *common);
    const bool ready = best && common;
    if (ready)
        gather(course, common);
    if (ready && common->places >= LEAST_PLACES) {
        measure_noise(common);
        set_knots(course, common);
        if (choose(common, best)) {
            fill(course, best, gloss, light);
            *shape = shape_of(best);
        }
    }
    free(best);
    free(common);
    return ready ? TDM_OK : tdm_fail_memory(error, NULL);
}
