/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_COMPARE_SETUP_H
#define TDM_COMPARE_SETUP_H

#include "base/warnings.h"

/* Warns where the two photographs weren't taken or calibrated alike; codes in METHODS.md. */
TDM_MUST_CHECK tdm_code tdm_warn_setup(tdm_warnings *warnings, const tdm_reading *before,
                                       const tdm_reading *after, tdm_error *error);

#endif
