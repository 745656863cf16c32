/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TIDEMARK_VERSION_H
#define TIDEMARK_VERSION_H

#include "tidemark/export.h"

TDM_BEGIN_DECLS

/* "0.1.0"; static storage. */
TDM_API const char *tdm_version(void);

/* Version of a library that the readings depend on: name is "lcms2", "libjpeg-turbo", "libpng" or "gsl";
 * NULL for any other name. Static storage. */
TDM_API const char *tdm_library_version(const char *name);

TDM_END_DECLS

#endif
