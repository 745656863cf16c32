/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The photograph's own numbers to linear XYZ D50, through lcms2 in floating point. */
#ifndef TDM_COLOUR_DEVICE_H
#define TDM_COLOUR_DEVICE_H

#include "base/warnings.h"
#include "photo/photo.h"

/* Where the colour space came from: a result, never just a log line. */
typedef enum tdm_profile_source {
    TDM_PROFILE_EMBEDDED, /* ICC profile in the file */
    TDM_PROFILE_DECLARED, /* the caller's choice (ignore_profile) */
    TDM_PROFILE_IMPLIED,  /* the file's metadata: sRGB chunk, cICP, EXIF, gAMA */
    TDM_PROFILE_ASSUMED   /* nothing said: sRGB, with warning "profile-assumed" */
} tdm_profile_source;

typedef struct tdm_device tdm_device;

/* A damaged profile, or one that isn't for RGB (grey profiles are for grey pictures), is TDM_ERR_FORMAT
 * unless ignore_profile, and so is info's colour_fault (with its own code). file is for messages. */
TDM_MUST_CHECK tdm_code tdm_device_create(const tdm_photo_info *info, bool ignore_profile, const char *file,
                                          tdm_warnings *warnings, tdm_device **out, tdm_error *error);
void tdm_device_free(tdm_device *device); /* NULL is allowed */

const char *tdm_device_profile(const tdm_device *device); /* description, owned by the device */
tdm_profile_source tdm_device_source(const tdm_device *device);
const char *
tdm_profile_source_word(tdm_profile_source source); /* "embedded", "declared", "implied", "assumed" */

/* rgb: count triples of 0 to 1. xyz: count triples, Y = 1 for device white. */
void tdm_device_to_xyz(const tdm_device *device, const float *rgb, float *xyz, size_t count);

/* Linear working RGB of the device's own primaries to XYZ D50 (row-major 3x3), for fits in linear light:
 * a matrix profile's colorants, else sRGB's adapted to D50. Neutral RGB is neutral XYZ. */
const double *tdm_device_primaries(const tdm_device *device);

const char *tdm_lcms_version(void); /* "2.14" */

#endif
