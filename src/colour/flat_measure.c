/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/flat_parts.h"
#include "colour/sample.h"

enum { ACROSS = 48, LEAST_DOWN = 6 };    /* cells along the longer side; at least along the shorter */
static const double top = 0.95;          /* linear: from here on noise reaches the channel's top */
static const double darkest = 0.01;      /* linear: about 25 of 255 in sRGB */
static const double most_clipped = 0.02; /* share of a cell's pixels */

static uint32_t cells_along(uint32_t side, uint32_t longer)
{
    const double count = round((double)ACROSS * side / longer);
    const uint32_t some = (uint32_t)fmax(count, LEAST_DOWN);
    return some < side ? some : side;
}

static void take_cell(const tdm_sample *sample, const tdm_calibration *calibration, double x, double y,
                      tdm_flat_cells *out)
{
    tdm_flat_cell *cell = &out->list[out->count];
    bool clipped = sample->clipped_share > most_clipped, dark = false;
    for (int c = 0; c < 3; c++) {
        clipped = clipped || sample->rgb[c] > top;
        dark = dark || !(sample->rgb[c] >= darkest) ||
               !(tdm_calibration_channel(calibration, c, sample->rgb[c]) > 0);
    }
    out->clipped += clipped;
    out->dark += dark && !clipped;
    if (clipped || dark || sample->used == 0)
        return;
    *cell = (tdm_flat_cell){.x = x, .y = y, .weight = 1};
    for (int c = 0; c < 3; c++)
        cell->stops[c] = log2(tdm_calibration_channel(calibration, c, sample->rgb[c]));
    out->count++;
}

tdm_code tdm_flat_measure(const tdm_device *device, const tdm_pixels *pixels,
                          const tdm_calibration *calibration, uint32_t width, uint32_t height,
                          const char *file, tdm_flat_cells *out, tdm_error *error)
{
    const uint32_t wide = pixels->rect.width, high = pixels->rect.height;
    const uint32_t longer = wide > high ? wide : high;
    const uint32_t columns = cells_along(wide, longer), rows = cells_along(high, longer);
    *out = (tdm_flat_cells){.list = calloc((size_t)columns * rows, sizeof *out->list)};
    if (!out->list)
        return tdm_fail_memory(error, file);
    const double across = (double)wide / columns, down = (double)high / rows;
    for (uint32_t i = 0; i < columns * rows; i++) {
        const double left = across * (i % columns), above = down * (i / columns);
        const double right = left + across, below = above + down;
        const double outline[8] = {left, above, right, above, right, below, left, below};
        tdm_sample sample;
        const tdm_code code = tdm_sample_polygon(device, pixels, outline, 4, &sample, error);
        if (code != TDM_OK)
            return code;
        take_cell(&sample, calibration, (left + right) / 2 * width / wide,
                  (above + below) / 2 * height / high, out);
    }
    return TDM_OK;
}
