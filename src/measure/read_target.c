/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a photograph to its target's reading. */
#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "base/file.h"
#include "measure/sitting.h"
#include "measure/target_reading.h"

static tdm_code note_photo(const tdm_sitting *sitting, struct tdm_target_reading *target, tdm_error *error)
{
    const tdm_photo_info *about = tdm_photo_about(sitting->photo);
    target->file = strdup(tdm_file_name(sitting->path));
    target->profile = strdup(tdm_device_profile(sitting->device));
    target->profile_source = tdm_device_source(sitting->device);
    memcpy(target->sha256, about->sha256, sizeof target->sha256);
    memcpy(target->taken, about->taken, sizeof target->taken);
    target->width = about->width;
    target->height = about->height;
    return target->file && target->profile ? TDM_OK : tdm_fail_memory(error, sitting->path);
}

static tdm_code check_found(const tdm_sitting *sitting, tdm_error *error)
{
    if (sitting->has_results)
        return TDM_OK;
    for (size_t i = 0; i < sitting->warnings->count; i++) {
        if (strcmp(sitting->warnings->items[i].code, "target-unusable") == 0)
            return tdm_fail(error, TDM_ERR_UNUSABLE, sitting->path, "target", "%s",
                            sitting->warnings->items[i].text);
    }
    return tdm_fail(
        error, TDM_ERR_UNUSABLE, sitting->path, "target",
        "no 24-patch target was found: show all of it, flat and in the hair's light, or mark its four "
        "corners");
}

/* Takes the device from the sitting. */
static tdm_code keep(tdm_sitting *sitting, struct tdm_target_reading *target, tdm_error *error)
{
    tdm_code code = check_found(sitting, error);
    if (code == TDM_OK)
        code = note_photo(sitting, target, error);
    if (code != TDM_OK)
        return code;
    target->marked = !sitting->searched;
    target->found = sitting->target;
    target->reference = sitting->reference;
    target->calibration = sitting->calibration;
    memcpy(target->results, sitting->results, sizeof target->results);
    const tdm_rect crop = tdm_target_crop(sitting->target.corners, target->width, target->height);
    code = tdm_photo_read(sitting->photo, crop, &target->crop, error);
    target->device = sitting->device;
    sitting->device = NULL;
    return code;
}

tdm_code tdm_read_target(const char *photo_path, const char *marks_path, const tdm_read_options *options,
                         tdm_target_reading **out, tdm_error *error)
{
    tdm_read_options own = options ? *options : tdm_read_options_default();
    tdm_sitting sitting = {0};
    if (own.calibration)
        return tdm_fail(error, TDM_ERR_USAGE, photo_path, "calibration",
                        "is fitted here, and isn't taken from a file");
    (void)gsl_set_error_handler_off(); /* see tdm_read_photo */
    struct tdm_target_reading *target = calloc(1, sizeof *target);
    if (!target)
        return tdm_fail_memory(error, photo_path);
    tdm_code code = tdm_sitting_open(&sitting, photo_path, marks_path, false, &own, &target->warnings, error);
    if (code == TDM_OK)
        code = keep(&sitting, target, error);
    tdm_sitting_close(&sitting);
    if (code == TDM_OK)
        *out = target;
    else
        tdm_target_reading_free(target);
    return code;
}
