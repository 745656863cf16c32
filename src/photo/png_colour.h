/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a PNG says of its colours (PNG third edition, 4.3: the order in which its chunks count). */
#ifndef TDM_PHOTO_PNG_COLOUR_H
#define TDM_PHOTO_PNG_COLOUR_H

#include "base/warnings.h"
#include "photo/photo.h"
#include "photo/png_chunks.h"

/* Sets info's colour, gamma and chromaticity; for TDM_COLOUR_ICC the profile is still to be inflated.
 * A chunk that counts and is damaged is TDM_ERR_FORMAT; one that doesn't count is a warning "photo-png". */
TDM_MUST_CHECK tdm_code tdm_png_colour(const tdm_png_chunks *chunks, const char *name, tdm_warnings *warnings,
                                       tdm_photo_info *info, tdm_error *error);

#endif
