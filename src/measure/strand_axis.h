/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The direction in CIELAB that tells light strands from dark ones best. Shade moves L*, and a little of the
 * rest; lightened hair moves all three in its own proportion. */
#ifndef TDM_MEASURE_STRAND_AXIS_H
#define TDM_MEASURE_STRAND_AXIS_H

#include <stdbool.h>
#include <stddef.h>

#include "tidemark/error.h"

/* lab: count triples, without NaN. Fits two normal parts with one common covariance matrix in three
 * dimensions by expectation-maximisation from many starts, takes the split along which colours are most
 * bimodal and which shade can't have made, and gives the unit vector of Fisher's (1936) discriminant between
 * its parts, pointing to the lighter one. *found is false, and the axis untouched, where the colours don't
 * vary. */
TDM_MUST_CHECK tdm_code tdm_strand_axis(const double *lab, size_t count, double axis[3], bool *found,
                                        tdm_error *error);

#endif
