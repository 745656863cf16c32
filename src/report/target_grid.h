/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The patches laid out as they lie in the target. */
#ifndef TDM_REPORT_TARGET_GRID_H
#define TDM_REPORT_TARGET_GRID_H

#include "report/page.h"

/* Four rows of six: number and name, colours (reference and read) where the terminal has them, the error by a
 * fit without the patch, "x" where it was left out of the fit. On a narrow page the names follow in a list.
 */
void tdm_page_patches(tdm_page *page, const tdm_target_reading *target);

#endif
