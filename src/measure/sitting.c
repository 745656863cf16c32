/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/sitting.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "base/file.h"
#include "marks/scale_file.h"

static tdm_code load_marks(tdm_sitting *sitting, const char *marks_path, bool needed, tdm_error *error)
{
    const tdm_photo_info *about = tdm_photo_about(sitting->photo);
    sitting->marks_path = marks_path ? strdup(marks_path) : tdm_marks_path(sitting->path);
    if (!sitting->marks_path)
        return tdm_fail_memory(error, sitting->path);
    tdm_error own = {0};
    const tdm_code code = tdm_marks_load(sitting->marks_path, about->width, about->height,
                                         &sitting->options->limits, sitting->warnings, &sitting->marks, &own);
    /* Only a file that nobody named may be missing. */
    if (code == TDM_ERR_UNREADABLE && !needed && !marks_path)
        return TDM_OK;
    sitting->has_marks = code == TDM_OK;
    if (code != TDM_OK && error)
        *error = own;
    return code;
}

static tdm_code load_references(tdm_sitting *sitting, tdm_error *error)
{
    const tdm_read_options *options = sitting->options;
    tdm_code code = TDM_OK;
    sitting->reference = tdm_reference_published();
    sitting->level_scale = tdm_level_scale_default();
    if (options->reference)
        code = tdm_reference_load(options->reference, &options->limits, &sitting->reference, error);
    if (code == TDM_OK && options->level_scale)
        code = tdm_scale_load(options->level_scale, &options->limits, sitting->warnings,
                              &sitting->level_scale, error);
    return code;
}

tdm_code tdm_sitting_open(tdm_sitting *sitting, const char *path, const char *marks_path, bool marks_needed,
                          const tdm_read_options *options, tdm_warnings *warnings, tdm_error *error)
{
    *sitting = (tdm_sitting){
        .path = path, .options = options, .warnings = warnings, .mm_per_px = NAN, .scale_u = NAN};
    tdm_code code = tdm_photo_open(path, &options->limits, warnings, &sitting->photo, error);
    if (code == TDM_OK)
        code = load_marks(sitting, marks_path, marks_needed, error);
    if (code == TDM_OK)
        code = tdm_device_create(tdm_photo_about(sitting->photo), options->ignore_profile, path, warnings,
                                 &sitting->device, error);
    if (code == TDM_OK)
        code = load_references(sitting, error);
    if (code == TDM_OK)
        code = tdm_sitting_locate(sitting, error);
    if (code == TDM_OK)
        code = tdm_sitting_scale(sitting, error);
    if (code == TDM_OK)
        code = tdm_sitting_decode(sitting, error);
    if (code == TDM_OK)
        code = tdm_sitting_calibrate(sitting, error);
    return code;
}

void tdm_sitting_close(tdm_sitting *sitting)
{
    tdm_pixels_free(&sitting->pixels);
    tdm_device_free(sitting->device);
    tdm_marks_free(&sitting->marks);
    tdm_photo_close(sitting->photo);
    free(sitting->marks_path);
    *sitting = (tdm_sitting){0};
}
