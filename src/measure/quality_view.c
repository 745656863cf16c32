/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/quality_edges.h"

static const double most_reach = 256; /* px: bounds the memory */

/* [from, to) of one direction, cut to [start, start + size). */
static uint32_t cut(double middle, double reach, uint32_t start, uint32_t size, uint32_t *from)
{
    const double first = fmax(floor(middle - reach), start);
    const double last = fmin(ceil(middle + reach), (double)start + size);
    if (!(last > first))
        return 0;
    *from = (uint32_t)first;
    return (uint32_t)(last - first);
}

static tdm_code fill(const tdm_quality_input *input, tdm_view *view, float *xyz, uint8_t *flags,
                     tdm_error *error)
{
    const size_t count = (size_t)view->rect.width * view->rect.height;
    const tdm_code code =
        tdm_colour_convert(input->device, input->calibration, input->pixels, view->rect, xyz, flags, error);
    for (size_t i = 0; code == TDM_OK && i < count; i++)
        view->light[i] = xyz[3 * i + 1];
    return code;
}

tdm_code tdm_view_make(const tdm_quality_input *input, double x, double y, double reach, tdm_view *out,
                       tdm_error *error)
{
    const tdm_rect all = input->pixels->rect;
    *out = (tdm_view){0};
    reach = fmin(reach, most_reach);
    out->rect.width = cut(x, reach, all.x, all.width, &out->rect.x);
    out->rect.height = cut(y, reach, all.y, all.height, &out->rect.y);
    const size_t count = (size_t)out->rect.width * out->rect.height;
    if (count == 0)
        return TDM_OK;
    out->light = malloc(count * sizeof *out->light);
    float *xyz = malloc(3 * count * sizeof *xyz);
    uint8_t *flags = malloc(count);
    const tdm_code code =
        out->light && xyz && flags ? fill(input, out, xyz, flags, error) : tdm_fail_memory(error, NULL);
    free(xyz);
    free(flags);
    if (code != TDM_OK)
        tdm_view_free(out);
    return code;
}

void tdm_view_free(tdm_view *view)
{
    free(view->light);
    *view = (tdm_view){0};
}
