/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A growth in one plain sentence. */
#include <math.h>
#include <string.h>

#include "base/fail.h"
#include "base/text.h"
#include "compare/growth.h"
#include "measure/regrowth.h"

static bool is(const tdm_growth *growth, const char *state)
{
    return strcmp(growth->state, state) == 0;
}

static void add_range(tdm_text *text)
{
    tdm_text_number(text, tdm_usual_slowest, 0, "");
    tdm_text_add(text, " to ");
    tdm_text_number(text, tdm_usual_fastest, 0, "");
}

/* "9.5 mm a month, give or take 1.1, as is usual (8 to 13)" */
static void add_rate(tdm_text *text, const tdm_growth *growth)
{
    static const char *const paces[][2] = {
        {"usual", ", as is usual ("}, {"slow", ", slower than usual ("}, {"fast", ", faster than usual ("}};
    tdm_text_number(text, growth->mm_per_month.value, 1, "");
    tdm_text_add(text, " mm a month");
    if (isfinite(growth->mm_per_month.u)) {
        tdm_text_add(text, ", give or take ");
        tdm_text_number(text, growth->mm_per_month.u, 1, "");
    }
    for (size_t i = 0; growth->pace && i < sizeof paces / sizeof paces[0]; i++) {
        if (strcmp(growth->pace, paces[i][0]) != 0)
            continue;
        tdm_text_add(text, paces[i][1]);
        add_range(text);
        tdm_text_add(text, ")");
    }
}

static void add_growth(tdm_text *text, const tdm_growth *growth)
{
    if (is(growth, "grown")) {
        tdm_text_add(text, "The hair has grown by ");
        tdm_text_number(text, growth->mm.value, 0, "");
        tdm_text_format(text, " mm in %d days: ", (int)growth->days);
    } else {
        tdm_text_format(text,
                        "In %d days no growth beyond what the photographs can tell: ", (int)growth->days);
    }
    add_rate(text, growth);
    tdm_text_add(text, ".");
}

static void add_receded(tdm_text *text, const tdm_growth *growth, const tdm_zone_change *zone)
{
    tdm_value moved = {NAN, NAN};
    (void)tdm_change(zone, tdm_figure_find("gradient.centre_mm"), &moved); /* it has: that is why */
    tdm_text_add(text, "The line lies ");
    tdm_text_number(text, -moved.value, 0, "");
    tdm_text_format(text,
                    " mm nearer to the root than %d days before: the hair has been coloured since, or lies "
                    "otherwise; no growth can be told.",
                    (int)growth->days);
}

static void add_reason(tdm_text *text, const tdm_growth *growth)
{
    static const char *const reasons[][2] = {
        {"coloured", "The hair was coloured between the two photographs, so that no growth can be told."},
        {"other-width", "The width of the line has changed more than growth would change it: it has been "
                        "worked on since, and no growth can be told."},
        {"other-colours",
         "The hair beside the line hasn't the colours that it had, so that it may be another "
         "line, and no growth can be told."}};
    for (size_t i = 0; i < sizeof reasons / sizeof reasons[0]; i++) {
        if (is(growth, reasons[i][0]))
            tdm_text_add(text, reasons[i][1]);
    }
}

tdm_code tdm_growth_words(const tdm_zone_change *zone, tdm_growth *growth, tdm_error *error)
{
    tdm_text text = {0};
    if (is(growth, "grown") || is(growth, "unchanged"))
        add_growth(&text, growth);
    else if (is(growth, "receded"))
        add_receded(&text, growth, zone);
    else
        add_reason(&text, growth);
    if (text.failed) {
        tdm_text_free(&text);
        return tdm_fail_memory(error, NULL);
    }
    growth->text = text.data;
    return TDM_OK;
}
