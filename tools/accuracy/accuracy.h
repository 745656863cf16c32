/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the parts of the accuracy tool. */
#ifndef TOOLS_ACCURACY_H
#define TOOLS_ACCURACY_H

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>

#include "tidemark/tidemark.h"

/* What a tool that draws many scenes is asked: scenes [first, first + count). */
typedef struct accuracy_run {
    const char *folder;
    unsigned first, count;
    bool verbose, kept;
} accuracy_run;

/* False, with a line on standard error, for wrong use. Makes the folder. */
bool accuracy_options(int count, char **arguments, const char *name, accuracy_run *out);
/* Removes a drawn photograph, its marks and its truth. */
void accuracy_remove(const char *folder, const char *name);
/* Writes the scene that all others are laid over, and takes it; false with a line. */
bool accuracy_base(json_t *base, const char *folder, char path[4200]);

/* Draws one scene ({"name", "set": ["key=value", …]} over a base scene) as folder/name.*; true on success. */
bool accuracy_render(const json_t *scene, const char *base, const char *folder, const char *name);

/* What is compared, and how much error is allowed: the larger of an absolute and a relative bound. */
typedef struct accuracy_figure {
    const char *label;
    const char *figure;   /* path in the figures' table */
    const char *truth[2]; /* keys in the truth's zone */
    int index;            /* of a list (Lab), -1 for a number */
    double absolute, relative;
    double most_outside; /* share of the zones that may lie beyond the bound before the tool fails: what was
                            reached, so that it can't get worse unseen; 0 where the aim is met */
    const char *unit;
} accuracy_figure;

typedef struct accuracy_tally {
    size_t count;      /* compared */
    size_t missing;    /* truth has one, the reading doesn't */
    size_t outside;    /* beyond the bound */
    size_t covered;    /* |error| within u */
    double sum, worst; /* of |error| */
    double sum_u;
    double worst_bound_share;
    char worst_where[160];
} accuracy_tally;

enum { ACCURACY_FIGURES = 12 };
extern const accuracy_figure accuracy_figures[];
extern const size_t accuracy_figure_count;

/* Reads folder/name.jpg and adds its errors; true on success. pooled: the truth is the mean over the scene's
 * zones, which are strips of one head's hair, so that the error holds what sampling other strands does. */
bool accuracy_read(const char *folder, const char *name, bool pooled, bool verbose, accuracy_tally *tallies);
/* Adds one reading's errors; verbose prints each. */
void accuracy_add(const tdm_reading *reading, const json_t *truth, const char *name, bool pooled,
                  bool verbose, accuracy_tally *tallies);
/* Prints the table; true where no figure is worse than was reached. */
bool accuracy_print(const accuracy_tally *tallies, size_t scenes);

#endif
