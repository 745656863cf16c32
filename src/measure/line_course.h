/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line's own course across the zone: straight, curved, in a zigzag. */
#ifndef TDM_MEASURE_LINE_COURSE_H
#define TDM_MEASURE_LINE_COURSE_H

#include <stdbool.h>
#include <stddef.h>

#include "measure/stagger.h"

typedef struct tdm_zigzag {
    double period;    /* in the units of across */
    double amplitude; /* peak to peak */
} tdm_zigzag;

/* Whether residuals from the line's fit alternate regularly. across: in rising order, at middles of columns
 * of this width; places missing between them are allowed. */
bool tdm_line_zigzag(const double *across, const double *residual, size_t count, double column,
                     tdm_zigzag *out);

#endif
