/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compare/setup.h"

#include <math.h>
#include <string.h>

#include "compare/growth.h"

/* One photograph with more than this many times the other's millimetres a pixel resolves other strands. */
static const double most_scale_ratio = 2;

static tdm_code warn_calibration(tdm_warnings *warnings, const tdm_calibration_facts *before,
                                 const tdm_calibration_facts *after, tdm_error *error)
{
    if (strcmp(before->method, after->method) == 0)
        return TDM_OK;
    return tdm_warn(warnings, error, "calibration-differs", NULL,
                    "colour rests on '%s' before and '%s' after, so that a part of the change may come from "
                    "the calibration; photograph both with the same reference",
                    before->method, after->method);
}

static tdm_code warn_scale(tdm_warnings *warnings, const tdm_calibration_facts *before,
                           const tdm_calibration_facts *after, tdm_error *error)
{
    const bool first = isfinite(before->mm_per_px);
    const bool second = isfinite(after->mm_per_px);
    if (first != second)
        return tdm_warn(warnings, error, "scale-only-one", NULL,
                        "only the %s photograph has a scale, so that no millimetres can be compared; put a "
                        "ruler beside the hair in both",
                        first ? "first" : "second");
    const double most = fmax(before->mm_per_px, after->mm_per_px);
    const double least = fmin(before->mm_per_px, after->mm_per_px);
    if (!first || most <= most_scale_ratio * least)
        return TDM_OK;
    return tdm_warn(warnings, error, "scale-differs", NULL,
                    "the %s photograph shows far finer detail than the other, which alone changes contrast "
                    "and ribbon width; photograph both from the same distance",
                    before->mm_per_px < after->mm_per_px ? "first" : "second");
}

static tdm_code warn_levels(tdm_warnings *warnings, const tdm_reading *before, const tdm_reading *after,
                            tdm_error *error)
{
    if (strcmp(tdm_reading_level_scale(before), tdm_reading_level_scale(after)) == 0)
        return TDM_OK;
    return tdm_warn(warnings, error, "level-scale-differs", NULL,
                    "the two readings use different level scales, so that their levels can't be compared; "
                    "read both with the same scale");
}

/* Days alone: two pictures of one visit may be given either way round. */
static tdm_code warn_order(tdm_warnings *warnings, const tdm_reading *before, const tdm_reading *after,
                           tdm_error *error)
{
    const double days = tdm_growth_dates(before, after).days;
    if (!(days < 0))
        return TDM_OK;
    return tdm_warn(warnings, error, "dates-out-of-order", NULL,
                    "the second photograph was taken %d day%s before the first; give the earlier one first",
                    (int)-days, days == -1 ? "" : "s");
}

tdm_code tdm_warn_setup(tdm_warnings *warnings, const tdm_reading *before, const tdm_reading *after,
                        tdm_error *error)
{
    tdm_calibration_facts first;
    tdm_calibration_facts second;
    tdm_reading_calibration(before, &first);
    tdm_reading_calibration(after, &second);
    tdm_code code = warn_calibration(warnings, &first, &second, error);
    if (code == TDM_OK)
        code = warn_scale(warnings, &first, &second, error);
    if (code == TDM_OK)
        code = warn_levels(warnings, before, after, error);
    if (code == TDM_OK)
        code = warn_order(warnings, before, after, error);
    return code;
}
