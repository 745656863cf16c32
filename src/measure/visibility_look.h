/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The place near the line where the step stands out most from the hair's texture. */
#ifndef TDM_MEASURE_VISIBILITY_LOOK_H
#define TDM_MEASURE_VISIBILITY_LOOK_H

#include "measure/fall.h"
#include "measure/scielab.h"

/* Rows [from, to) of what is seen. */
typedef struct tdm_seen_rows {
    size_t from, to;
} tdm_seen_rows;

/* One look: what is set against what. Of each pair the first is nearer the root. */
typedef struct tdm_look {
    double dprime; /* NaN where there is no place to look at */
    double step, texture;
    double direction[3]; /* of the step, in CIELAB */
    tdm_seen_rows patch[2];
    tdm_seen_rows plain[2]; /* where the texture is taken */
} tdm_look;

/* From a distance over 0. seen: NULL, or what was seen, for the caller to free, filled on TDM_OK only. */
TDM_MUST_CHECK tdm_code tdm_look_from(const tdm_scielab *scielab, const tdm_fall *fall, double distance_m,
                                      tdm_seen *seen, tdm_look *out, tdm_error *error);

#endif
