/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How much white hair lies among hair of one colour, from how the light of many small places is distributed.
 */
#ifndef TDM_MEASURE_GREY_MIX_H
#define TDM_MEASURE_GREY_MIX_H

#include <stddef.h>

#include "tidemark/error.h"

/* A place holds white hair in the share f, which from place to place has a beta distribution of the mean
 * `share` and the concentration `grain`: how many hairs, as it were, fall by chance into a place. Its light
 * is (1 - f) natural + f white, times a shade whose logarithm is normal. */
typedef struct tdm_grey_mix {
    double natural; /* luminance Y, 1 for the perfect diffuser */
    double share;   /* 0 to 1 */
    double grain;   /* above 0 */
    double shade;   /* standard deviation of the natural logarithm */
} tdm_grey_mix;

/* count luminances above 0. white: luminance of white hair. start NULL: searched from several starts; else
 * one search from there. Likeliest by the Nelder-Mead simplex (1965), with weak expectations of grain and
 * shade that tell where the places don't. TDM_ERR_UNUSABLE for fewer than 50 places. */
TDM_MUST_CHECK tdm_code tdm_grey_mix_fit(const double *light, size_t count, double white,
                                         const tdm_grey_mix *start, tdm_grey_mix *out, tdm_error *error);

#endif
