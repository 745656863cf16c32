/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether 24 colours are those of the target, in this order, under an unknown light, exposure and tone. */
#ifndef TDM_COLOUR_FIND_MATCH_H
#define TDM_COLOUR_FIND_MATCH_H

#include "colour/device.h"
#include "colour/reference.h"

/* Linear RGB of the device raised to 1 / 2.2, so that equal steps look about equal. */
typedef struct tdm_find_colour {
    double value[3];
    bool top[3]; /* at the channel's end: the truth may be higher */
} tdm_find_colour;

/* encoded: count triples of 0 to 255. False where memory is short. */
bool tdm_find_colours_of(const tdm_device *device, const double (*encoded)[3], size_t count,
                         tdm_find_colour *out);

/* The published colours in the same numbers. */
typedef struct tdm_find_reference {
    double value[TDM_REFERENCE_PATCHES][3];
} tdm_find_reference;

tdm_find_reference tdm_find_reference_of(const tdm_device *device);

typedef struct tdm_find_match {
    double agreement; /* 0 to 1: mean of exp(-d^2 / 18) over the patches that aren't at the channels' top;
                         METHODS.md says what d is */
    int odd;          /* of them, those with d of 3 or more */
    bool odd_line;    /* a whole row or column of them: what lies there is something else */
} tdm_find_match;

/* colours: rows from the dark skin patch on. */
tdm_find_match tdm_find_match_of(const tdm_find_reference *reference,
                                 const tdm_find_colour *const colours[TDM_REFERENCE_PATCHES]);

#endif
