/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The scale from a thing of known size: the 24-patch target, or a card. */
#ifndef TDM_MARKS_SIZE_SCALE_H
#define TDM_MARKS_SIZE_SCALE_H

#include "marks/marks.h"

/* Millimetres a pixel. corners: the target's, in the order of the marks (NULL: the marked ones, if any).
 * target_width_mm: outer width of the block of patches (NaN: the marked one, if any). The target counts
 * before the cards. *spread: relative standard uncertainty from what the sides disagree by (perspective) and
 * from the marking. *source: "target", "grey", or NULL where nothing of known size is marked; then the others
 * are NaN. Static storage. */
void tdm_scale_from_sizes(const tdm_marks *marks, const double corners[8], double target_width_mm,
                          double *mm_per_px, double *spread, const char **source);

#endif
