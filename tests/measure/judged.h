/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the quality checks say of a photograph made up for them. */
#ifndef TESTS_MEASURE_JUDGED_H
#define TESTS_MEASURE_JUDGED_H

#include "measure/quality.h"
#include "measure/reading_parts.h"

/* One zone of a photograph of which nothing is decoded: only what strip and calibration tell. */
typedef struct judged {
    double path[4], widths[2];
    tdm_zone_marks zone;
    tdm_marks marks;
    tdm_pixels pixels;
    tdm_photo_info photo;
    tdm_calibration calibration;
    tdm_quality_input input;
    tdm_strip strip;
    tdm_quality quality;
    tdm_warnings warnings;
    tdm_error error;
    bool carries;
} judged;

/* Nothing to find fault with. */
void judged_good(judged *it);
/* Frees what was said of it; what it is stays. */
void judged_free(judged *it);
/* A good one again. */
void judged_again(judged *it);

/* Judges anew, and whether there is such a warning. */
bool zone_warns(judged *it, const char *code);
bool photo_warns(judged *it, const char *code);

/* Fails where there is none. */
const tdm_quality_figure *judged_figure(const judged *it, const char *code);

#endif
