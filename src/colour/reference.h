/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The 24 patches' reference colours: the published ones, or a file measured on the user's own target. */
#ifndef TDM_COLOUR_REFERENCE_H
#define TDM_COLOUR_REFERENCE_H

#include <stdbool.h>
#include <stddef.h>

#include "tidemark/error.h"
#include "tidemark/limits.h"

enum { TDM_REFERENCE_PATCHES = 24 };

/* A value. */
typedef struct tdm_reference {
    double lab[TDM_REFERENCE_PATCHES][3]; /* D50, 2 degree observer; rows from the dark skin patch on */
    bool measured;                        /* false: published values, and the target's edition isn't known */
    char note[160]; /* "published values, edition since November 2014", or the file's name */
} tdm_reference;

extern const char *const tdm_patch_names[TDM_REFERENCE_PATCHES]; /* "dark skin" … "black" */

tdm_reference tdm_reference_published(void);

/* CGATS.17 text with SAMPLE_ID or SAMPLE_NAME and LAB_L LAB_A LAB_B, or XYZ_X XYZ_Y XYZ_Z, or spectral
 * columns (SPECTRAL_NM380 … or NM_380 …; steps of 5, 10 or 20 nm, reflectance as 0 to 1 or 0 to 100), which
 * are taken to D50 and 2 degrees (ASTM E308). TDM_ERR_FORMAT names line and reason. */
TDM_MUST_CHECK tdm_code tdm_reference_parse(const char *data, size_t size, const char *file,
                                            tdm_reference *out, tdm_error *error);
TDM_MUST_CHECK tdm_code tdm_reference_load(const char *path, const tdm_limits *limits, tdm_reference *out,
                                           tdm_error *error);

#endif
