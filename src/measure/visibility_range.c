/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/visibility_range.h"

#include <math.h>

static const double shows_at = 1; /* d': the lower limit of a grade above none */

/* Steps of a factor of about 1.4, through the distances that a reading gives. */
static const double steps[] = {0.3, 0.42, 0.6, 0.85, 1.2, 1.7, 2.4, 3.0, 4.2, 6.0, 8.5, 10.0};
enum { STEPS = sizeof steps / sizeof steps[0], REFINEMENTS = 2 };

typedef struct point {
    double distance, dprime;
} point;

static tdm_code look_from(const tdm_scielab *scielab, const tdm_fall *fall, point *at, tdm_error *error)
{
    tdm_look look;
    const tdm_code code = tdm_look_from(scielab, fall, at->distance, NULL, &look, error);
    if (code == TDM_OK)
        at->dprime = look.dprime;
    return code;
}

static bool shows(const point *at)
{
    return at->dprime >= shows_at;
}

/* Where d' passes the limit, d' being straight over the distance's logarithm. */
static double crossing(const point *near, const point *far)
{
    const double part = (shows_at - near->dprime) / (far->dprime - near->dprime);
    return near->distance * pow(far->distance / near->distance, part);
}

/* The line shows from one of the two and not from the other. */
static tdm_code refine(const tdm_scielab *scielab, const tdm_fall *fall, point near, point far,
                       double *distance, tdm_error *error)
{
    for (int i = 0; i < REFINEMENTS; i++) {
        point between = {.distance = crossing(&near, &far)};
        const tdm_code code = look_from(scielab, fall, &between, error);
        if (code != TDM_OK)
            return code;
        if (!isfinite(between.dprime))
            break;
        if (shows(&between) == shows(&near))
            near = between;
        else
            far = between;
    }
    *distance = crossing(&near, &far);
    return TDM_OK;
}

static tdm_code look_from_all(const tdm_scielab *scielab, const tdm_fall *fall, const tdm_visibility *known,
                              size_t count, point points[STEPS], tdm_error *error)
{
    for (size_t i = 0; i < STEPS; i++) {
        points[i] = (point){.distance = steps[i], .dprime = NAN};
        bool found = false;
        for (size_t k = 0; k < count && !found; k++) {
            found = fabs(known[k].distance_m - steps[i]) < 1e-9;
            if (found)
                points[i].dprime = known[k].dprime;
        }
        const tdm_code code = found ? TDM_OK : look_from(scielab, fall, &points[i], error);
        if (code != TDM_OK)
            return code;
    }
    return TDM_OK;
}

tdm_code tdm_line_range(const tdm_scielab *scielab, const tdm_fall *fall, const tdm_visibility *known,
                        size_t count, double *shows_from_m, double *hidden_from_m, tdm_error *error)
{
    point points[STEPS];
    *shows_from_m = *hidden_from_m = NAN;
    tdm_code code = look_from_all(scielab, fall, known, count, points, error);
    if (code != TDM_OK)
        return code;
    size_t first = 0, past = STEPS;
    for (size_t i = 0; i < STEPS; i++) {
        if (!isfinite(points[i].dprime))
            return TDM_OK;
    }
    while (first < STEPS && !shows(&points[first]))
        first++;
    while (past > 0 && !shows(&points[past - 1]))
        past--;
    if (first == 0)
        *shows_from_m = steps[0];
    else if (first < STEPS)
        code = refine(scielab, fall, points[first - 1], points[first], shows_from_m, error);
    if (code == TDM_OK && past == 0)
        *hidden_from_m = steps[0];
    else if (code == TDM_OK && past < STEPS)
        code = refine(scielab, fall, points[past - 1], points[past], hidden_from_m, error);
    return code;
}
