/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of measures. To add one: write a file with a constant descriptor, name it in measures.c, and give
 * its figures their rows in figures.c. */
#ifndef TDM_MEASURE_MEASURE_H
#define TDM_MEASURE_MEASURE_H

#include "colour/level.h"
#include "measure/budget.h"
#include "measure/columns.h"
#include "measure/fall.h"
#include "measure/zone_reading.h"

/* Everything a measure may look at: constant, made once a zone. */
typedef struct tdm_measure_input {
    const char *zone; /* name, for warnings */
    const tdm_strip *strip;
    const tdm_columns *columns;
    const tdm_resampling *resampling;
    const tdm_fall *fall;
    const tdm_sources *sources;
    const tdm_level_scale *scale;
} tdm_measure_input;

typedef struct tdm_measure {
    const char *name;
    /* Fills its figures; what the zone can't carry stays null, with a warning that says why. */
    tdm_code (*compute)(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_warnings *warnings,
                        tdm_error *error);
} tdm_measure;

extern const tdm_measure tdm_measure_areas;
extern const tdm_measure tdm_measure_gradient;
extern const tdm_measure tdm_measure_root;
extern const tdm_measure tdm_measure_demarcation;
extern const tdm_measure tdm_measure_strands;
extern const tdm_measure tdm_measure_grey;
extern const tdm_measure tdm_measure_visibility;
extern const tdm_measure tdm_measure_evenness; /* after strands, whose colours it looks at */

/* In the order in which they run; ends with NULL. */
extern const tdm_measure *const tdm_measures[];

/* Mean of the fall's gloss over bins [from, to), each by its weight. */
double tdm_gloss_mean(const tdm_measure_input *input, size_t from, size_t to);

/* A length in mm as the strip has it; NaN without a scale. */
double tdm_mm(const tdm_strip *strip, double length);

/* mm from the root line of a place given from the path's start in the strip's units; NaN without a scale. */
double tdm_from_root(const tdm_strip *strip, double along);

#endif
