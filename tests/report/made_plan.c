/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/made_plan.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/lab.h"
#include "compare/made_reading.h"

const double made_dark[3] = {28, 6, 9}, made_light[3] = {62, 6, 26}, made_shade[3] = {33, 6, 12};

enum { ROWS = 200, COLS = 80 };

static tdm_hair made_hair(void)
{
    tdm_hair hair = {.strip = {.rows = ROWS,
                               .cols = COLS,
                               .scaled = true,
                               .cell = 0.5,
                               .length = 100,
                               .width = 40,
                               .cell_px = 2,
                               .used_share = 1}};
    const size_t cells = (size_t)ROWS * COLS;
    hair.strip.xyz = calloc(3 * cells, sizeof *hair.strip.xyz);
    hair.strip.lab = calloc(3 * cells, sizeof *hair.strip.lab);
    hair.strip.use = calloc(cells, 1);
    hair.body = calloc(3 * cells, sizeof *hair.body);
    hair.shade = calloc(cells, sizeof *hair.shade);
    ck_assert(hair.strip.xyz && hair.strip.lab && hair.strip.use && hair.body && hair.shade);
    for (size_t i = 0; i < cells; i++) {
        const bool light = i / COLS >= ROWS / 2 && i % COLS >= COLS / 2;
        double xyz[3];
        tdm_lab_to_xyz(light ? made_light : made_dark, xyz);
        for (size_t k = 0; k < 3; k++)
            hair.strip.xyz[3 * i + k] = hair.body[3 * i + k] = (float)xyz[k];
        hair.shade[i] = 1;
        hair.strip.use[i] = 1;
    }
    tdm_xyz_to_lab_many(hair.strip.xyz, hair.strip.lab, cells);
    return hair;
}

static tdm_planned_zone made_zone(const tdm_reading *reading, size_t index, const char *need)
{
    double xyz[3];
    tdm_lab_to_xyz((double[]){50, 0, 0}, xyz);
    return (tdm_planned_zone){.about = {.name = reading->zones[index].name,
                                        .weight = 1,
                                        .need = need,
                                        .dprime = 6.25,
                                        .why = made_copy("The line at 50 mm is hard."),
                                        .light = {.target_level = 8.5,
                                                  .share = {.value = 0.25, .u = 0.125},
                                                  .root_share = 0,
                                                  .mid_share = 0.25,
                                                  .ends_share = 0.5,
                                                  .from_mm = 52.5,
                                                  .to_mm = 97.5}},
                              .has_hair = true,
                              .hair = made_hair(),
                              .light_from = xyz[1]};
}

static void plan_front(tdm_planned_zone *zone)
{
    tdm_zone_plan *about = &zone->about;
    about->planned = about->enough = true;
    about->order = 1;
    about->blend = made_copy("A root shade, feathered out.");
    about->leave = made_copy("25 % is light: don't lighten it.");
    about->shade = (tdm_root_shade){.feather_from_mm = 40,
                                    .to_mm = 60,
                                    .feather_to_mm = 80,
                                    .feather_mm = 40,
                                    .way = 0.125,
                                    .level = {.value = 5.5, .u = 0.25},
                                    .tone = "neutral"};
    memcpy(about->shade.lab, made_shade, sizeof made_shade);
    about->after = (tdm_simulation){.shape = "transition",
                                    .centre_mm = {.value = 58, .u = 2},
                                    .width_mm = {.value = 45, .u = 6},
                                    .dprime = {.value = 1.75, .u = 0.25},
                                    .grade = "soft"};
    zone->melt = (tdm_melt){.to = 60, .feather = 40};
    memcpy(zone->melt.lab, made_shade, sizeof made_shade);
}

tdm_plan *made_plan(void)
{
    static const char *const names[] = {"front", "nape", "crown"};
    tdm_plan *plan = calloc(1, sizeof *plan);
    ck_assert_ptr_nonnull(plan);
    plan->reading = made_reading("before.jpg", 3);
    for (size_t i = 0; i < 3; i++) {
        free(plan->reading->zones[i].name);
        plan->reading->zones[i].name = made_copy(names[i]);
    }
    plan->zones = calloc(3, sizeof *plan->zones);
    ck_assert_ptr_nonnull(plan->zones);
    plan->zone_count = 3;
    plan->zones[0] = made_zone(plan->reading, 0, "needed");
    plan_front(&plan->zones[0]);
    plan->zones[1] = made_zone(plan->reading, 1, "not needed");
    plan->zones[2] = (tdm_planned_zone){.about = {.name = plan->reading->zones[2].name,
                                                  .weight = 1,
                                                  .need = "no plan possible",
                                                  .dprime = NAN,
                                                  .light = tdm_light_unknown()},
                                        .light_from = NAN};
    plan->summary = made_copy("Begin with front.");
    return plan;
}
