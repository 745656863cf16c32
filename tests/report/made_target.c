/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/made_target.h"

#include <math.h>
#include <string.h>

#include "colour/drawn.h"
#include "colour/profiles.h"
#include "suite.h"

static void set_result(const tdm_target_reading *target, size_t i, tdm_patch_result *result)
{
    const double x = 30 + (double)(i % 6) * MADE_PITCH + 25.5, y = 30 + (double)(i / 6) * MADE_PITCH + 25.5;
    const double outline[8] = {x - 12.5, y - 12.5, x + 12.5, y - 12.5,
                               x + 12.5, y + 12.5, x - 12.5, y + 12.5};
    *result = (tdm_patch_result){.state = i == 14   ? TDM_PATCH_ODD
                                          : i == 15 ? TDM_PATCH_CLIPPED
                                                    : TDM_PATCH_KEPT,
                                 .de00_before = 5,
                                 .de00_after = (double)i / 10,
                                 .left_out = i == 15 ? NAN : 1.5};
    memcpy(result->outline, outline, sizeof outline);
    for (size_t k = 0; k < 3; k++) {
        result->before[k] = target->reference.lab[i][k] - 3;
        result->after[k] = target->reference.lab[i][k] + 1;
    }
}

tdm_target_reading *made_target(void)
{
    tdm_target_reading *target = calloc(1, sizeof *target);
    camera by = plain_camera();
    ck_assert_ptr_nonnull(target);
    by.gain[0] = 0.8;
    target->file = strdup("target.jpg");
    target->profile = strdup("sRGB");
    target->profile_source = TDM_PROFILE_ASSUMED;
    memset(target->sha256, 'a', 64);
    strcpy(target->taken, "2026-03-14T09:26:53");
    target->reference = tdm_reference_published();
    target->device = srgb_device();
    target->crop = draw_target(8, target->reference.lab, &by, MADE_PITCH, target->found.corners);
    target->width = target->crop.rect.width;
    target->height = target->crop.rect.height;
    target->found.turn_deg = 2;
    target->found.confidence = 0.98;
    target->calibration = tdm_calibration_none(target->device);
    target->calibration.method = TDM_CALIBRATION_TARGET;
    target->calibration.before_mean = 7.25;
    target->calibration.before_max = 15;
    target->calibration.residual_mean = 1.25;
    target->calibration.residual_max = 2.3;
    target->calibration.left_out_mean = 1.75;
    target->calibration.hair_mean = 1.5;
    target->calibration.u_lstar = 0.75;
    for (size_t i = 0; i < TDM_PATCHES; i++)
        set_result(target, i, &target->results[i]);
    return target;
}
