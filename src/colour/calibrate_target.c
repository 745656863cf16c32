/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The 24-patch target from its corners to a calibration and how good it is. */
#include <math.h>
#include <string.h>

#include "base/fail.h"
#include "base/text.h"
#include "colour/lab.h"
#include "colour/matrix.h"
#include "colour/target.h"

enum { FEWEST_NEUTRALS = 4, FEWEST_PATCHES = 16 };
static const double most_clipped = 0.02;  /* share of a patch's pixels */
static const double darkest = 0.0005;     /* linear: a channel at the bottom says nothing */
static const double absurd_residual = 10; /* mean CIEDE2000 after the fit */

/* Patches near hair in colour: dark skin, light skin, neutral 6.5, 5, 3.5 and black. */
static const int near_hair[] = {0, 1, 20, 21, 22, 23};
enum { NEAR_HAIR = sizeof near_hair / sizeof near_hair[0] };

/* Which edition, and how aged, the target is isn't known: root mean square between the published editions
 * over those patches. */
static const double reference_u_lstar = 0.5, reference_u_ab = 0.6;

static void prepare(const tdm_sample *samples, const tdm_calibration *none, tdm_patch *patches)
{
    for (int i = 0; i < TDM_PATCHES; i++) {
        memcpy(patches[i].rgb, samples[i].rgb, sizeof patches[i].rgb);
        double xyz[3];
        tdm_lab_to_xyz(tdm_reference_patches[i].lab, xyz);
        tdm_matrix_apply(none->to_rgb, xyz, patches[i].wanted);
        patches[i].clipped = samples[i].clipped_share > most_clipped;
        patches[i].crushed = fmin(patches[i].rgb[0], fmin(patches[i].rgb[1], patches[i].rgb[2])) < darkest;
        patches[i].kept = !patches[i].clipped && !patches[i].crushed;
    }
}

static int kept_from(const tdm_patch *patches, int first)
{
    int kept = 0;
    for (int i = first; i < TDM_PATCHES; i++)
        kept += patches[i].kept;
    return kept;
}

/* Cyan lies outside sRGB: a coloured patch at a channel's bottom is nobody's fault. */
static tdm_code warn_left_out(const tdm_patch *patches, tdm_warnings *warnings, tdm_error *error)
{
    tdm_text names = {0};
    for (int i = 0; i < TDM_PATCHES; i++) {
        if (!patches[i].clipped && !(patches[i].crushed && i >= TDM_FIRST_NEUTRAL))
            continue;
        tdm_text_add(&names, names.size > 0 ? ", " : "");
        tdm_text_add(&names, tdm_reference_patches[i].name);
    }
    tdm_code code = names.failed ? tdm_fail_memory(error, NULL) : TDM_OK;
    if (code == TDM_OK && names.size > 0)
        code = tdm_warn(warnings, error, "target-clipped", NULL,
                        "these patches of the target are clipped or crushed and left out: %s", names.data);
    tdm_text_free(&names);
    return code;
}

static double patch_error(const tdm_calibration *calibration, const tdm_patch *patch, int index,
                          double lab[3])
{
    tdm_patch_lab(calibration, patch->rgb, lab);
    return tdm_de00(tdm_reference_patches[index].lab, lab);
}

static void mean_and_worst(const tdm_calibration *calibration, const tdm_patch *patches, double *mean,
                           double *worst)
{
    double sum = 0, most = 0, lab[3];
    int count = 0;
    for (int i = 0; i < TDM_PATCHES; i++) {
        if (!patches[i].kept)
            continue;
        const double miss = patch_error(calibration, &patches[i], i, lab);
        sum += miss;
        most = fmax(most, miss);
        count++;
    }
    *mean = sum / count;
    *worst = most;
}

/* Each patch predicted by a fit, curve and matrix, without it. left: the predicted CIELAB, NaN where there is
 * none. */
static double leave_each_out(const tdm_patch *patches, const tdm_calibration *none,
                             double left[TDM_PATCHES][3])
{
    double sum = 0;
    int count = 0;
    for (int i = 0; i < TDM_PATCHES; i++) {
        left[i][0] = left[i][1] = left[i][2] = NAN;
        if (!patches[i].kept)
            continue;
        tdm_patch others[TDM_PATCHES];
        tdm_calibration fitted;
        memcpy(others, patches, sizeof others);
        others[i].kept = false;
        if (!tdm_target_fit(others, none, &fitted))
            continue;
        sum += patch_error(&fitted, &patches[i], i, left[i]);
        count++;
    }
    return count > 0 ? sum / count : NAN;
}

static void set_uncertainty(double left[TDM_PATCHES][3], tdm_calibration *out)
{
    double lightness = 0, colour = 0;
    int count = 0;
    for (int k = 0; k < NEAR_HAIR; k++) {
        const double *lab = left[near_hair[k]], *wanted = tdm_reference_patches[near_hair[k]].lab;
        if (isnan(lab[0]))
            continue;
        const double dl = lab[0] - wanted[0], da = lab[1] - wanted[1], db = lab[2] - wanted[2];
        lightness += dl * dl;
        colour += (da * da + db * db) / 2;
        count++;
    }
    out->u_lstar = hypot(reference_u_lstar, sqrt(lightness / fmax(count, 1)));
    out->u_ab = hypot(reference_u_ab, sqrt(colour / fmax(count, 1)));
}

static tdm_code refuse_order(const tdm_device *device, const tdm_pixels *pixels, const double corners[8],
                             const char *file, tdm_error *error)
{
    const char *found = NULL;
    const tdm_code code = tdm_target_other_order(device, pixels, corners, file, &found, error);
    if (code != TDM_OK)
        return code;
    if (found)
        return tdm_fail(
            error, TDM_ERR_FORMAT, file, "target.corners",
            "the target's neutral row isn't where the corners put it: %s; mark the corners in the "
            "order dark skin, bluish green, black, white",
            found);
    return tdm_fail(error, TDM_ERR_UNUSABLE, file, "target",
                    "no neutral row falling from white to black where the corners put it: check the four "
                    "corners, and that no shadow or glare lies on the target");
}

static tdm_code check_kept(const tdm_patch *patches, const char *file, tdm_error *error)
{
    if (kept_from(patches, TDM_FIRST_NEUTRAL) < FEWEST_NEUTRALS || kept_from(patches, 0) < FEWEST_PATCHES)
        return tdm_fail(
            error, TDM_ERR_UNUSABLE, file, "target",
            "too many of the target's patches are clipped or crushed (%d of 24 left): retake with "
            "less exposure",
            kept_from(patches, 0));
    return TDM_OK;
}

static tdm_code fit_and_judge(const tdm_patch *patches, const tdm_calibration *none, const char *file,
                              tdm_calibration *out, tdm_error *error)
{
    double left[TDM_PATCHES][3], worst;
    if (!tdm_target_fit(patches, none, out))
        return tdm_fail(
            error, TDM_ERR_UNUSABLE, file, "target",
            "the patches' colours allow no correction: this isn't the 24-patch target, or its corners are "
            "wrong");
    mean_and_worst(none, patches, &out->before_mean, &worst);
    mean_and_worst(out, patches, &out->residual_mean, &out->residual_max);
    out->left_out_mean = leave_each_out(patches, none, left);
    set_uncertainty(left, out);
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
    (void)reference;
    (void)light;
    (void)results;
    const tdm_calibration none = tdm_calibration_none(device);
    tdm_sample samples[TDM_PATCHES];
    tdm_patch patches[TDM_PATCHES];
    tdm_calibration fitted;
    tdm_code code = tdm_patches_sample(device, pixels, corners, file, samples, error);
    if (code != TDM_OK)
        return code;
    if (!tdm_neutral_row_fits(samples))
        return refuse_order(device, pixels, corners, file, error);
    prepare(samples, &none, patches);
    code = check_kept(patches, file, error);
    if (code == TDM_OK)
        code = fit_and_judge(patches, &none, file, &fitted, error);
    if (code == TDM_OK)
        code = warn_left_out(patches, warnings, error);
    if (code == TDM_OK)
        *out = fitted;
    return code;
}
