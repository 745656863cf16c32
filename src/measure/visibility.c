/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far the line stands out from the hair's own texture to an eye at a distance. */
#include "measure/visibility.h"

#include <math.h>

#include "measure/measure.h"
#include "measure/visibility_look.h"
#include "measure/visibility_range.h"
#include "measure/visibility_spread.h"

/* Limits between none, soft, visible and hard, in units of d': classes of a colour difference in Mokrzycki
 * and Tatol (2011): not noticed, noticed by the trained, by anybody, clear. */
static const double soft_from = 1, visible_from = 2, hard_from = 3.5;
enum { GRADED_DISTANCE = 1 /* 1.2 m */ };

const char *tdm_line_grade(double dprime)
{
    if (!isfinite(dprime))
        return NULL;
    return dprime < soft_from      ? "none"
           : dprime < visible_from ? "soft"
           : dprime < hard_from    ? "visible"
                                   : "hard";
}

tdm_code tdm_line_dprime(const tdm_strip *strip, const tdm_fall *fall, double distance_m, double *dprime,
                         tdm_error *error)
{
    tdm_scielab scielab = {0};
    tdm_look look;
    *dprime = NAN;
    if (!strip->scaled) /* an angle needs millimetres */
        return TDM_OK;
    tdm_code code = tdm_scielab_make(strip, &scielab, error);
    if (code == TDM_OK)
        code = tdm_look_from(&scielab, fall, distance_m, NULL, &look, error);
    if (code == TDM_OK)
        *dprime = look.dprime;
    tdm_scielab_free(&scielab);
    return code;
}

static tdm_code at_distance(const tdm_measure_input *input, const tdm_scielab *scielab, tdm_visibility *out,
                            tdm_error *error)
{
    tdm_seen seen = {0};
    tdm_look look;
    tdm_code code = tdm_look_from(scielab, input->fall, out->distance_m, &seen, &look, error);
    if (code != TDM_OK)
        return code;
    out->dprime = look.dprime;
    code = tdm_look_spread(&seen, &look, input->resampling, input->columns->block, &out->u, error);
    tdm_seen_free(&seen);
    return code;
}

static tdm_code look_at_line(const tdm_measure_input *input, const tdm_scielab *scielab,
                             struct tdm_zone_reading *out, tdm_error *error)
{
    tdm_visibility *visibility = out->demarcation.visibility;
    for (size_t i = 0; i < TDM_DISTANCES; i++) {
        const tdm_code code = at_distance(input, scielab, &visibility[i], error);
        if (code != TDM_OK)
            return code;
    }
    const tdm_shape shape = input->fall->fit.shape;
    if (shape != TDM_SHAPE_TRANSITION && shape != TDM_SHAPE_BAND) {
        out->demarcation.grade = "none";
        return TDM_OK;
    }
    out->demarcation.grade = tdm_line_grade(visibility[GRADED_DISTANCE].dprime);
    return tdm_line_range(scielab, input->fall, visibility, TDM_DISTANCES, &out->demarcation.shows_from_m,
                          &out->demarcation.hidden_from_m, error);
}

static tdm_code compute(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_warnings *warnings,
                        tdm_error *error)
{
    (void)warnings;
    tdm_scielab scielab = {0};
    if (!input->strip->scaled) /* an angle needs millimetres */
        return TDM_OK;
    tdm_code code = tdm_scielab_make(input->strip, &scielab, error);
    if (code == TDM_OK)
        code = look_at_line(input, &scielab, out, error);
    tdm_scielab_free(&scielab);
    return code;
}

const tdm_measure tdm_measure_visibility = {.name = "visibility", .compute = compute};
