/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/judged.h"

#include <math.h>
#include <string.h>

#include "suite.h"

void judged_good(judged *it)
{
    static char name[] = "zone";
    *it = (judged){.path = {500, 100, 500, 900}, .widths = {80, 80}};
    it->zone = (tdm_zone_marks){.name = name, .path = {it->path, 2}, .widths = it->widths};
    it->marks = (tdm_marks){.zones = &it->zone, .zone_count = 1};
    it->photo = (tdm_photo_info){.width = 1000, .height = 1000, .jpeg_quality = 90};
    it->calibration = (tdm_calibration){.method = TDM_CALIBRATION_TARGET,
                                        .gain = {1, 1, 1},
                                        .residual_mean = 1,
                                        .left_out_mean = 2,
                                        .drift_var = {NAN}};
    it->input = (tdm_quality_input){.pixels = &it->pixels,
                                    .photo = &it->photo,
                                    .marks = &it->marks,
                                    .calibration = &it->calibration,
                                    .mm_per_px = 0.1};
    it->strip = (tdm_strip){.rows = 800,
                            .cols = 320,
                            .scaled = true,
                            .cell = 0.25,
                            .length = 200,
                            .width = 80,
                            .cell_px = 2.5,
                            .used_share = 1};
}

void judged_free(judged *it)
{
    tdm_quality_free(&it->quality);
    tdm_warnings_free(&it->warnings);
    it->carries = false;
}

void judged_again(judged *it)
{
    judged_free(it);
    judged_good(it);
}

bool zone_warns(judged *it, const char *code)
{
    judged_free(it);
    ck_assert_int_eq(
        tdm_quality_zone(&it->input, 0, &it->strip, &it->quality, &it->warnings, &it->carries, &it->error),
        TDM_OK);
    return tdm_warnings_have(&it->warnings, code);
}

bool photo_warns(judged *it, const char *code)
{
    judged_free(it);
    ck_assert_int_eq(tdm_quality_photo(&it->input, &it->quality, &it->warnings, &it->error), TDM_OK);
    return tdm_warnings_have(&it->warnings, code);
}

const tdm_quality_figure *judged_figure(const judged *it, const char *code)
{
    for (size_t i = 0; i < it->quality.count; i++) {
        if (strcmp(it->quality.items[i].code, code) == 0)
            return &it->quality.items[i];
    }
    ck_abort_msg("%s", code);
}
