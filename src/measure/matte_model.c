/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/matte_model.h"

#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "measure/shape_linear.h"

/* What is expected of light and colour: METHODS.md gives the reasons. */
static const double slope_spread = 0.15, light_spread = 0.06, mix_mean = 0.5, mix_spread = 0.5;
static const double centre_mean = 0.4, centre_spread = 0.6, sigma_spread = 2; /* of log sigma about a tenth */
static const double step_spread[3] = {60, 40, 60};
static const double neighbours = 0.7; /* how far neighbouring knots differ, of their spread */
static const double per_cent = 0.01;

static int steps_of(const tdm_matte_model *model)
{
    return model->shape == TDM_SHAPE_UNIFORM ? 0 : model->shape == TDM_SHAPE_BAND ? 2 : 1;
}

static int rises_of(const tdm_matte_model *model)
{
    return model->shape == TDM_SHAPE_RAMP ? 0 : steps_of(model);
}

static bool mixes(const tdm_matte_model *model)
{
    return steps_of(model) == 1;
}

size_t tdm_matte_parameters(const tdm_matte_model *model)
{
    return 3 + 3 * (size_t)steps_of(model) + 2 * (size_t)rises_of(model) + mixes(model) + 1 + model->lights +
           model->glosses;
}

/* Every parameter but the root's colour has an expectation, and so have neighbouring knots. */
size_t tdm_matte_residuals(const tdm_matte_model *model)
{
    return 3 * model->places + tdm_matte_parameters(model) - 3 + model->lights - 1 + model->glosses - 1;
}

/* One list for both ways. */
static size_t places_of(const tdm_matte_model *model, tdm_matte_values *values,
                        double *where[TDM_MATTE_PARAMETERS])
{
    size_t count = 0;
    for (int k = 0; k < 3; k++)
        where[count++] = &values->root[k];
    for (int i = 0; i < steps_of(model); i++)
        for (int k = 0; k < 3; k++)
            where[count++] = &values->step[i][k];
    for (int i = 0; i < rises_of(model); i++) {
        where[count++] = &values->centre[i];
        where[count++] = &values->log_sigma[i];
    }
    if (mixes(model))
        where[count++] = &values->mix;
    where[count++] = &values->slope;
    for (size_t i = 0; i < model->lights; i++)
        where[count++] = &values->light[i];
    for (size_t i = 0; i < model->glosses; i++)
        where[count++] = &values->gloss[i];
    return count;
}

void tdm_matte_pack(const tdm_matte_model *model, const tdm_matte_values *values, gsl_vector *out)
{
    tdm_matte_values copy = *values;
    double *where[TDM_MATTE_PARAMETERS];
    const size_t count = places_of(model, &copy, where);
    for (size_t i = 0; i < count; i++)
        gsl_vector_set(out, i, *where[i]);
}

void tdm_matte_unpack(const tdm_matte_model *model, const gsl_vector *parameters, tdm_matte_values *out)
{
    double *where[TDM_MATTE_PARAMETERS];
    *out = (tdm_matte_values){.mix = mix_mean};
    const size_t count = places_of(model, out, where);
    for (size_t i = 0; i < count; i++)
        *where[i] = gsl_vector_get(parameters, i);
}

/* Straight between knots spread evenly over 0 to 1. */
static double between(const double *knots, size_t count, double along)
{
    const double place = fmin(fmax(along, 0), 1) * (double)(count - 1);
    const size_t low = (size_t)fmin(place, (double)count - 2);
    const double part = place - (double)low;
    return knots[low] + part * (knots[low + 1] - knots[low]);
}

double tdm_matte_light(const tdm_matte_model *model, const tdm_matte_values *values, double along)
{
    return exp(values->slope * (along - 0.5) + between(values->light, model->lights, along));
}

double tdm_matte_gloss(const tdm_matte_model *model, const tdm_matte_values *values, double along)
{
    return per_cent * fmax(between(values->gloss, model->glosses, along), 0);
}

/* How far each step has got. */
static void progress(const tdm_matte_model *model, const tdm_matte_values *values, double along,
                     double out[2])
{
    out[0] = out[1] = 0;
    if (model->shape == TDM_SHAPE_RAMP)
        out[0] = along;
    for (int i = 0; i < rises_of(model); i++)
        out[i] = tdm_rise(along, values->centre[i], exp(values->log_sigma[i]));
}

static void body(const tdm_matte_model *model, const tdm_matte_values *values, double along, double xyz[3])
{
    double way[2], lab[3], root[3], end[3];
    progress(model, values, along, way);
    for (int k = 0; k < 3; k++)
        lab[k] = values->root[k] + way[0] * values->step[0][k] + way[1] * values->step[1][k];
    tdm_lab_to_xyz(lab, xyz);
    if (!mixes(model))
        return;
    for (int k = 0; k < 3; k++)
        lab[k] = values->root[k] + values->step[0][k];
    tdm_lab_to_xyz(values->root, root);
    tdm_lab_to_xyz(lab, end);
    for (int k = 0; k < 3; k++)
        xyz[k] += values->mix * (root[k] + way[0] * (end[k] - root[k]) - xyz[k]);
}

static void expected_lab(const tdm_matte_model *model, const tdm_matte_values *values, double along,
                         double lab[3])
{
    double xyz[3];
    body(model, values, along, xyz);
    const double light = tdm_matte_light(model, values, along);
    const double gloss = per_cent * between(values->gloss, model->glosses, along);
    for (int k = 0; k < 3; k++)
        xyz[k] = light * xyz[k] + gloss * tdm_white_d50[k];
    tdm_xyz_to_lab(xyz, lab);
}

static size_t colours_off(const tdm_matte_model *model, const tdm_matte_values *values, gsl_vector *out)
{
    size_t count = 0;
    for (size_t i = 0; i < model->places; i++) {
        double lab[3];
        expected_lab(model, values, model->along[i], lab);
        for (int k = 0; k < 3; k++)
            gsl_vector_set(out, count++, (model->lab[i][k] - lab[k]) / model->noise[k]);
    }
    return count;
}

static size_t steps_off(const tdm_matte_model *model, const tdm_matte_values *values, size_t next,
                        gsl_vector *out)
{
    for (int i = 0; i < steps_of(model); i++)
        for (int k = 0; k < 3; k++)
            gsl_vector_set(out, next++, values->step[i][k] / step_spread[k]);
    for (int i = 0; i < rises_of(model); i++) {
        gsl_vector_set(out, next++, (values->centre[i] - centre_mean) / centre_spread);
        gsl_vector_set(out, next++, (values->log_sigma[i] - log(0.1)) / sigma_spread);
    }
    if (mixes(model))
        gsl_vector_set(out, next++, (values->mix - mix_mean) / mix_spread);
    return next;
}

static size_t light_off(const tdm_matte_model *model, const tdm_matte_values *values, size_t next,
                        gsl_vector *out)
{
    gsl_vector_set(out, next++, values->slope / slope_spread);
    for (size_t i = 0; i < model->lights; i++) {
        gsl_vector_set(out, next++, values->light[i] / light_spread);
        if (i > 0)
            gsl_vector_set(out, next++,
                           (values->light[i] - values->light[i - 1]) / (neighbours * light_spread));
    }
    return next;
}

static void gloss_off(const tdm_matte_model *model, const tdm_matte_values *values, size_t next,
                      gsl_vector *out)
{
    double before = 0;
    for (size_t i = 0; i < model->glosses; i++) {
        const double off = values->gloss[i] - model->gloss[i], spread = model->gloss_spread[i];
        gsl_vector_set(out, next++, off / spread);
        if (i > 0)
            gsl_vector_set(out, next++,
                           (off - before) / (neighbours * 0.5 * (spread + model->gloss_spread[i - 1])));
        before = off;
    }
}

void tdm_matte_off(const tdm_matte_model *model, const tdm_matte_values *values, gsl_vector *out)
{
    size_t next = colours_off(model, values, out);
    next = steps_off(model, values, next, out);
    next = light_off(model, values, next, out);
    gloss_off(model, values, next, out);
}

double tdm_matte_misfit(const tdm_matte_model *model, const tdm_matte_values *values)
{
    double sum = 0;
    for (size_t i = 0; i < model->places; i++) {
        double lab[3];
        expected_lab(model, values, model->along[i], lab);
        for (int k = 0; k < 3; k++)
            sum += (model->lab[i][k] - lab[k]) * (model->lab[i][k] - lab[k]) /
                   (model->noise[k] * model->noise[k]);
    }
    return sum;
}
