/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The body colours that a zone's hair may have, from its root's to its lightest strands', and the parting of
 * a colour that is seen into body and shading. */
#ifndef TDM_PLAN_LOCUS_H
#define TDM_PLAN_LOCUS_H

enum { TDM_LOCUS_KNOTS = 4, TDM_LOCUS_STEPS = 64 };

typedef struct tdm_locus {
    double lab[TDM_LOCUS_STEPS + 1][3]; /* CIELAB D50, evenly spaced, L* rising */
    double xyz[TDM_LOCUS_STEPS + 1][3]; /* the same in linear XYZ */
} tdm_locus;

/* A polyline in CIELAB through 1 to TDM_LOCUS_KNOTS colours, sorted here by L*, and carried on a little
 * beyond both ends. */
void tdm_locus_make(double knots[][3], int count, tdm_locus *out);

/* Step of the locus whose colour, under some shading, is likeliest to be seen as lab. Shading multiplies XYZ,
 * and so L* + 16, a* and b*, by one factor (ISO/CIE 11664-4). */
int tdm_locus_step(const tdm_locus *locus, const double lab[3]);

/* The factor on linear light that takes the step's colour nearest to lab. */
double tdm_locus_shade(const tdm_locus *locus, int step, const double lab[3]);

#endif
