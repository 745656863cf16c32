/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Growth since the last colour: from its line and two dates. */
#include "measure/regrowth.h"

#include <math.h>
#include <string.h>

#include "base/fail.h"

static tdm_code check_day(const char *text, const char *place, tdm_error *error)
{
    if (!text || tdm_is_date(text))
        return TDM_OK;
    return tdm_fail(error, TDM_ERR_USAGE, NULL, place,
                    "must be a real day as YYYY-MM-DD, such as 2026-03-14");
}

tdm_code tdm_regrowth_check(const tdm_read_options *options, tdm_error *error)
{
    const tdm_code code = check_day(options->coloured_on, "coloured-on", error);
    return code == TDM_OK ? check_day(options->taken_on, "taken-on", error) : code;
}

tdm_code tdm_regrowth_dates(const tdm_read_options *options, const char *path, tdm_reading *reading,
                            tdm_error *error)
{
    tdm_date coloured, taken;
    reading->days = NAN;
    if (options->taken_on && tdm_date_parse(options->taken_on, &taken)) {
        memcpy(reading->taken, options->taken_on, TDM_DATE_ROOM);
        reading->taken_given = true;
    }
    if (!options->coloured_on || !tdm_date_parse(options->coloured_on, &coloured))
        return TDM_OK;
    memcpy(reading->coloured_on, options->coloured_on, TDM_DATE_ROOM);
    if (!tdm_date_of_capture(reading->taken, &taken))
        return tdm_warn(&reading->warnings, error, "no-date", NULL,
                        "the photograph doesn't say when it was taken, so that growth since the last colour "
                        "can't be told; give its day");
    const int days = tdm_date_number(taken) - tdm_date_number(coloured);
    if (days < 0)
        return tdm_fail(error, TDM_ERR_USAGE, path, "coloured-on",
                        "%s is after the day of the photograph, %.10s; if the camera's clock was wrong, give "
                        "the right day",
                        options->coloured_on, reading->taken);
    reading->days = days;
    if (days < TDM_LEAST_GROWTH_DAYS)
        return tdm_warn(&reading->warnings, error, "regrowth-too-soon", NULL,
                        "the last colour is %d day%s old; growth a month can be told from %d days on", days,
                        days == 1 ? "" : "s", TDM_LEAST_GROWTH_DAYS);
    return TDM_OK;
}

/* A change of colour that doesn't show is no line of the last colour. */
static bool has_line(const struct tdm_zone_reading *zone)
{
    const char *shape = zone->gradient.shape, *grade = zone->demarcation.grade;
    return shape && (strcmp(shape, "transition") == 0 || strcmp(shape, "band") == 0) && grade &&
           strcmp(grade, "none") != 0;
}

static tdm_code put_pace(double days, struct tdm_zone_reading *zone, tdm_warnings *warnings, tdm_error *error)
{
    const double mm = zone->regrowth.length_mm.value;
    const tdm_budget length = tdm_budget_of(zone, &zone->gradient.centre_mm);
    tdm_budget parts = tdm_budget_times(&length, tdm_growth_rate(1, days));
    parts.part[TDM_PART_DATE] = tdm_growth_date_part(mm, days);
    tdm_put(zone, &zone->regrowth.mm_per_month, tdm_growth_rate(mm, days), &parts);
    zone->regrowth.pace = tdm_growth_pace(zone->regrowth.mm_per_month);
    return tdm_growth_warn(warnings, zone->name, "since the last colour the line has grown out by",
                           zone->regrowth.mm_per_month, error);
}

tdm_code tdm_regrowth_measure(double days, struct tdm_zone_reading *zone, tdm_warnings *warnings,
                              tdm_error *error)
{
    if (!isfinite(days) || isnan(zone->length_mm))
        return TDM_OK;
    if (!has_line(zone) || !isfinite(zone->gradient.centre_mm.value))
        return tdm_warn(warnings, error, "regrowth-no-line", zone->name,
                        "no line shows here, so that growth since the last colour can't be told");
    const tdm_budget length = tdm_budget_of(zone, &zone->gradient.centre_mm);
    tdm_put(zone, &zone->regrowth.length_mm, zone->gradient.centre_mm.value, &length);
    zone->regrowth.days = days;
    return days < TDM_LEAST_GROWTH_DAYS ? TDM_OK : put_pace(days, zone, warnings, error);
}
