/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/head.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/evenness_head.h"
#include "measure/measure.h"
#include "measure/regrowth.h"

typedef struct group {
    const struct tdm_zone_reading *zones;
    const double *areas;
    size_t count;
} group;

static double zone_weight(const group *all, size_t i)
{
    return all->zones[i].weight * all->areas[i];
}

static void *place(struct tdm_zone_reading *zone, const tdm_figure *figure)
{
    return (char *)zone + figure->offset;
}

/* Each part is averaged, not shrunk: the zones share one calibration, light and scale. */
static tdm_budget mean_budget(const group *all, const tdm_figure *figure)
{
    tdm_budget sum = {{0}}, here;
    double weights = 0;
    for (size_t i = 0; i < all->count; i++) {
        tdm_value value;
        if (!tdm_zone_value(&all->zones[i], figure, &value))
            continue;
        if (!tdm_zone_budget(&all->zones[i], figure, &here))
            here = (tdm_budget){.part = {NAN}}; /* a zone that counts, and whose u isn't known */
        weights += zone_weight(all, i);
        for (int k = 0; k < TDM_PARTS; k++)
            sum.part[k] += zone_weight(all, i) * here.part[k];
    }
    return tdm_budget_times(&sum, weights > 0 ? 1 / weights : NAN);
}

static void mean_value(const group *all, const tdm_figure *figure, struct tdm_zone_reading *head)
{
    double weights = 0, value = 0;
    for (size_t i = 0; i < all->count; i++) {
        tdm_value here;
        if (!tdm_zone_value(&all->zones[i], figure, &here))
            continue;
        weights += zone_weight(all, i);
        value += zone_weight(all, i) * here.value;
    }
    if (weights <= 0)
        return;
    const tdm_budget parts = mean_budget(all, figure);
    if (figure->kind == TDM_FIGURE_VALUE)
        tdm_put(head, place(head, figure), value / weights, &parts);
    else
        *(double *)place(head, figure) = value / weights;
}

/* Counts add up over the head, whatever the zones weigh. */
static bool is_count(const tdm_figure *figure)
{
    static const char *const counts[] = {"demarcation.gap_count", "demarcation.bleed_count",
                                         "evenness.warm_count"};
    for (size_t i = 0; i < sizeof counts / sizeof counts[0]; i++) {
        if (strcmp(figure->path, counts[i]) == 0)
            return true;
    }
    return false;
}

static void sum_value(const group *all, const tdm_figure *figure, struct tdm_zone_reading *head)
{
    double *sum = place(head, figure);
    for (size_t i = 0; i < all->count; i++) {
        tdm_value here;
        if (tdm_zone_value(&all->zones[i], figure, &here))
            *sum = (isfinite(*sum) ? *sum : 0) + here.value;
    }
}

static void mean_lab(const group *all, const tdm_figure *figure, struct tdm_zone_reading *head)
{
    double weights = 0, sum[3] = {0, 0, 0};
    for (size_t i = 0; i < all->count; i++) {
        double lab[3], xyz[3];
        if (!tdm_zone_lab(&all->zones[i], figure, lab))
            continue;
        tdm_lab_to_xyz(lab, xyz);
        weights += zone_weight(all, i);
        for (int k = 0; k < 3; k++)
            sum[k] += zone_weight(all, i) * xyz[k];
    }
    if (weights <= 0)
        return;
    for (int k = 0; k < 3; k++)
        sum[k] /= weights;
    tdm_xyz_to_lab(sum, place(head, figure));
}

static void commonest_word(const group *all, const tdm_figure *figure, struct tdm_zone_reading *head)
{
    double most = 0;
    for (size_t i = 0; i < all->count; i++) {
        const char *word = tdm_zone_word(&all->zones[i], figure);
        double weight = 0;
        for (size_t j = 0; word && j < all->count; j++) {
            const char *other = tdm_zone_word(&all->zones[j], figure);
            if (other && strcmp(word, other) == 0)
                weight += zone_weight(all, j);
        }
        if (weight > most) {
            most = weight;
            *(const char **)place(head, figure) = word;
        }
    }
}

static void any_flag(const group *all, const tdm_figure *figure, struct tdm_zone_reading *head)
{
    for (size_t i = 0; i < all->count; i++) {
        bool here = false;
        if (tdm_zone_flag(&all->zones[i], figure, &here) && here)
            *(bool *)place(head, figure) = true;
    }
}

static void mean_visibility(const group *all, struct tdm_zone_reading *head)
{
    for (size_t k = 0; k < TDM_DISTANCES; k++) {
        double weights = 0, sum = 0, u = 0;
        for (size_t i = 0; i < all->count; i++) {
            const tdm_visibility *here = &all->zones[i].demarcation.visibility[k];
            if (!isfinite(here->dprime))
                continue;
            weights += zone_weight(all, i);
            sum += zone_weight(all, i) * here->dprime;
            u += zone_weight(all, i) * here->u;
        }
        if (weights <= 0)
            continue;
        head->demarcation.visibility[k].dprime = sum / weights;
        head->demarcation.visibility[k].u = u / weights;
    }
}

/* The line of a head shows where that of any zone does: from the nearest on, and until all are hidden. */
static void widest_range(const group *all, struct tdm_zone_reading *head)
{
    double shows = NAN, hidden = NAN;
    bool never_hidden = false;
    for (size_t i = 0; i < all->count; i++) {
        const double near = all->zones[i].demarcation.shows_from_m;
        const double far = all->zones[i].demarcation.hidden_from_m;
        shows = fmin(shows, near); /* of a number and NaN, the number */
        hidden = fmax(hidden, far);
        never_hidden = never_hidden || (isfinite(near) && !isfinite(far));
    }
    head->demarcation.shows_from_m = shows;
    head->demarcation.hidden_from_m = never_hidden ? (double)NAN : hidden;
}

static int hardness(const char *grade)
{
    static const char *const grades[] = {"none", "soft", "visible", "hard"};
    for (int i = 0; grade && i < 4; i++) {
        if (strcmp(grade, grades[i]) == 0)
            return i;
    }
    return -1;
}

static void hardest_grade(const group *all, struct tdm_zone_reading *head)
{
    head->demarcation.grade = NULL;
    for (size_t i = 0; i < all->count; i++) {
        const char *grade = all->zones[i].demarcation.grade;
        if (hardness(grade) > hardness(head->demarcation.grade))
            head->demarcation.grade = grade;
    }
}

/* Level and tone follow from the mean colour: levels themselves don't average. */
static void derive_area(const tdm_level_scale *scale, struct tdm_zone_reading *head, tdm_area *area)
{
    if (!isfinite(area->lab[0]))
        return;
    area->lstar.value = area->lab[0];
    const tdm_budget parts = tdm_budget_of(head, &area->lstar);
    const tdm_budget levels = tdm_budget_times(&parts, tdm_level_slope(scale, area->lab[0]));
    tdm_put(head, &area->level, tdm_level_from_lstar(scale, area->lab[0]), &levels);
    area->tone = tdm_tone_word(area->lab);
}

static tdm_code compare_zones(const group *all, struct tdm_zone_reading *head, tdm_error *error)
{
    double *shares = calloc(all->count + 1, sizeof *shares);
    if (!shares)
        return tdm_fail_memory(error, NULL);
    for (size_t i = 0; i < all->count; i++)
        shares[i] = zone_weight(all, i);
    const tdm_head_zones zones = {.zones = all->zones, .shares = shares, .count = all->count};
    tdm_evenness_head(&zones, head);
    tdm_frame_head(&zones, head);
    free(shares);
    return TDM_OK;
}

tdm_code tdm_head_make(const struct tdm_zone_reading *zones, const double *areas, size_t count,
                       const tdm_level_scale *scale, struct tdm_zone_reading *head, tdm_error *error)
{
    const group all = {.zones = zones, .areas = areas, .count = count};
    size_t rows = 0;
    const tdm_figure *figures = tdm_figures(&rows);
    head->name = strdup("head");
    if (!head->name)
        return tdm_fail_memory(error, NULL);
    for (size_t i = 0; i < rows; i++) {
        switch (figures[i].kind) {
        case TDM_FIGURE_VALUE:
        case TDM_FIGURE_NUMBER:
            if (is_count(&figures[i]))
                sum_value(&all, &figures[i], head);
            else
                mean_value(&all, &figures[i], head);
            break;
        case TDM_FIGURE_LAB:
            mean_lab(&all, &figures[i], head);
            break;
        case TDM_FIGURE_WORD:
            commonest_word(&all, &figures[i], head);
            break;
        case TDM_FIGURE_FLAG:
            any_flag(&all, &figures[i], head);
            break;
        case TDM_FIGURE_VISIBILITY:
            mean_visibility(&all, head);
            break;
        case TDM_FIGURE_PROFILE:
        case TDM_FIGURE_PLACES:
            break; /* zones have no common places */
        }
    }
    derive_area(scale, head, &head->overall);
    derive_area(scale, head, &head->root);
    derive_area(scale, head, &head->mid);
    derive_area(scale, head, &head->ends);
    hardest_grade(&all, head);
    widest_range(&all, head);
    head->regrowth.pace = tdm_growth_pace(head->regrowth.mm_per_month);
    return compare_zones(&all, head, error);
}
