/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hair without pigment among the others. */
#ifndef GREY_H
#define GREY_H

#include "drawing.h"

/* The keys grey.*. */
bool scn_read_grey(scn_scene *scene);

/* How much of a strand rooted at u is white: 0 or 1. Numbers of its own, so that nothing else changes. */
double scn_strand_white(scn_hand *hand, double u);

/* The strand's colour at its progress w: white at the root, and where dye has taken it the lengths'. */
scn_xyz scn_with_white(const scn_paint *paint, const scn_strand_paint *strand, double w, scn_xyz xyz);
/* What of it is still white there. */
double scn_white_left(const scn_scene *scene, const scn_strand_paint *strand, double w);

/* Sums over a zone's root: white hair and all hair, by cover. */
typedef struct {
    double white, cover;
} scn_grey_sums;
void scn_add_grey(scn_grey_sums *sums, const scn_more *more, double cover);
/* Only in scenes with grey hair. */
bool scn_tell_grey(json_t *zone_json, const scn_scene *scene, const scn_grey_sums *sums);

#endif
