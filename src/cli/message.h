/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One line on standard error each: `tidemark: FILE: PLACE: text`. Control characters in names are written as
 * \n, \t or \x1b, so that a line stays one line and can't steer a terminal. */
#ifndef TDM_CLI_MESSAGE_H
#define TDM_CLI_MESSAGE_H

#include "tidemark/error.h"
#include "tidemark/reading.h"

/* Says what is wrong; returns the exit status for it. */
int tdm_say_error(const tdm_error *error);

/* Says how the command is used; returns exit status 2. */
int tdm_usage_error(const char *format, ...) TDM_PRINTF(1, 2);

/* `tidemark: FILE: warning: text`, with the zone before the text where it has one. file may be NULL. */
void tdm_say_warnings(const char *file, const tdm_warning *warnings, size_t count);

/* Says so where the photograph that was read isn't usable; returns the exit status for it, 0 where it is. */
int tdm_say_usable(const char *file, const tdm_reading *reading);

#endif
