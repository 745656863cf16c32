/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calibration file: a fit that other photographs of the same sitting use. */
#ifndef TDM_MARKS_CALIBRATION_FILE_H
#define TDM_MARKS_CALIBRATION_FILE_H

#include "base/warnings.h"
#include "colour/calibration.h"
#include "tidemark/limits.h"

/* What stands beside the numbers in the file. */
typedef struct tdm_calibration_origin {
    char photo[256];   /* file name of the photograph it was fitted on */
    char sha256[65];   /* of that */
    char profile[128]; /* name of the colour space its numbers were in */
    char reference[160];
    char taken[24]; /* Exif time of that photograph, "" where none */
} tdm_calibration_origin;

/* JSON, "tidemark_calibration": 1; every number that tdm_calibration holds, to full precision. *out to be
 * freed with tdm_free. */
TDM_MUST_CHECK tdm_code tdm_calibration_text(const tdm_calibration *calibration,
                                             const tdm_calibration_origin *origin, char **out,
                                             tdm_error *error);
/* Everything is checked: types, finite numbers, rising knots, an invertible matrix, neutrals that stay
 * neutral, u above 0. Errors name the key or line and column. */
TDM_MUST_CHECK tdm_code tdm_calibration_parse(const char *data, size_t size, const char *file,
                                              const tdm_limits *limits, tdm_warnings *warnings,
                                              tdm_calibration *out, tdm_calibration_origin *origin,
                                              tdm_error *error);
TDM_MUST_CHECK tdm_code tdm_calibration_load(const char *path, const tdm_limits *limits,
                                             tdm_warnings *warnings, tdm_calibration *out,
                                             tdm_calibration_origin *origin, tdm_error *error);

#endif
