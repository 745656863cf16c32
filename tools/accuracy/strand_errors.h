/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far readings of light and dark strands are off what was drawn. */
#ifndef TOOLS_STRAND_ERRORS_H
#define TOOLS_STRAND_ERRORS_H

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>

#include "tidemark/tidemark.h"

enum { STRAND_MAIN = 4, STRAND_FIGURES = 13 }; /* of the whole course; with those of root, mid and ends */

typedef struct strand_tally {
    size_t read, missing, beyond; /* missing: drawn but not read */
    double sum, worst;            /* of |error| */
    char where[96];               /* of the worst */
} strand_tally;

typedef struct strand_tallies {
    size_t zones, lit; /* all; with lights */
    strand_tally of[STRAND_FIGURES];
    size_t patterns, wrong_patterns; /* zones whose ribbons were called regular or random */
    size_t drawn, drawn_wrong;       /* zones whose drawn spacings have a cv; where it tells wrongly */
    size_t plain, apart;             /* zones without lights; of these told as light and dark */
    size_t clear, missed; /* zones with lights of 6 L* and a share of 0.1 or more; where they aren't told */
    size_t lit_apart;     /* zones with lights told as light and dark */
} strand_tallies;

typedef struct strand_scene {
    bool lit, two, regular; /* lights; of two kinds; regular ribbons of the first */
    double px_mm;
} strand_scene;

/* Adds one zone; `where` names it, and `verbose` prints it. */
void strand_add(const tdm_zone_reading *zone, json_t *truth, const strand_scene *scene, const char *where,
                bool verbose, strand_tallies *into);
void strand_join(const strand_tallies *from, strand_tallies *to);
/* strand_print.c */
const char *strand_label(size_t figure);
void strand_print_head(void);
void strand_print_row(const char *name, const strand_tallies *it);
void strand_print_figures(const strand_tallies *it);
/* Whether few enough lie beyond. */
bool strand_within(const strand_tallies *it);

#endif
