/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A course of colour as the sum of its causes: colour of the hair, light along it, gloss on it. */
#ifndef TDM_MEASURE_MATTE_MODEL_H
#define TDM_MEASURE_MATTE_MODEL_H

#include <gsl/gsl_vector.h>
#include <stdbool.h>

#include "measure/shape.h"

enum { TDM_MATTE_LIGHTS = 6, TDM_MATTE_GLOSSES = 16, TDM_MATTE_PLACES = 100, TDM_MATTE_PARAMETERS = 40 };

/* xyz(s) = light(s) body(s) + gloss(s) white. body goes from root by one step or two, each along a normal
 * rise (of a ramp: along s). mix tells how: 0 straight in CIELAB (each strand turns slowly), 1 straight in
 * linear light (strands of two colours side by side). */
typedef struct tdm_matte_values {
    double root[3], step[2][3];     /* CIELAB */
    double centre[2], log_sigma[2]; /* as shares of the length */
    double mix;
    double slope;                    /* of the logarithm of the light, over the whole length */
    double light[TDM_MATTE_LIGHTS];  /* what the logarithm departs by from that slope, at knots */
    double gloss[TDM_MATTE_GLOSSES]; /* at knots, per cent of the perfect diffuser */
} tdm_matte_values;

typedef struct tdm_matte_model {
    tdm_shape shape;
    size_t places;
    double along[TDM_MATTE_PLACES]; /* as shares of the length, rising */
    double lab[TDM_MATTE_PLACES][3];
    double noise[3];        /* standard deviation of lab at one place */
    size_t lights, glosses; /* knots, evenly from 0 to 1 */
    double gloss[TDM_MATTE_GLOSSES], gloss_spread[TDM_MATTE_GLOSSES]; /* expected, per cent */
} tdm_matte_model;

size_t tdm_matte_parameters(const tdm_matte_model *model);
size_t tdm_matte_residuals(const tdm_matte_model *model);

void tdm_matte_pack(const tdm_matte_model *model, const tdm_matte_values *values, gsl_vector *out);
void tdm_matte_unpack(const tdm_matte_model *model, const gsl_vector *parameters, tdm_matte_values *out);

/* Colours off the model over their noise, then parameters off what is expected of them. */
void tdm_matte_off(const tdm_matte_model *model, const tdm_matte_values *values, gsl_vector *out);
/* Sum of the squares of these, of colours alone. */
double tdm_matte_misfit(const tdm_matte_model *model, const tdm_matte_values *values);

/* At a share of the length. */
double tdm_matte_light(const tdm_matte_model *model, const tdm_matte_values *values, double along);
double tdm_matte_gloss(const tdm_matte_model *model, const tdm_matte_values *values, double along);

#endif
