/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compare/growth.h"

#include <math.h>
#include <string.h>

#include "base/date.h"
#include "compare/course.h"
#include "measure/regrowth.h"

static const tdm_value unknown = {(double)NAN, (double)NAN};

static bool day_of(const char *text, int *out)
{
    tdm_date date;
    if (!text || !tdm_date_of_capture(text, &date))
        return false;
    *out = tdm_date_number(date);
    return true;
}

tdm_growth tdm_growth_dates(const tdm_reading *before, const tdm_reading *after)
{
    tdm_growth out = {.days = NAN, .mm = unknown, .mm_per_month = unknown};
    tdm_photo_facts first, second;
    int from = 0, to = 0, coloured = 0;
    tdm_reading_photo(before, &first);
    tdm_reading_photo(after, &second);
    if (!day_of(first.taken, &from) || !day_of(second.taken, &to)) {
        out.state = "no-date";
        return out;
    }
    out.days = to - from;
    if (to < from)
        out.state = "out-of-order";
    else if (to == from)
        out.state = "same-day";
    else if (day_of(second.coloured_on, &coloured) && coloured > from)
        out.state = "coloured";
    return out;
}

static bool has_line(const tdm_zone_reading *zone)
{
    const tdm_course_kind kind = tdm_course_of(zone, true).kind;
    return kind == TDM_COURSE_LINE || kind == TDM_COURSE_BAND;
}

static const char *why_other(tdm_kept kept)
{
    return kept == TDM_KEPT_NOT_WIDTH ? "other-width" : kept == TDM_KEPT_NOT_COLOURS ? "other-colours" : NULL;
}

/* NULL where growth may be told; moved: how far the line's centre has. */
static const char *why_not(const tdm_growth *dates, const tdm_zone_change *zone, tdm_value *moved)
{
    if (dates->state)
        return dates->state;
    if (tdm_lacks_mm(zone->before) || tdm_lacks_mm(zone->after))
        return "no-scale";
    if (!has_line(zone->before) || !has_line(zone->after) ||
        !tdm_change(zone, tdm_figure_find("gradient.centre_mm"), moved))
        return "no-line";
    if (dates->days < TDM_LEAST_GROWTH_DAYS)
        return "too-soon";
    return moved->value < -moved->u ? "receded" : why_other(tdm_line_kept(zone));
}

static void put_rate(tdm_growth *out, tdm_value mm)
{
    const double rate = tdm_growth_rate(1, out->days);
    const double parts[2] = {rate * mm.u, 2 * tdm_growth_date_part(mm.value, out->days)};
    out->mm = mm;
    /* hypot(NaN, infinity) would be infinity: an unknown u stays unknown. */
    out->mm_per_month =
        (tdm_value){rate * mm.value, isfinite(mm.u) ? hypot(parts[0], parts[1]) : (double)NAN};
    out->pace = tdm_growth_pace(out->mm_per_month);
    out->state = mm.value > mm.u ? "grown" : "unchanged";
}

tdm_code tdm_growth_zone(const tdm_growth *dates, const tdm_zone_change *zone, tdm_warnings *warnings,
                         tdm_growth *out, tdm_error *error)
{
    tdm_value moved = unknown;
    *out = *dates;
    out->state = why_not(dates, zone, &moved);
    if (!out->state)
        put_rate(out, moved);
    const tdm_code code = tdm_growth_words(zone, out, error);
    return code != TDM_OK
               ? code
               : tdm_growth_warn(warnings, tdm_zone_name(zone->before),
                                 "between the photographs the line has moved by", out->mm_per_month, error);
}

/* One state where all zones have it. */
static const char *common_state(const tdm_zone_change *zones, size_t count)
{
    for (size_t i = 1; i < count; i++) {
        if (strcmp(zones[i].growth.state, zones[0].growth.state) != 0)
            return "varies";
    }
    return zones[0].growth.state;
}

tdm_code tdm_growth_head(const tdm_growth *dates, const tdm_zone_change *head, const tdm_zone_change *zones,
                         size_t count, tdm_growth *out, tdm_error *error)
{
    tdm_value sum = {0, 0};
    double told = 0;
    *out = *dates;
    for (size_t i = 0; i < count; i++) {
        if (!isfinite(zones[i].growth.mm.value))
            continue;
        /* Not shrunk: the zones share scale and plane, whose errors don't cancel. */
        sum.value += zones[i].growth.mm.value;
        sum.u += zones[i].growth.mm.u;
        told += 1;
    }
    if (told > 0 && 2 * told >= (double)count)
        put_rate(out, (tdm_value){sum.value / told, sum.u / told});
    else
        out->state = common_state(zones, count);
    return tdm_growth_words(head, out, error);
}
