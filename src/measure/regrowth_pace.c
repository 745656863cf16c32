/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How fast hair grows: a month's growth against the published range. */
#include <math.h>
#include <string.h>

#include "base/fail.h"
#include "base/text.h"
#include "measure/regrowth.h"

const double tdm_days_a_month = 30.44;

/* Means of groups in 21 countries, 0.8 to 1.3 cm a month: Loussouarn et al., Eur. J. Dermatol. 26:144-154
 * (2016). */
const double tdm_usual_slowest = 8;
const double tdm_usual_fastest = 13;

/* A date leaves the hour open: half a day either way, rectangular (JCGM 100:2008, 4.3.7). */
static const double half_width_days = 0.5;

double tdm_growth_rate(double mm, double days)
{
    return mm * tdm_days_a_month / days;
}

double tdm_growth_date_part(double mm, double days)
{
    return fabs(tdm_growth_rate(mm, days)) * half_width_days / sqrt(3) / days;
}

const char *tdm_growth_pace(tdm_value mm_per_month)
{
    if (!isfinite(mm_per_month.value) || !isfinite(mm_per_month.u))
        return NULL;
    if (mm_per_month.value + mm_per_month.u < tdm_usual_slowest)
        return "slow";
    return mm_per_month.value - mm_per_month.u > tdm_usual_fastest ? "fast" : "usual";
}

static const char *reasons(const char *pace)
{
    return strcmp(pace, "fast") == 0
               ? "some heads do grow faster, but look whether this line is the last colour's, whether colour "
                 "was set below the root then, and whether date and scale are right"
               : "some heads do grow slower, but look whether this line is the last colour's, whether it was "
                 "coloured nearer to the root since, and whether date and scale are right";
}

tdm_code tdm_growth_warn(tdm_warnings *warnings, const char *zone, const char *lead, tdm_value mm_per_month,
                         tdm_error *error)
{
    const char *pace = tdm_growth_pace(mm_per_month);
    if (!pace || strcmp(pace, "usual") == 0)
        return TDM_OK;
    tdm_text rate = {0};
    tdm_text_number(&rate, mm_per_month.value, 1, "");
    if (rate.failed) {
        tdm_text_free(&rate);
        return tdm_fail_memory(error, NULL);
    }
    const tdm_code code =
        tdm_warn(warnings, error, "regrowth-out-of-range", zone,
                 "%s %s mm a month, %s than the %.0f to %.0f that groups of people grow on average; %s", lead,
                 rate.data, strcmp(pace, "fast") == 0 ? "faster" : "slower", tdm_usual_slowest,
                 tdm_usual_fastest, reasons(pace));
    tdm_text_free(&rate);
    return code;
}
