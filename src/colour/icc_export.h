/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A calibration as a standard ICC input profile, so that other software gets the same correction. */
#ifndef TDM_COLOUR_ICC_EXPORT_H
#define TDM_COLOUR_ICC_EXPORT_H

#include "colour/calibration.h"

/* Profile of the device's numbers under the calibration (uneven light apart, which no profile can carry):
 * curves and a matrix where those say it all, else a table. Same input, same bytes: no date of making. bytes:
 * malloc'ed, *size of them. description: ASCII. */
TDM_MUST_CHECK tdm_code tdm_icc_export(const tdm_device *device, const tdm_calibration *calibration,
                                       const char *description, uint8_t **bytes, size_t *size,
                                       tdm_error *error);

#endif
