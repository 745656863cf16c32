/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/budget.h"

#include <math.h>

#include "colour/lab.h"

double tdm_budget_u(const tdm_budget *parts)
{
    double sum = 0;
    for (int i = 0; i < TDM_PARTS; i++)
        sum += parts->part[i] * parts->part[i];
    return 2 * sqrt(sum);
}

tdm_budget tdm_budget_times(const tdm_budget *parts, double factor)
{
    tdm_budget out;
    for (int i = 0; i < TDM_PARTS; i++)
        out.part[i] = fabs(factor) * parts->part[i];
    return out;
}

/* d L* for a change of light by one stop: L* + 16 goes as the cube root of Y. */
static double lstar_per_stop(double lstar)
{
    return (fmax(lstar, 0) + 16) * log(2) / 3;
}

static double luminance(double lstar)
{
    const double lab[3] = {lstar, 0, 0};
    double xyz[3];
    tdm_lab_to_xyz(lab, xyz);
    return xyz[1];
}

/* What taking light away from a neutral of that L* would take from its L*. */
static double lstar_of_light(double lstar, double light)
{
    const double xyz[3] = {0, luminance(lstar) - light, 0};
    double lab[3];
    tdm_xyz_to_lab(xyz, lab);
    return lstar - lab[0];
}

tdm_budget tdm_lightness_budget(const tdm_sources *sources, double lstar, double sampling, double gloss)
{
    return (tdm_budget){.part = {
                            [TDM_PART_SAMPLING] = sampling,
                            [TDM_PART_CALIBRATION] = sources->lstar,
                            [TDM_PART_LIGHT] = lstar_per_stop(lstar) * sources->stops,
                            [TDM_PART_GLOSS] = lstar_of_light(lstar, gloss),
                        }};
}

tdm_budget tdm_difference_budget(const tdm_sources *sources, double lstar, double difference, double sampling,
                                 double gloss)
{
    const double size = fabs(difference), whole = fmax(lstar, 0) + 16;
    return (tdm_budget){
        .part = {
            [TDM_PART_SAMPLING] = sampling,
            [TDM_PART_CALIBRATION] = sources->lstar / whole * size,
            [TDM_PART_LIGHT] = log(2) / 3 * sources->stops * size,
            [TDM_PART_GLOSS] = fabs(lstar_of_light(lstar - size, gloss) - lstar_of_light(lstar, gloss)),
        }};
}

tdm_budget tdm_length_budget(const tdm_sources *sources, double length, double sampling)
{
    return (tdm_budget){.part = {
                            [TDM_PART_SAMPLING] = sampling,
                            [TDM_PART_SCALE] = fabs(length) * sources->scale,
                            [TDM_PART_PLANE] = fabs(length) * sources->plane,
                        }};
}

const char *tdm_part_word(tdm_part part)
{
    static const char *const words[TDM_PARTS] = {
        [TDM_PART_SAMPLING] = "sampling", [TDM_PART_CALIBRATION] = "calibration",
        [TDM_PART_LIGHT] = "light",       [TDM_PART_SCALE] = "scale",
        [TDM_PART_PLANE] = "plane",       [TDM_PART_GLOSS] = "gloss",
        [TDM_PART_METHOD] = "method",     [TDM_PART_DATE] = "date",
    };
    return part >= 0 && part < TDM_PARTS ? words[part] : "";
}

static size_t row_of(const struct tdm_zone_reading *zone, const tdm_value *where)
{
    size_t count = 0;
    const tdm_figure *figures = tdm_figures(&count);
    const size_t offset = (size_t)((const char *)where - (const char *)zone);
    for (size_t i = 0; i < count; i++) {
        if (figures[i].kind == TDM_FIGURE_VALUE && figures[i].offset == offset)
            return i;
    }
    return count;
}

void tdm_put(struct tdm_zone_reading *zone, tdm_value *where, double value, const tdm_budget *parts)
{
    const size_t row = row_of(zone, where);
    *where = (tdm_value){value, tdm_budget_u(parts)};
    if (row < TDM_MOST_FIGURES)
        zone->budgets[row] = *parts;
}

tdm_budget tdm_budget_of(const struct tdm_zone_reading *zone, const tdm_value *where)
{
    const size_t row = row_of(zone, where);
    return row < TDM_MOST_FIGURES ? zone->budgets[row] : (tdm_budget){{0}};
}

bool tdm_zone_budget(const tdm_zone_reading *zone, const tdm_figure *figure, tdm_budget *out)
{
    tdm_value value;
    const size_t row = (size_t)(figure - tdm_figures(&(size_t){0}));
    if (figure->kind != TDM_FIGURE_VALUE || row >= TDM_MOST_FIGURES ||
        !tdm_zone_value(zone, figure, &value) || !isfinite(value.u))
        return false;
    *out = zone->budgets[row];
    return true;
}
