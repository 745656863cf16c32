/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A zone's hair parted into body colour and shading, so that colour can be laid on it in thought. */
#ifndef TDM_PLAN_HAIR_H
#define TDM_PLAN_HAIR_H

#include "measure/fall.h"
#include "measure/zone_reading.h"
#include "strip/strip.h"

typedef struct tdm_hair {
    tdm_strip strip;       /* as it is; arrays owned */
    float *body;           /* rows * cols * 3: linear XYZ of the hair itself, without shading */
    float *shade;          /* rows * cols: factor on linear light, near 1 in the mean of a few cm */
    double root_lab[3];    /* before the line */
    double lengths_lab[3]; /* beyond it */
} tdm_hair;

/* From the strip, its fall and its strands (light and dark colours where they are separable). */
TDM_MUST_CHECK tdm_code tdm_hair_make(const tdm_strip *strip, const tdm_fall *fall,
                                      const struct tdm_zone_reading *reading, tdm_hair *out,
                                      tdm_error *error);

/* The same in cells of about `cell` mm, each the mean of those it holds. */
TDM_MUST_CHECK tdm_code tdm_hair_coarser(const tdm_hair *hair, double cell, tdm_hair *out, tdm_error *error);

/* Room for a strip of that size; freed in either case. */
TDM_MUST_CHECK tdm_code tdm_hair_allocate(const tdm_strip *like, tdm_hair *out, tdm_error *error);
void tdm_hair_free(tdm_hair *hair);

#endif
