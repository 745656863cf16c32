/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Calibrations of known numbers for the tests. */
#ifndef TESTS_COLOUR_MADE_CALIBRATION_H
#define TESTS_COLOUR_MADE_CALIBRATION_H

#include "colour/calibration.h"

enum {
    MADE_GAINS = 1,  /* white balance and a stop of exposure */
    MADE_CURVES = 2, /* with curves of eight knots and a matrix that mixes channels */
    MADE_ROOTS = 3   /* with root-polynomial terms besides */
};

/* Neutrals stay neutral in each. */
tdm_calibration made_calibration(const tdm_device *device, int kind);

#endif
