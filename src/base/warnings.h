/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of warnings that a reading gathers on its way. */
#ifndef TDM_BASE_WARNINGS_H
#define TDM_BASE_WARNINGS_H

#include <stdbool.h>
#include <stddef.h>

#include "tidemark/reading.h"

/* Starts as {0}; owns its items' strings (the code is static storage of the caller). */
typedef struct tdm_warnings {
    tdm_warning *items;
    size_t count;
    size_t room;
} tdm_warnings;

/* code: a string literal. zone may be NULL. */
TDM_MUST_CHECK tdm_code tdm_warn(tdm_warnings *warnings, tdm_error *error, const char *code, const char *zone,
                                 const char *format, ...) TDM_PRINTF(5, 6);
bool tdm_warnings_have(const tdm_warnings *warnings, const char *code);
void tdm_warnings_free(tdm_warnings *warnings);

#endif
