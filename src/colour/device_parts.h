/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of a device, for the files that make and use it. */
#ifndef TDM_COLOUR_DEVICE_PARTS_H
#define TDM_COLOUR_DEVICE_PARTS_H

#include "colour/profile.h"

enum { TDM_CODES = 65536 }; /* table entries: a 16-bit code, or an 8-bit one times 257 */

typedef enum tdm_device_kind {
    TDM_DEVICE_SHAPER, /* curve a channel, then a matrix: table and plain C */
    TDM_DEVICE_GREY,   /* one channel: its XYZ by table */
    TDM_DEVICE_LCMS    /* anything else: lcms2 for each pixel */
} tdm_device_kind;

struct tdm_device {
    cmsContext context;
    tdm_lcms_message message;
    tdm_device_kind kind;
    cmsHTRANSFORM transform; /* NULL but for TDM_DEVICE_LCMS */
    /* shaper: linear working red of all codes, then green, blue; grey: X Y Z of each code; else NULL */
    float *table;
    double primaries[9];
    tdm_profile_source source;
    char name[TDM_PROFILE_NAME];
};

/* Fills kind, transform or table, and primaries. */
TDM_MUST_CHECK tdm_code tdm_device_fill(tdm_device *device, const tdm_profile *profile, const char *file,
                                        tdm_error *error);

#endif
