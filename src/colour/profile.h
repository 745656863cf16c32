/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which profile a photograph's numbers are read by, opened and checked. */
#ifndef TDM_COLOUR_PROFILE_H
#define TDM_COLOUR_PROFILE_H

#include <lcms2.h>

#include "colour/device.h"

enum { TDM_PROFILE_NAME = 128 };

/* What lcms2 said last; the user data of its context. */
typedef struct tdm_lcms_message {
    char text[160];
} tdm_lcms_message;

typedef struct tdm_profile {
    cmsHPROFILE handle; /* of the context that was given */
    tdm_profile_source source;
    bool grey; /* one channel in */
    char name[TDM_PROFILE_NAME];
} tdm_profile;

/* Errors that come from a profile end in this advice. */
#define TDM_PROFILE_ADVICE                                                                                   \
    "save the photograph again with its profile intact, or use --ignore-profile to read it as sRGB"

/* context carries message as its user data. On TDM_OK the handle is the caller's to close. */
TDM_MUST_CHECK tdm_code tdm_profile_choose(cmsContext context, const tdm_lcms_message *message,
                                           const tdm_photo_info *info, bool ignore_profile, const char *file,
                                           tdm_warnings *warnings, tdm_profile *out, tdm_error *error);

#endif
