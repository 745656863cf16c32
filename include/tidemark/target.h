/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The 24-patch target in a photograph, and the correction fitted to it. */
#ifndef TIDEMARK_TARGET_H
#define TIDEMARK_TARGET_H

#include "tidemark/reading.h"

TDM_BEGIN_DECLS

enum { TDM_TARGET_PATCHES = 24 };

typedef struct tdm_target_reading tdm_target_reading;

/* Finds the target in the photograph, or takes the corners in its marks file, and fits the correction.
 * marks_path NULL means the file beside the photograph, which may be missing. TDM_ERR_UNUSABLE where there is
 * no target. On TDM_OK *out is the caller's, to be freed. */
TDM_API TDM_MUST_CHECK tdm_code tdm_read_target(const char *photo_path, const char *marks_path,
                                                const tdm_read_options *options, tdm_target_reading **out,
                                                tdm_error *error);
TDM_API void tdm_target_reading_free(tdm_target_reading *target); /* NULL is allowed */

typedef struct tdm_target_facts {
    const char *how;   /* "marked" or "found" */
    const char *way;   /* "upright", "on its left side", "upside down", "on its right side" */
    double turn_deg;   /* clockwise from upright, -180 to 180 */
    bool mirrored;     /* as in a mirror */
    double confidence; /* 0 to 1, of a target that was found; NaN where marked */
    double corners[8]; /* outer corners of the block: at dark skin, bluish green, black, white; upright
                          pixels, x y each */
    /* CIEDE2000 of the patches that count, against their reference */
    double before_mean, before_max;
    double residual_mean, residual_max;
    double left_out_mean;  /* each patch predicted by a fit without it */
    double hair_mean;      /* the same over the patches nearest to hair colours */
    bool root_polynomial;  /* the fit has root-polynomial terms */
    double u_lstar;        /* expanded uncertainty that the correction leaves in L* of hair */
    const char *reference; /* where the reference colours come from */
} tdm_target_facts;

typedef struct tdm_target_patch {
    const char *name;        /* "dark skin" … "black" */
    const char *state;       /* "kept", "clipped", "crushed", "odd" (dirty, glossy or shaded) */
    double reference_lab[3]; /* CIELAB D50 */
    double before_lab[3];    /* by the photograph's profile alone */
    double after_lab[3];     /* after the correction */
    double de00_before, de00_after, left_out; /* left_out NaN where there is none */
} tdm_target_patch;

TDM_API void tdm_target_about(const tdm_target_reading *target, tdm_target_facts *out);
TDM_API void tdm_target_photo(const tdm_target_reading *target, tdm_photo_facts *out);
/* index 0 to 23, rows from the dark skin patch on; strings belong to the reading. */
TDM_API void tdm_target_patch_at(const tdm_target_reading *target, size_t index, tdm_target_patch *out);
TDM_API const tdm_warning *tdm_target_warnings(const tdm_target_reading *target, size_t *count);

/* The calibration file's text, for other photographs of the same sitting; to be freed with tdm_free. */
TDM_API TDM_MUST_CHECK tdm_code tdm_target_calibration(const tdm_target_reading *target, char **out,
                                                       tdm_error *error);
/* The same correction as an ICC input profile; to be freed with tdm_free. */
TDM_API TDM_MUST_CHECK tdm_code tdm_target_profile(const tdm_target_reading *target, uint8_t **bytes,
                                                   size_t *size, tdm_error *error);
/* A PNG picture of the target's part of the photograph, with the areas drawn where it was sampled; to be
 * freed with tdm_free. */
TDM_API TDM_MUST_CHECK tdm_code tdm_target_overlay(const tdm_target_reading *target, uint8_t **bytes,
                                                   size_t *size, tdm_error *error);

TDM_END_DECLS

#endif
