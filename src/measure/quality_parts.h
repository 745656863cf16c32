/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Single figures of the photograph's quality. Each is NaN where it can't be told. */
#ifndef TDM_MEASURE_QUALITY_PARTS_H
#define TDM_MEASURE_QUALITY_PARTS_H

#include "measure/quality.h"

/* Standard deviation of L* from pixel to pixel on even dark patches of the target, else on the greys. */
TDM_MUST_CHECK tdm_code tdm_quality_noise(const tdm_quality_input *input, double *lstar, tdm_error *error);

/* How much larger, L*, steps between pixels are where blocks of 8 meet, than elsewhere. */
TDM_MUST_CHECK tdm_code tdm_quality_blocks(const tdm_quality_input *input, double *lstar, tdm_error *error);

/* Angle in degrees between the target's plane and the picture's. doubt: from corners half a pixel off. */
double tdm_quality_tilt(const tdm_quality_input *input, double *doubt);

/* How far apart, in stops, the correction moves the colour channels at mid grey. */
double tdm_quality_cast(const tdm_calibration *calibration);

/* Difference in colour of the light between places, CIELAB C*, and its standard uncertainty. */
TDM_MUST_CHECK tdm_code tdm_quality_mixed(const tdm_quality_input *input, double *chroma, double *doubt,
                                          tdm_error *error);

/* By how many % the light at a place differs from that at the target, in either direction. */
void tdm_quality_uneven(const tdm_calibration *calibration, double x, double y, double *percent,
                        double *doubt);

#endif
