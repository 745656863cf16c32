/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the calibration file's writer, reader and check share. */
#ifndef TDM_MARKS_CALIBRATION_FILE_PARTS_H
#define TDM_MARKS_CALIBRATION_FILE_PARTS_H

#include "marks/calibration_file.h"
#include "marks/json_walk.h"

enum { TDM_CALIBRATION_METHODS = 3 };
extern const char *const tdm_calibration_methods[TDM_CALIBRATION_METHODS]; /* by tdm_calibration_method */

/* object must be one; where is its key, "" for the file. One warning a file, "calibration-unknown-key", where
 * it has keys that aren't in the NULL-terminated list. */
TDM_MUST_CHECK tdm_code tdm_calibration_object(const tdm_marks_reader *reader, json_t *object,
                                               const char *where, const char *const *known);
/* Exactly count finite numbers. */
TDM_MUST_CHECK tdm_code tdm_calibration_list(const tdm_marks_reader *reader, const json_t *value,
                                             const char *key, int count, double *out);
/* The same, under a key of an object. */
TDM_MUST_CHECK tdm_code tdm_calibration_child(const tdm_marks_reader *reader, const json_t *object,
                                              const char *parent, const char *key, int count, double *out);
/* Everything from "to_rgb" to "u_ab". */
TDM_MUST_CHECK tdm_code tdm_calibration_numbers(const tdm_marks_reader *reader, const json_t *root,
                                                tdm_calibration *out);
/* What the numbers must be to each other; errors name the key. */
TDM_MUST_CHECK tdm_code tdm_calibration_check(const tdm_marks_reader *reader,
                                              const tdm_calibration *calibration);

#endif
