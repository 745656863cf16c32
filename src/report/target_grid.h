/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The patches laid out as they lie in the target. */
#ifndef TDM_REPORT_TARGET_GRID_H
#define TDM_REPORT_TARGET_GRID_H

#include "report/page.h"

/* Four rows of six: name, colours (reference and read) where the terminal has them, error or why not. */
void tdm_page_patches(tdm_page *page, const tdm_target_reading *target);

#endif
