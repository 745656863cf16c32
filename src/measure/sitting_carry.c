/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The correction of another photograph of the same sitting, and what this one's own references say of it. */
#include <math.h>
#include <string.h>

#include "colour/lab.h"
#include "measure/sitting.h"

static const double carried_most = 3; /* CIEDE2000, mean: a choice; a fit of its own leaves about 1 */

static bool same_size(const tdm_light *light, const tdm_photo_info *about)
{
    return light->width == about->width && light->height == about->height;
}

/* Mean CIEDE2000 of the marked target's patches under the carried calibration. A fit of its own, thrown away,
 * says which patches count and what the profile alone makes of them. */
static tdm_code carried_miss(tdm_sitting *sitting, double *mean, tdm_error *error)
{
    tdm_calibration own;
    tdm_patch_result results[TDM_PATCHES];
    tdm_warnings aside = {0};
    double sum = 0;
    int count = 0;
    const tdm_code code =
        tdm_calibrate_target(sitting->device, &sitting->pixels, sitting->target.corners, &sitting->reference,
                             NULL, sitting->path, &aside, &own, results, error);
    tdm_warnings_free(&aside);
    if (code != TDM_OK)
        return code;
    for (int i = 0; i < TDM_PATCHES; i++) {
        double xyz[3], lab[3];
        float given[3];
        if (results[i].state != TDM_PATCH_KEPT)
            continue;
        tdm_lab_to_xyz(results[i].before, xyz);
        for (int k = 0; k < 3; k++)
            given[k] = (float)xyz[k];
        tdm_calibration_apply(&sitting->calibration, given, 1);
        for (int k = 0; k < 3; k++)
            xyz[k] = (double)given[k];
        tdm_xyz_to_lab(xyz, lab);
        sum += tdm_de00(sitting->reference.lab[i], lab);
        count++;
    }
    *mean = sum / count;
    return TDM_OK;
}

/* A camera that exposed or balanced anew since is this mode's main fault: what is marked in this picture
 * tells. */
static tdm_code check_carried(tdm_sitting *sitting, const tdm_grey *greys, tdm_error *error)
{
    double miss = 0;
    tdm_code code = sitting->has_target ? carried_miss(sitting, &miss, error) : TDM_OK;
    if (code == TDM_OK && miss > carried_most)
        code = tdm_warn(
            sitting->warnings, error, "calibration-disagrees", NULL,
            "under the calibration from %s the target marked here is %.1f CIEDE2000 off: the camera or the "
            "light has changed; fit it anew on this photograph",
            sitting->origin.photo, miss);
    if (code == TDM_OK && sitting->marks.grey_count > 0)
        code = tdm_sitting_check_greys(sitting, greys, error);
    return code;
}

/* Another photograph's curve and matrix; its light only where the picture is of the same size, since the
 * surface is over the picture and not over the head. */
tdm_code tdm_sitting_carry(tdm_sitting *sitting, const tdm_grey *greys, tdm_error *error)
{
    tdm_calibration *calibration = &sitting->calibration;
    tdm_code code = tdm_calibration_load(sitting->options->calibration, &sitting->options->limits,
                                         sitting->warnings, calibration, &sitting->origin, error);
    if (code != TDM_OK)
        return code;
    sitting->carried = true;
    calibration->drift_var[0] = NAN; /* seen around the other photograph's target */
    if (!tdm_calibration_starts_at(calibration, sitting->device))
        code = tdm_warn(
            sitting->warnings, error, "calibration-profile", NULL,
            "the calibration was fitted in the colour space \"%s\", this photograph is in \"%s\": fit "
            "it on a photograph from the same camera with the same settings",
            sitting->origin.profile, tdm_device_profile(sitting->device));
    if (code == TDM_OK && calibration->light.degree > 0 &&
        !same_size(&calibration->light, tdm_photo_about(sitting->photo))) {
        calibration->light = (tdm_light){0};
        code = tdm_warn(sitting->warnings, error, "calibration-light", NULL,
                        "the calibration's uneven light is of a picture of another size and isn't used here");
    }
    return code == TDM_OK ? check_carried(sitting, greys, error) : code;
}
