/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_version.h>
#include <string.h>

#include "colour/device.h"
#include "photo/photo.h"
#include "tidemark/version.h"

const char *tdm_library_version(const char *name)
{
    if (strcmp(name, "lcms2") == 0)
        return tdm_lcms_version();
    if (strcmp(name, "gsl") == 0)
        return gsl_version;
    return tdm_photo_library_version(name);
}
