/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_STRIP_MASK_H
#define TDM_STRIP_MASK_H

#include "marks/marks.h"
#include "photo/photo.h"

/* One byte a pixel of rect, 1 where the pixel's centre lies in any exclusion (even-odd rule); malloc'ed. *out
 * is NULL where no exclusion touches the rectangle. */
TDM_MUST_CHECK tdm_code tdm_mask_make(const tdm_marks *marks, tdm_rect rect, uint8_t **out, tdm_error *error);

#endif
