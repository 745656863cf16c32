/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How strongly a JPEG was compressed, from its own quantisation table. */
#ifndef TDM_PHOTO_JPEG_QUALITY_H
#define TDM_PHOTO_JPEG_QUALITY_H

#include "photo/jpeg_reader.h"

/* Quality on the scale of the Independent JPEG Group, 1 to 100, whose table for luminance is nearest to the
 * file's; 0 where the header brings no table. *step: mean step of the lowest nine frequencies but the mean,
 * in levels of the coefficients; 0 where there is none. The header must have been read. */
int tdm_jpeg_quality(const tdm_jpeg *jpeg, double *step);

#endif
