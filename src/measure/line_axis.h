/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The direction in CIELAB along which one column's change from root to ends is told best. */
#ifndef TDM_MEASURE_LINE_AXIS_H
#define TDM_MEASURE_LINE_AXIS_H

#include "measure/columns.h"
#include "measure/fall.h"

typedef struct tdm_line_axis {
    double origin[3];
    double axis[3];
    double unit;
    double bend[4]; /* value: of powers of axis . (lab - origin) / unit */
} tdm_line_axis;

/* Columns differ from one another by shade, by their share of light strands and by shine, each in a direction
 * of its own. Fisher's discriminant (1936) between root and ends against those differences: the projection of
 * a colour that keeps the colour line's unit (axis . direction = 1) and has the least of them. Hair's colours
 * from root to ends lie on a slightly bent line, which another projection would show as another course: a
 * cubic brings the zone's mean course back to that on the colour line. The colour line's own direction where
 * no other can be told. Within [from, to] along the fall. */
TDM_MUST_CHECK tdm_code tdm_line_axis_make(const tdm_columns *columns, const tdm_fall *fall, double from,
                                           double to, tdm_line_axis *out, tdm_error *error);

double tdm_line_axis_value(const tdm_line_axis *axis, const double lab[3]);

#endif
