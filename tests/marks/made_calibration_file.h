/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A calibration file of numbers chosen by hand, for the tests of what is read and what is refused. */
#ifndef TESTS_MARKS_MADE_CALIBRATION_FILE_H
#define TESTS_MARKS_MADE_CALIBRATION_FILE_H

#include "marks/calibration_file.h"

extern const tdm_calibration_origin made_origin;

/* Numbers with no short decimal form, in every member. */
tdm_calibration numbered_calibration(void);

/* As text; to be freed with tdm_free. */
char *calibration_text(const tdm_calibration *calibration, const tdm_calibration_origin *origin);

/* tdm_calibration_parse with the default limits. */
tdm_code parse_calibration(const char *text, tdm_warnings *warnings, tdm_calibration *out,
                           tdm_calibration_origin *origin, tdm_error *error);

#endif
