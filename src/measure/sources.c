/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/sources.h"

#include <math.h>

/* What is known of the light before the target is looked at: standard deviation of the difference between two
 * places as far apart as the picture's diagonal, in proportion for others. A choice: lamps and windows as
 * README wants them. */
static const double prior_stops = 0.25;
/* Hair lies some 10 mm before or behind the scale's plane, at about 0.8 m: a choice. */
static const double plane_relative = 0.0125;

typedef struct vector {
    double x, y;
} vector;

/* Mean square of the difference of light along d. The target shows the slope with its own uncertainty; shrunk
 * towards even light by what that weighs against the prior (a normal prior and a normal likelihood). The
 * slope is shown, not taken out, so it stays in the uncertainty. */
static double square_stops(const tdm_sitting *sitting, vector d)
{
    const tdm_photo_info *about = tdm_photo_about(sitting->photo);
    const tdm_calibration *calibration = &sitting->calibration;
    const double far = hypot(d.x, d.y) / hypot(about->width, about->height);
    const double prior = prior_stops * prior_stops * far * far;
    const double *var = calibration->drift_var;
    const double doubt = var[0] * d.x * d.x + 2 * var[1] * d.x * d.y + var[2] * d.y * d.y;
    const double trust = isfinite(doubt) && prior > 0 ? prior / (prior + fmax(doubt, 0)) : 0;
    const double seen = trust > 0 ? calibration->drift[0] * d.x + calibration->drift[1] * d.y : 0;
    const double left = prior * (1 - trust), misfit = calibration->light.misfit;
    if (calibration->light.degree == 0)
        return trust * seen * trust * seen + left;
    /* Taken out: a plane through greys leaves what they can't show, a flat field its misfit. */
    return misfit * misfit + (calibration->method == TDM_CALIBRATION_GREY && trust > 0 ? left : 0);
}

static vector path_point(const tdm_zone_marks *zone, size_t index)
{
    return (vector){zone->path.xy[2 * index], zone->path.xy[2 * index + 1]};
}

static vector path_middle(const tdm_zone_marks *zone)
{
    vector sum = {0, 0};
    for (size_t i = 0; i < zone->path.count; i++) {
        sum.x += path_point(zone, i).x / (double)zone->path.count;
        sum.y += path_point(zone, i).y / (double)zone->path.count;
    }
    return sum;
}

static vector between(vector from, vector to)
{
    return (vector){to.x - from.x, to.y - from.y};
}

double tdm_sources_stops(const tdm_sitting *sitting, const double from[2], const double to[2])
{
    return sqrt(square_stops(sitting, (vector){to[0] - from[0], to[1] - from[1]}));
}

tdm_sources tdm_sources_at(const tdm_sitting *sitting, size_t zone)
{
    const tdm_zone_marks *marks = &sitting->marks.zones[zone];
    const vector root = path_point(marks, 0), ends = path_point(marks, marks->path.count - 1);
    const vector reference = {sitting->calibration.middle[0], sitting->calibration.middle[1]};
    tdm_sources out = {.lstar = sitting->calibration.u_lstar,
                       .stops_along = sqrt(square_stops(sitting, between(root, ends)))};
    /* The profile alone has no place at which it is right; its own u holds all of that. */
    if (sitting->calibration.method != TDM_CALIBRATION_ICC && !sitting->carried)
        out.stops = sqrt(square_stops(sitting, between(reference, path_middle(marks))));
    else if (sitting->carried)
        out.stops = prior_stops / 2; /* half a diagonal from wherever the target was */
    if (isfinite(sitting->mm_per_px)) {
        out.scale = sitting->scale_u;
        out.plane = plane_relative;
    }
    return out;
}
