/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The edge of a shadow across the target. */
#include <math.h>

#include "colour/target.h"

tdm_code tdm_target_find_shade(const tdm_target *target, tdm_target_fit *fit, tdm_warnings *warnings,
                               tdm_error *error)
{
    (void)target;
    (void)fit;
    (void)warnings;
    (void)error;
    return TDM_OK;
}
