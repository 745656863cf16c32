/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How good a fit to the target is: patch by patch, as a whole, and for hair. */
#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "colour/target.h"

/* Which edition, and how aged, a target is whose patches weren't measured isn't known: what hair moves by
 * when the other published edition is read against these values. */
static const double edition_u_lstar = 0.3, edition_u_ab = 0.6;

/* Stops to L* at L* 30: ln 2 (L* + 16) / 3. */
static const double lstar_a_stop = 10.6;

static void set_uncertainty(const tdm_target *target, const tdm_target_fit *fit, bool measured,
                            const tdm_left_out left[TDM_PATCHES], tdm_calibration *out)
{
    double lstar, ab;
    tdm_left_out_spread(target, left, &lstar, &ab);
    const double jump = fit->terms.stepped ? lstar_a_stop * fit->free[TDM_FREE_STEP] : 0;
    out->u_lstar = hypot(hypot(lstar, jump), measured ? 0 : edition_u_lstar);
    out->u_ab = hypot(ab, measured ? 0 : edition_u_ab);
}

static void patch_results(const tdm_target *target, const tdm_target_fit *fit, double areas[TDM_PATCHES][8],
                          const tdm_left_out left[TDM_PATCHES], tdm_patch_result results[TDM_PATCHES])
{
    for (int i = 0; i < TDM_PATCHES; i++) {
        const tdm_patch *patch = &target->patches[i];
        tdm_patch_result *result = &results[i];
        double xyz[3];
        result->state = patch->state;
        memcpy(result->outline, areas[i], sizeof result->outline);
        tdm_calibration_mix(&target->start, patch->rgb, xyz);
        tdm_xyz_to_lab(xyz, result->before);
        tdm_target_patch_lab(target, fit, i, result->after);
        result->de00_before = tdm_de00(patch->lab, result->before);
        result->de00_after = tdm_de00(patch->lab, result->after);
        result->left_out = patch->state == TDM_PATCH_ODD ? result->de00_after : left[i].miss;
    }
}

/* Means and largest over the kept patches. */
static void sum_up(const tdm_patch_result results[TDM_PATCHES], tdm_calibration *out)
{
    int count = 0;
    out->before_mean = out->before_max = out->residual_mean = out->residual_max = 0;
    for (int i = 0; i < TDM_PATCHES; i++) {
        const tdm_patch_result *result = &results[i];
        if (result->state != TDM_PATCH_KEPT)
            continue;
        out->before_mean += result->de00_before;
        out->before_max = fmax(out->before_max, result->de00_before);
        out->residual_mean += result->de00_after;
        out->residual_max = fmax(out->residual_max, result->de00_after);
        count++;
    }
    out->before_mean /= count;
    out->residual_mean /= count;
}

void tdm_target_judge(const tdm_target *target, const tdm_target_fit *fit, bool measured,
                      double areas[TDM_PATCHES][8], const tdm_left_out left[TDM_PATCHES],
                      tdm_calibration *out, tdm_patch_result results[TDM_PATCHES])
{
    patch_results(target, fit, areas, left, results);
    sum_up(results, out);
    out->left_out_mean = tdm_left_out_mean(left);
    out->hair_mean = tdm_left_out_near_hair(left);
    set_uncertainty(target, fit, measured, left, out);
}
