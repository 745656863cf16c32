/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calibration file: any bytes. What passes must come back the same and give finite colours. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "marks/calibration_file.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool holds)
{
    if (!holds)
        abort();
}

static void convert(const tdm_calibration *calibration)
{
    static const float colours[] = {0,      0,    0,    0.9642F, 1,     0.8249F, 0.01F, 0.02F,
                                    0.005F, 0.4F, 0.2F, 2,       -0.1F, 0.3F,    -0.2F, 4,
                                    4,      4,    -1,   -1,      -1,    1e-6F,   0,     1e-6F};
    enum { COUNT = sizeof colours / sizeof colours[0] };
    float xyz[COUNT];
    memcpy(xyz, colours, sizeof colours);
    tdm_calibration_apply(calibration, xyz, COUNT / 3);
    for (int i = 0; i < COUNT; i++)
        must(isfinite(xyz[i]));
}

/* A light that passes can be taken out anywhere in its picture, and mixed after. */
static void light_at(const tdm_calibration *calibration, double x, double y)
{
    enum { COUNT = 4 };
    const double low = exp2(-TDM_LIGHT_MOST - 1), high = exp2(TDM_LIGHT_MOST + 1);
    double factors[3], xyz[3];
    float row[3 * COUNT];
    tdm_light_at(&calibration->light, x, y, factors);
    for (int c = 0; c < 3; c++)
        must(factors[c] > low && factors[c] < high);
    tdm_light_row(&calibration->light, x, y, COUNT, row);
    for (int i = 0; i < 3 * COUNT; i++)
        must(isfinite(row[i]) && row[i] > 0);
    tdm_calibration_mix(calibration, factors, xyz);
    must(isfinite(xyz[0]) && isfinite(xyz[1]) && isfinite(xyz[2]));
}

static void light_all_over(const tdm_calibration *calibration)
{
    enum { STEPS = 10 }; /* beside the places that the check looks at */
    const double width = calibration->light.width, height = calibration->light.height;
    for (int i = 0; calibration->light.degree > 0 && i < (STEPS + 1) * (STEPS + 1); i++)
        light_at(calibration, width * (i % (STEPS + 1)) / STEPS, height * (i / (STEPS + 1)) / STEPS);
}

static void come_back(const tdm_calibration *read, const tdm_calibration_origin *origin)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_calibration again;
    tdm_calibration_origin from;
    tdm_warnings warnings = {0};
    char *first = NULL, *second = NULL;
    must(tdm_calibration_text(read, origin, &first, NULL) == TDM_OK);
    must(tdm_calibration_parse(first, strlen(first), "again", &limits, &warnings, &again, &from, NULL) ==
         TDM_OK);
    must(warnings.count == 0);
    must(tdm_calibration_text(&again, &from, &second, NULL) == TDM_OK);
    must(strcmp(first, second) == 0);
    tdm_free(first);
    tdm_free(second);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_calibration read;
    tdm_calibration_origin origin;
    tdm_warnings warnings = {0};
    if (tdm_calibration_parse((const char *)data, size, "fuzz", &limits, &warnings, &read, &origin, NULL) ==
        TDM_OK) {
        convert(&read);
        light_all_over(&read);
        come_back(&read, &origin);
    }
    tdm_warnings_free(&warnings);
    return 0;
}
