/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "colour/lab.h"
#include "tidemark/comparison.h"

static bool colour_change(const tdm_zone_change *zone, const tdm_figure *figure, tdm_value *out)
{
    double before[3];
    double after[3];
    if (!tdm_zone_lab(zone->before, figure, before) || !tdm_zone_lab(zone->after, figure, after))
        return false;
    *out = (tdm_value){.value = tdm_de00(before, after), .u = NAN};
    return true;
}

bool tdm_change(const tdm_zone_change *zone, const tdm_figure *figure, tdm_value *out)
{
    if (figure->kind == TDM_FIGURE_LAB)
        return colour_change(zone, figure, out);
    tdm_value before;
    tdm_value after;
    if (!tdm_zone_value(zone->before, figure, &before) || !tdm_zone_value(zone->after, figure, &after))
        return false;
    /* hypot(NaN, infinity) would be infinity: an unknown u stays unknown. */
    const bool known = isfinite(before.u) && isfinite(after.u);
    *out = (tdm_value){.value = after.value - before.value, .u = known ? hypot(before.u, after.u) : NAN};
    return true;
}
