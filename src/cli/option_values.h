/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The values of options. Each returns below zero, or the exit status of wrong use, having said what is wrong.
 */
#ifndef TDM_CLI_OPTION_VALUES_H
#define TDM_CLI_OPTION_VALUES_H

#include "options.h"

/* A whole number in digits alone. */
int tdm_option_number(const char *option, const char *value, uint64_t least, uint64_t most, uint64_t *out);

/* mm above 0 and at most 2000, with a full stop in every locale. */
int tdm_option_mm(const char *option, const char *value, double *out);

/* A level, 1 to 12, likewise. */
int tdm_option_level(const char *option, const char *value, double *out);

int tdm_option_when(const char *option, const char *value, tdm_when *out);

#endif
