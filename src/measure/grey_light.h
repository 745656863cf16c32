/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What makes light places among hair of one colour light: white hair, lightened hair, or shine. */
#ifndef TDM_MEASURE_GREY_LIGHT_H
#define TDM_MEASURE_GREY_LIGHT_H

/* Colours as linear XYZ D50, Y = 1 for the perfect diffuser. */
typedef struct tdm_grey_ends {
    double natural[3];
    double white[3];
    double light[3]; /* lightened hair; light[1] NaN where none is known */
} tdm_grey_ends;

/* Parts of what lighter places have over natural hair, in Y; they add up to 1. */
typedef struct tdm_grey_parts {
    double white, pigment, gloss; /* pigment: lightened hair, or natural hair in more light */
} tdm_grey_parts;

/* seen: a colour lighter than natural hair on the line along which places vary. */
tdm_grey_parts tdm_grey_parts_of(const tdm_grey_ends *ends, const double seen[3]);

/* CIELAB of the hair that would lie at white's luminance on the way from natural to seen. */
void tdm_grey_colour(const tdm_grey_ends *ends, const double seen[3], double lab[3]);

#endif
