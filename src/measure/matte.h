/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The course of colour from root to ends freed from what light did to it: white gloss added, and light that
 * rises or falls along the hair. */
#ifndef TDM_MEASURE_MATTE_H
#define TDM_MEASURE_MATTE_H

#include <stddef.h>

#include "measure/shape.h"
#include "tidemark/error.h"

/* count places in the order of `along`; weights 0 (missing) and up. Borrowed. */
typedef struct tdm_seen_course {
    const double *along;
    const double *xyz; /* count * 3: mean linear light, Y = 1 for the perfect diffuser, D50 */
    const double *weight;
    const double *gloss; /* count: what scatter off the body's colours makes of the gloss, or NULL */
    size_t count;
    double length; /* of the path, in the units of along */
} tdm_seen_course;

/* What the course looks like once they are out. */
typedef struct tdm_matte_shape {
    tdm_shape shape;
    double root[3], step[2][3]; /* CIELAB: at the root, and what each step adds */
} tdm_matte_shape;

/* gloss: white light to take away; light: factor to divide what is left by, 1 on average. Both count numbers.
 * Where nothing can be told gloss is 0, light 1 and the shape uniform. */
TDM_MUST_CHECK tdm_code tdm_matte_find(const tdm_seen_course *course, double *gloss, double *light,
                                       tdm_matte_shape *shape, tdm_error *error);

/* The part of a mean gloss that is more than strands of different colour alone are taken for. */
double tdm_gloss_sure(double gloss);

/* Standard uncertainty of a gloss that was found. */
double tdm_gloss_doubt(double gloss);

/* One colour as it would be without them. May be in place. */
void tdm_matte_colour(const double xyz[3], double gloss, double light, double out[3]);

#endif
