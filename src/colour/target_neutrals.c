/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Neutral patches that are dirty, glossy or shaded. The curves meet them whatever they are; that they are
 * wrong shows in the coloured ones, whose misses fall once they are left out. */
#include <string.h>

#include "colour/lab.h"
#include "colour/target.h"

enum { FEWEST_NEUTRALS = 4 };
/* Choices, tried on drawn targets; see METHODS.md. */
static const double falls_to = 0.75;  /* of the coloured patches' miss */
static const double again_to = 0.5;   /* the same for a second patch */
static const double back_at = 0.9;    /* one that does so little harm is kept again */
static const double falls_by = 0.1;   /* CIEDE2000 */
static const double least_miss = 2.5; /* of the patch itself */

/* Whether a patch is far off under a fit without it. */
static bool is_off(const tdm_target *target, const tdm_target_fit *fit, int patch)
{
    double lab[3];
    tdm_target_patch_lab(target, fit, patch, lab);
    return tdm_de00(target->patches[patch].lab, lab) > least_miss;
}

static bool kept(const tdm_target *target, int neutral)
{
    return target->patches[TDM_FIRST_NEUTRAL + neutral].state == TDM_PATCH_KEPT;
}

/* a and b may be one. */
static bool without(const tdm_target *target, const tdm_target_fit *fit, int a, int b, tdm_target_fit *out)
{
    static const tdm_terms sloped = {.sloped = true};
    const tdm_terms *terms = fit ? &fit->terms : &sloped;
    tdm_target rest = *target;
    rest.patches[TDM_FIRST_NEUTRAL + a].state = rest.patches[TDM_FIRST_NEUTRAL + b].state = TDM_PATCH_ODD;
    return tdm_target_solve(&rest, terms, -1, fit, out, NULL) && is_off(target, out, TDM_FIRST_NEUTRAL + a) &&
           is_off(target, out, TDM_FIRST_NEUTRAL + b);
}

static bool clearly_better(double now, double before, bool again)
{
    return now < (again ? again_to : falls_to) * before && now < before - falls_by;
}

/* The best without one (few is 1) or without two. */
static bool best_without(const tdm_target *target, const tdm_target_fit *fit, int few, tdm_target_fit *best,
                         bool out[TDM_NEUTRALS])
{
    bool found = false;
    for (int a = 0; a < TDM_NEUTRALS; a++) {
        for (int b = few == 1 ? a : a + 1; b < (few == 1 ? a + 1 : TDM_NEUTRALS); b++) {
            tdm_target_fit now;
            if (!kept(target, a) || !kept(target, b) || !without(target, fit, a, b, &now) ||
                (found && now.typical >= best->typical))
                continue;
            *best = now;
            found = true;
            memset(out, 0, TDM_NEUTRALS * sizeof *out);
            out[a] = out[b] = true;
        }
    }
    return found;
}

bool tdm_target_spoilt(const tdm_target *target, const tdm_target_fit *fit, tdm_target_fit *best,
                       bool out[TDM_NEUTRALS])
{
    const double even = 1000; /* where there is no fit at all */
    const int spare = tdm_target_kept(target, TDM_FIRST_NEUTRAL) - FEWEST_NEUTRALS;
    double before = fit ? fit->typical : even;
    bool found = false;
    for (int few = 1; few <= 2 && few <= spare && tdm_target_kept(target, 0) - few >= TDM_FEWEST_PATCHES;
         few++) {
        tdm_target_fit now;
        bool gone[TDM_NEUTRALS];
        if (!best_without(target, fit, few, &now, gone) || !clearly_better(now.typical, before, found))
            continue;
        *best = now;
        before = now.typical;
        found = true;
        memcpy(out, gone, sizeof gone);
    }
    return found;
}

bool tdm_target_neutral_back(tdm_target *target, const tdm_target_fit *fit, int patch)
{
    tdm_target_fit with;
    if (target->patches[patch].state != TDM_PATCH_ODD)
        return false;
    target->patches[patch].state = TDM_PATCH_KEPT;
    if (tdm_target_solve(target, &fit->terms, -1, fit, &with, NULL) && fit->typical > back_at * with.typical)
        return true;
    target->patches[patch].state = TDM_PATCH_ODD;
    return false;
}
