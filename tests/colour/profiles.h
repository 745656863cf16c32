/* SPDX-License-Identifier: GPL-3.0-or-later */
/* ICC profiles built with lcms2 for the tests, as bytes. */
#ifndef TESTS_COLOUR_PROFILES_H
#define TESTS_COLOUR_PROFILES_H

#include <stddef.h>
#include <stdint.h>

#include "colour/device.h"

typedef struct icc {
    uint8_t *bytes; /* malloc'ed */
    size_t size;
} icc;

icc icc_srgb(void);
icc icc_display_p3(void);
icc icc_gamma(double gamma); /* sRGB primaries */
icc icc_table_curves(void);  /* curves of 1024 sampled points */
icc icc_lut(void);           /* A2B0, 17 points a side, to CIELAB; no plain matrix would match it */
icc icc_lut_of_srgb(void);   /* sRGB as a table of 33 points a side */
icc icc_grey(void);          /* gamma 1.8 */
icc icc_cmyk(void);          /* output class, four channels */
icc icc_lab(void);           /* abstract Lab */

/* A device from bytes; fails the test where it can't be made. */
tdm_device *device_of(icc profile, bool grey);
tdm_code try_device(icc profile, bool grey, bool ignore, tdm_device **out, tdm_error *error);
tdm_device *srgb_device(void);

#endif
