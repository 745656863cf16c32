/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What standard output can show. */
#ifndef TDM_CLI_TERMINAL_H
#define TDM_CLI_TERMINAL_H

#include "options.h"
#include "tidemark/report.h"

/* By option first, then by terminal and environment: NO_COLOR, TERM, COLORTERM, and LC_ALL, LC_CTYPE or LANG
 * for UTF-8. */
tdm_text_style tdm_terminal_style(const tdm_options *options);

/* A person sees both streams: what stands in the report needn't be said again on standard error. */
bool tdm_terminal_shows_report(const tdm_options *options);

#endif
