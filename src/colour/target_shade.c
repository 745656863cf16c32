/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The edge of a shadow across the target: light that jumps along a straight line, which an even slope doesn't
 * explain. */
#include <math.h>

#include "base/fail.h"
#include "base/text.h"
#include "colour/target.h"

enum { FEWEST_A_SIDE = 4 };
/* Choices, tried on drawn targets; see METHODS.md. */
static const double least_step = 0.15; /* stops */
static const double falls_to = 0.7;    /* of the coloured patches' miss */
static const double falls_by = 0.3;    /* CIEDE2000 */

/* Parts the patches by a line; false where a side is too small. */
static bool part(int along_columns, int along_rows, double at, tdm_terms *terms)
{
    int low = 0;
    for (int i = 0; i < TDM_PATCHES; i++) {
        const int where = along_columns * (i % TDM_TARGET_COLUMNS) + along_rows * (i / TDM_TARGET_COLUMNS);
        terms->side[i] = where < at ? -1 : 1;
        low += where < at;
    }
    return low >= FEWEST_A_SIDE && TDM_PATCHES - low >= FEWEST_A_SIDE;
}

bool tdm_target_shaded(const tdm_target *target, const tdm_target_fit *fit, tdm_target_fit *best)
{
    static const int ways[][2] = {{1, 0}, {0, 1}, {1, 1}, {1, -1}, {1, 2}, {1, -2}, {2, 1}, {2, -1}};
    double least = fmin(falls_to * fit->typical, fit->typical - falls_by);
    bool found = false;
    for (size_t way = 0; way < sizeof ways / sizeof ways[0]; way++) {
        for (double at = -5.5; at < 13; at++) {
            tdm_terms terms = {.sloped = true, .stepped = true};
            tdm_target_fit now;
            if (!part(ways[way][0], ways[way][1], at, &terms) ||
                !tdm_target_solve(target, &terms, -1, fit, &now, NULL) || now.typical >= least ||
                2 * fabs(now.free[TDM_FREE_STEP]) < least_step)
                continue;
            *best = now;
            least = now.typical;
            found = true;
        }
    }
    return found;
}

tdm_code tdm_target_warn_shade(const tdm_target_fit *fit, tdm_warnings *warnings, tdm_error *error)
{
    tdm_text stops = {0};
    tdm_text_number(&stops, 2 * fabs(fit->free[TDM_FREE_STEP]), 1, "");
    tdm_code code = stops.failed ? tdm_fail_memory(error, NULL) : TDM_OK;
    if (code == TDM_OK)
        code = tdm_warn(warnings, error, "target-shaded", NULL,
                        "light on the target jumps by %s stops along a line across it: part of it lies in "
                        "shade, and which part the hair's light is like isn't known",
                        stops.data);
    tdm_text_free(&stops);
    return code;
}
