/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A target's correction for others: other photographs of the sitting, other software. */
#include <stdio.h>
#include <stdlib.h>

#include "base/fail.h"
#include "base/text.h"
#include "colour/icc_export.h"
#include "marks/calibration_file.h"
#include "measure/target_reading.h"

tdm_code tdm_target_calibration(const tdm_target_reading *target, char **out, tdm_error *error)
{
    tdm_calibration_origin origin = {0};
    (void)snprintf(origin.photo, sizeof origin.photo, "%s", target->file);
    (void)snprintf(origin.sha256, sizeof origin.sha256, "%s", target->sha256);
    (void)snprintf(origin.profile, sizeof origin.profile, "%s", target->profile);
    (void)snprintf(origin.reference, sizeof origin.reference, "%s", target->reference.note);
    (void)snprintf(origin.taken, sizeof origin.taken, "%s", target->taken);
    return tdm_calibration_text(&target->calibration, &origin, out, error);
}

/* A profile's description is ASCII. */
static char *describe(const tdm_target_reading *target)
{
    tdm_text text = {0};
    tdm_text_format(&text, "24-patch target in %s", target->file);
    if (text.failed) {
        tdm_text_free(&text);
        return NULL;
    }
    for (size_t i = 0; i < text.size; i++) {
        if ((unsigned char)text.data[i] < 0x20 || (unsigned char)text.data[i] > 0x7e)
            text.data[i] = '?';
    }
    return text.data;
}

tdm_code tdm_target_profile(const tdm_target_reading *target, uint8_t **bytes, size_t *size, tdm_error *error)
{
    char *description = describe(target);
    if (!description)
        return tdm_fail_memory(error, target->file);
    const tdm_code code =
        tdm_icc_export(target->device, &target->calibration, description, bytes, size, error);
    free(description);
    return code;
}
