/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_REPORT_WARNING_LIST_H
#define TDM_REPORT_WARNING_LIST_H

#include "report/page.h"

/* Warnings from one or more places; label is "before", "after" or "". */
typedef struct tdm_warning_source {
    const char *label;
    const tdm_warning *warnings;
    size_t count;
} tdm_warning_source;

/* Each different text once, with the photographs and zones that it holds for. Nothing where there are none.
 */
void tdm_page_warnings(tdm_page *page, const tdm_warning_source *sources, size_t count);

#endif
