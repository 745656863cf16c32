/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "strip/way.h"

tdm_code tdm_strip_way_make(const tdm_marks *marks, size_t zone, double unit, tdm_strip_way *out,
                            tdm_error *error)
{
    const double px_per_mm = marks->has_scale ? 1 / marks->mm_per_px : 1; /* as the strip was made */
    out->px = unit;
    return tdm_path_make(&marks->zones[zone], px_per_mm, &out->path, error);
}

void tdm_strip_way_free(tdm_strip_way *way)
{
    tdm_path_free(&way->path);
}

void tdm_strip_way_back(const tdm_strip_way *way, double along, double across, double out[2])
{
    const tdm_path_place at = tdm_path_at(&way->path, along * way->px);
    out[0] = at.x - across * way->px * at.dy;
    out[1] = at.y + across * way->px * at.dx;
}

double tdm_strip_way_width(const tdm_strip_way *way, double along)
{
    return tdm_path_at(&way->path, along * way->px).width / way->px;
}
