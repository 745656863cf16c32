/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One zone: whether its line needs a blend, and which. */
#include <math.h>
#include <string.h>

#include "measure/spread.h"
#include "measure/visibility.h"
#include "plan/plan_parts.h"
#include "plan/search.h"

static const double map_mm = 0.5; /* cells of the map: half a millimetre is a few hairs */

static tdm_code make_fall(const tdm_strip *strip, tdm_fall *out, tdm_error *error)
{
    size_t block = 0;
    tdm_columns columns = {0};
    tdm_code code = tdm_columns_correlation(strip, &block, error);
    if (code == TDM_OK)
        code = tdm_columns_make(strip, block, &columns, error);
    if (code == TDM_OK)
        code = tdm_fall_make(strip, &columns, out, error);
    tdm_columns_free(&columns);
    return code;
}

/* A root shade darkens: it can follow hair that gets lighter from the root on, and nothing else. */
static bool can_be_melted(const tdm_fall *fall, const tdm_hair *hair)
{
    return fall->fit.shape == TDM_SHAPE_TRANSITION && hair->lengths_lab[0] - hair->root_lab[0] > TDM_JND_LAB;
}

static const char *need_of(const tdm_fall *fall, const tdm_hair *hair, double dprime)
{
    const bool line = fall->fit.shape == TDM_SHAPE_TRANSITION || fall->fit.shape == TDM_SHAPE_BAND;
    const char *grade = line ? tdm_line_grade(dprime) : "none";
    if (!isfinite(dprime) || !grade)
        return TDM_PLAN_IMPOSSIBLE;
    if (strcmp(grade, "none") == 0)
        return "not needed";
    if (!can_be_melted(fall, hair))
        return "not planned";
    return strcmp(grade, "soft") == 0 ? "optional" : "needed";
}

static void put_shade(const tdm_hair *hair, const tdm_melt *melt, const struct tdm_zone_reading *reading,
                      const tdm_level_scale *scale, tdm_root_shade *out)
{
    const double root = hair->strip.root;
    out->from_mm = root;
    out->to_mm = root + melt->to;
    out->feather_mm = melt->feather;
    out->feather_from_mm = root + melt->to - 0.5 * melt->feather;
    out->feather_to_mm = root + melt->to + 0.5 * melt->feather;
    memcpy(out->lab, melt->lab, sizeof out->lab);
    out->way = (melt->lab[0] - hair->root_lab[0]) / (hair->lengths_lab[0] - hair->root_lab[0]);
    out->level.value = tdm_level_from_lstar(scale, melt->lab[0]);
    out->level.u = fmax(reading->root.level.u, reading->ends.level.u);
    out->tone = tdm_tone_word(melt->lab);
}

/* What the drawn heads left between simulation and picture, as an expanded uncertainty. */
static void put_after(const tdm_hair *hair, const tdm_line_figures *after,
                      const struct tdm_zone_reading *reading, tdm_simulation *out)
{
    const bool line = after->shape == TDM_SHAPE_TRANSITION || after->shape == TDM_SHAPE_BAND;
    out->shape = tdm_shape_word(after->shape);
    out->width_mm = (tdm_value){.value = after->width_mm, .u = TDM_PLAN_MARGIN * after->width_mm};
    out->centre_mm =
        (tdm_value){.value = hair->strip.root + after->centre_mm,
                    .u = tdm_quadrature(reading->gradient.centre_mm.u, TDM_PLAN_MARGIN * after->width_mm)};
    out->dprime = (tdm_value){.value = after->dprime, .u = TDM_PLAN_MARGIN * after->dprime};
    out->grade = line ? tdm_line_grade(after->dprime) : "none";
}

static tdm_code plan_melt(const tdm_hair *hair, const tdm_fall *fall, const struct tdm_zone_reading *reading,
                          const tdm_level_scale *scale, tdm_planned_zone *out, tdm_error *error)
{
    tdm_search_result found;
    const double aim = TDM_PLAN_VISIBLE / (1 + TDM_PLAN_MARGIN);
    const tdm_code code = tdm_melt_search(hair, fall, TDM_PLAN_METRES, aim, &found, error);
    if (code != TDM_OK)
        return code;
    if (!found.possible) {
        out->about.need = TDM_PLAN_IMPOSSIBLE;
        return TDM_OK;
    }
    out->melt = found.melt;
    out->longest = found.longest;
    out->about.planned = true;
    out->about.enough = found.enough;
    put_shade(hair, &found.melt, reading, scale, &out->about.shade);
    put_after(hair, &found.after, reading, &out->about.after);
    return TDM_OK;
}

static tdm_code plan_hair(const tdm_hair *hair, const tdm_fall *fall, const struct tdm_zone_reading *reading,
                          const tdm_level_scale *scale, double target_level, tdm_planned_zone *out,
                          tdm_error *error)
{
    tdm_code code = tdm_line_dprime(&hair->strip, fall, TDM_PLAN_METRES, &out->about.dprime, error);
    if (code != TDM_OK)
        return code;
    out->about.need = need_of(fall, hair, out->about.dprime);
    tdm_plan_light(hair, reading, scale, target_level, out);
    if (strcmp(out->about.need, "needed") == 0)
        code = plan_melt(hair, fall, reading, scale, out, error);
    if (code == TDM_OK)
        code = tdm_hair_coarser(hair, map_mm, &out->hair, error);
    out->has_hair = code == TDM_OK;
    return code;
}

tdm_code tdm_plan_zone_make(const tdm_strip *strip, const struct tdm_zone_reading *reading,
                            const tdm_level_scale *scale, double target_level, tdm_planned_zone *out,
                            tdm_error *error)
{
    tdm_fall fall = {0};
    tdm_hair hair = {0};
    tdm_code code = make_fall(strip, &fall, error);
    if (code == TDM_OK)
        code = tdm_hair_make(strip, &fall, reading, &hair, error);
    if (code == TDM_OK)
        code = plan_hair(&hair, &fall, reading, scale, target_level, out, error);
    tdm_hair_free(&hair);
    tdm_fall_free(&fall);
    return code;
}
