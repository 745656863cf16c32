/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The 24-patch target from its corners to a calibration. */
#include <math.h>
#include <string.h>

#include "base/fail.h"
#include "base/text.h"
#include "colour/lab.h"
#include "colour/target.h"

enum { FEWEST_NEUTRALS = 4 };
static const double most_clipped = 0.02;  /* share of a patch's pixels */
static const double darkest = 0.0005;     /* linear: a channel at the bottom says nothing */
static const double absurd_residual = 10; /* mean CIEDE2000 after the fit */

static tdm_patch_state state_of(const tdm_sample *sample)
{
    if (sample->clipped_share > most_clipped)
        return TDM_PATCH_CLIPPED;
    const double least = fmin(sample->rgb[0], fmin(sample->rgb[1], sample->rgb[2]));
    return least < darkest ? TDM_PATCH_CRUSHED : TDM_PATCH_KEPT;
}

static double half_longer_side(const double corners[8])
{
    double longest = 0;
    for (int i = 0, j = 3; i < 4; j = i++)
        longest =
            fmax(longest, hypot(corners[2 * i] - corners[2 * j], corners[2 * i + 1] - corners[2 * j + 1]));
    return longest / 2;
}

/* False where the corners don't go round a block, which sampling has refused before. */
static bool prepare(const tdm_device *device, const tdm_sample *samples, const double corners[8],
                    const tdm_reference *reference, const tdm_light *light, double areas[TDM_PATCHES][8],
                    tdm_target *out)
{
    double middles[TDM_PATCHES][2];
    *out = (tdm_target){.start = tdm_calibration_none(device), .scale = half_longer_side(corners)};
    if (!tdm_patches_place(corners, areas, middles, out->middle))
        return false;
    if (light)
        out->start.light = *light;
    for (int i = 0; i < TDM_PATCHES; i++) {
        tdm_patch *patch = &out->patches[i];
        memcpy(patch->rgb, samples[i].rgb, sizeof patch->rgb);
        memcpy(patch->lab, reference->lab[i], sizeof patch->lab);
        tdm_lab_to_xyz(patch->lab, patch->xyz);
        for (int k = 0; k < 2; k++)
            patch->place[k] = (middles[i][k] - out->middle[k]) / out->scale;
        tdm_light_at(&out->start.light, middles[i][0], middles[i][1], patch->factor);
        patch->state = state_of(&samples[i]);
    }
    return true;
}

/* Cyan lies outside sRGB: a coloured patch at a channel's bottom is nobody's fault. */
static tdm_code warn_left_out(const tdm_target *target, tdm_warnings *warnings, tdm_error *error)
{
    tdm_text names = {0};
    for (int i = 0; i < TDM_PATCHES; i++) {
        const tdm_patch_state state = target->patches[i].state;
        if (state != TDM_PATCH_CLIPPED && !(state == TDM_PATCH_CRUSHED && i >= TDM_FIRST_NEUTRAL))
            continue;
        tdm_text_add(&names, names.size > 0 ? ", " : "");
        tdm_text_add(&names, tdm_patch_names[i]);
    }
    tdm_code code = names.failed ? tdm_fail_memory(error, NULL) : TDM_OK;
    if (code == TDM_OK && names.size > 0)
        code = tdm_warn(warnings, error, "target-clipped", NULL,
                        "these patches of the target are clipped or crushed and left out: %s", names.data);
    tdm_text_free(&names);
    return code;
}

/* TDM_OK where the order is right but for a patch or two in shade or glare. */
static tdm_code check_order(const tdm_device *device, const tdm_pixels *pixels, const double corners[8],
                            const tdm_sample *samples, const char *file, tdm_error *error)
{
    const char *found = NULL;
    if (tdm_neutral_row_fits(samples))
        return TDM_OK;
    const tdm_code code = tdm_target_other_order(device, pixels, corners, file, &found, error);
    if (code != TDM_OK)
        return code;
    if (found)
        return tdm_fail(
            error, TDM_ERR_FORMAT, file, "target.corners",
            "the target's neutral row isn't where the corners put it: %s; mark the corners in the "
            "order dark skin, bluish green, black, white",
            found);
    if (tdm_neutral_row_nearly_fits(samples))
        return TDM_OK;
    return tdm_fail(error, TDM_ERR_UNUSABLE, file, "target",
                    "no neutral row falling from white to black where the corners put it: check the four "
                    "corners, and that no shadow or glare lies on the target");
}

static tdm_code check_kept(const tdm_target *target, const char *file, tdm_error *error)
{
    const int kept = tdm_target_kept(target, 0);
    if (tdm_target_kept(target, TDM_FIRST_NEUTRAL) < FEWEST_NEUTRALS || kept < TDM_FEWEST_PATCHES)
        return tdm_fail(
            error, TDM_ERR_UNUSABLE, file, "target",
            "too many of the target's patches are clipped or crushed (%d of 24 left): retake with "
            "less exposure",
            kept);
    return TDM_OK;
}

static tdm_code refuse_fit(const char *file, tdm_error *error)
{
    return tdm_fail(
        error, TDM_ERR_UNUSABLE, file, "target",
        "the patches' colours allow no correction: this isn't the 24-patch target, or its corners are "
        "wrong");
}

/* Which patches count, and what has to be said of it. */
static tdm_code fit_and_sort(tdm_target *target, const char *file, tdm_target_fit *fit,
                             tdm_warnings *warnings, tdm_error *error)
{
    bool more = false;
    if (!tdm_target_explain(target, fit, &more))
        return refuse_fit(file, error);
    const tdm_code code = tdm_target_warn_odd(target, fit, more, warnings, error);
    if (code != TDM_OK || !fit->terms.stepped)
        return code;
    return tdm_target_warn_shade(fit, warnings, error);
}

/* Only the fit itself; figures of how good it is are kept. */
static void take_fit(const tdm_target_fit *fit, tdm_calibration *out)
{
    tdm_calibration taken = fit->calibration;
    memcpy(taken.drift, out->drift, sizeof taken.drift);
    memcpy(taken.drift_var, out->drift_var, sizeof taken.drift_var);
    memcpy(taken.middle, out->middle, sizeof taken.middle);
    *out = taken;
}

static tdm_code fit_and_judge(tdm_target *target, bool measured, double areas[TDM_PATCHES][8],
                              const char *file, tdm_warnings *warnings, tdm_calibration *out,
                              tdm_patch_result results[TDM_PATCHES], tdm_error *error)
{
    tdm_target_fit fit;
    tdm_left_out left[TDM_PATCHES];
    const tdm_code code = fit_and_sort(target, file, &fit, warnings, error);
    if (code != TDM_OK)
        return code;
    if (!tdm_target_settle_slope(target, &fit, out))
        return refuse_fit(file, error);
    tdm_target_settle_roots(target, &fit, left);
    take_fit(&fit, out);
    tdm_target_judge(target, &fit, measured, areas, left, out, results);
    if (!(out->residual_mean <= absurd_residual))
        return tdm_fail(
            error, TDM_ERR_UNUSABLE, file, "target",
            "the patches are still %d CIEDE2000 off after the correction: this isn't the 24-patch "
            "target, or its corners are wrong",
            (int)lround(fmin(out->residual_mean, 999))); /* NaN too */
    return TDM_OK;
}

tdm_code tdm_calibrate_target(const tdm_device *device, const tdm_pixels *pixels, const double corners[8],
                              const tdm_reference *reference, const tdm_light *light, const char *file,
                              tdm_warnings *warnings, tdm_calibration *out,
                              tdm_patch_result results[TDM_PATCHES], tdm_error *error)
{
    tdm_sample samples[TDM_PATCHES];
    double areas[TDM_PATCHES][8];
    tdm_patch_result own[TDM_PATCHES];
    tdm_target target;
    tdm_calibration fitted;
    tdm_code code = tdm_patches_sample(device, pixels, corners, file, samples, error);
    if (code != TDM_OK)
        return code;
    code = check_order(device, pixels, corners, samples, file, error);
    if (code != TDM_OK)
        return code;
    if (!prepare(device, samples, corners, reference, light, areas, &target))
        return refuse_fit(file, error);
    code = check_kept(&target, file, error);
    if (code == TDM_OK)
        code = fit_and_judge(&target, reference->measured, areas, file, warnings, &fitted, own, error);
    if (code == TDM_OK)
        code = warn_left_out(&target, warnings, error);
    if (code == TDM_OK)
        *out = fitted;
    if (code == TDM_OK && results)
        memcpy(results, own, sizeof own);
    return code;
}
