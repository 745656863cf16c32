/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fall of colour from root to ends: one colour a bin, projected on the line between root and ends. */
#ifndef TDM_MEASURE_FALL_H
#define TDM_MEASURE_FALL_H

#include "measure/columns.h"
#include "measure/shape.h"

/* One just-noticeable difference in CIELAB units: Mahy, Van Eycken and Oosterlinck (1994). */
#define TDM_JND_LAB 2.3

typedef struct tdm_fall {
    size_t bins;
    double length;  /* of the path, in the strip's units */
    double *along;  /* bins: distance of the bin's middle from the root */
    double *gloss;  /* bins: white light that lies on the hair, Y = 1 for the perfect diffuser; taken out */
    double *light;  /* bins: light along the fall, 1 on average; taken out */
    double *lab;    /* bins * 3: of the hair without them */
    double *value;  /* bins: distance from the root colour along the colour line, CIELAB units */
    double *weight; /* bins: share of the bin that was used, 0 where under a fifth */
    double root_lab[3];  /* where the colour line starts */
    double direction[3]; /* unit vector in CIELAB */
    tdm_shape_fit fit;
    tdm_shape_fit by_light; /* a change that is light, not colour, and so not in fit; uniform where none */
} tdm_fall;

/* columns: of this strip. TDM_ERR_UNUSABLE where too few bins can be used. */
TDM_MUST_CHECK tdm_code tdm_fall_make(const tdm_strip *strip, const tdm_columns *columns, tdm_fall *out,
                                      tdm_error *error);
void tdm_fall_free(tdm_fall *fall);

/* Place of a colour on the colour line. */
double tdm_fall_project(const tdm_fall *fall, const double lab[3]);

/* Borrows the fall's arrays; values NULL takes the fall's own. */
tdm_course tdm_fall_course(const tdm_fall *fall, const double *values);

/* Fills lab (bins * 3) and values (bins) for one resample of the blocks; either may be NULL. Bins without
 * cells keep weight 0 in the fall and get its own colour. */
void tdm_fall_resample(const tdm_fall *fall, const tdm_columns *columns, const uint16_t *times, double *lab,
                       double *values);

/* Bins of the root (first 10 % of the length or 20 mm, whichever is less) and of the ends (the last). */
size_t tdm_root_bins(const tdm_columns *columns, double length);

/* 10-90 % rise distance of the fit's change (its steeper one in a band), and between which bins it lies. */
double tdm_fall_width(const tdm_fall *fall);
int tdm_fall_main_step(const tdm_shape_fit *fit);

#endif
