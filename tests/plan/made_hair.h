/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Zones drawn strand by strand, as they are and with a root shade on them. The shade is laid on each strand's
 * own colour before shading, by a formula of the tests' own. */
#ifndef TESTS_PLAN_MADE_HAIR_H
#define TESTS_PLAN_MADE_HAIR_H

#include "measure/synthetic.h"

typedef struct made_shade {
    double lab[3], to, feather; /* feather: 10-90 %, mm */
} made_shade;

typedef struct made_head {
    double root[3], dark[3], light[3]; /* CIELAB: root, and the strands of the lengths */
    double light_share;
    double centre, width, jitter; /* of a strand's own fall, mm; sd of its centre from strand to strand */
    double shading;               /* height of the waves of light on a lock, relative */
    double noise;                 /* sd in CIELAB units */
    const made_shade *shade;      /* or NULL */
} made_head;

/* A grown-out head: root of level 4, lengths of level 6 with lights of level 8, a hard line at 34 mm. */
made_head made_regrown(void);

/* synthetic_colour; about: a made_head. */
void made_head_colour(double s, double t, const void *about, double lab[3]);

#endif
