/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A zone that begins below the root line: what the gradient says from the path's start is said from the root.
 */
#include "measure/measure.h"

static void shift_gradient(const tdm_strip *strip, struct tdm_zone_reading *out)
{
    tdm_profile *profile = &out->gradient.profile;
    out->gradient.centre_mm.value = tdm_from_root(strip, out->gradient.centre_mm.value);
    for (size_t i = 0; i < profile->count; i++)
        profile->points[i].along = tdm_from_root(strip, profile->points[i].along);
}

static tdm_code compute(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_warnings *warnings,
                        tdm_error *error)
{
    out->root_mm = tdm_from_root(input->strip, 0);
    if (!(out->root_mm > 0))
        return TDM_OK;
    shift_gradient(input->strip, out);
    return tdm_warn(warnings, error, "zone-below-root", input->zone,
                    "the zone begins %.0f mm below the root: the root level here is that of the hair there, "
                    "not of the regrowth at the scalp",
                    out->root_mm);
}

/* After the gradient, before every measure that may ask it for a place. */
const tdm_measure tdm_measure_root = {.name = "root", .compute = compute};
