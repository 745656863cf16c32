/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How good the photograph is, in a line or two: what is good enough in short, what isn't with its bound. What
 * to do about it stands with the warnings. */
#include <math.h>
#include <string.h>

#include "report/page.h"

/* Worth saying of a good photograph; in this order. */
static const struct {
    const char *code, *word;
} telling[] = {{"focus", "edges "},           {"focus-px", "edges "}, {"hair-focus", "strands "},
               {"hair-focus-px", "strands "}, {"low-resolution", ""}, {"noise", "noise "}};
enum { TELLING = sizeof telling / sizeof telling[0] };

static void add_value(tdm_text *text, double value, const char *unit)
{
    const double size = fabs(value);
    tdm_text_number(text, value, size < 1 ? 2 : size < 10 ? 1 : 0, "unknown");
    if (unit[0])
        tdm_text_format(text, " %s", unit);
}

static void add_telling(tdm_text *text, const tdm_quality_figure *figures, size_t count)
{
    const char *between = " (";
    for (size_t k = 0; k < TELLING; k++) {
        for (size_t i = 0; i < count; i++) {
            const tdm_quality_figure *figure = &figures[i];
            /* Of px and mm, the one that has a bound was judged. */
            if (strcmp(figure->code, telling[k].code) != 0 || figure->zone || !isfinite(figure->value) ||
                !isfinite(figure->threshold))
                continue;
            tdm_text_format(text, "%s%s", between, telling[k].word);
            add_value(text, figure->value, figure->unit);
            between = ", ";
        }
    }
    tdm_text_add(text, between[0] == ',' ? ")" : "");
}

/* What no figure stands for, since there is nothing to take it from. */
static const char *add_lacking(tdm_text *text, const tdm_reading *reading, const char *between)
{
    tdm_calibration_facts facts;
    tdm_reading_calibration(reading, &facts);
    if (strcmp(facts.method, "icc") == 0) {
        tdm_text_format(text, "%sno target or card: levels can't be told well", between);
        between = "; ";
    }
    if (!isfinite(facts.mm_per_px)) {
        tdm_text_format(text, "%sno scale: lengths are shares of the path", between);
        between = "; ";
    }
    return between;
}

static void add_beyond(tdm_text *text, const tdm_quality_figure *figure, const char *between)
{
    tdm_text_format(text, "%s%s ", between, figure->label);
    add_value(text, figure->value, figure->unit);
    tdm_text_add(text, figure->below ? " (at least " : " (at most ");
    add_value(text, figure->threshold, "");
    if (figure->zone)
        tdm_text_format(text, ", %s", figure->zone);
    tdm_text_add(text, ")");
}

void tdm_page_quality(tdm_page *page, const tdm_reading *reading)
{
    size_t count = 0;
    const tdm_quality_figure *figures = tdm_reading_quality(reading, &count);
    tdm_text text = {0};
    bool beyond = false;
    const char *between = count > 0 ? add_lacking(&text, reading, "photograph: ") : "";
    for (size_t i = 0; i < count; i++) {
        if (figures[i].good)
            continue;
        add_beyond(&text, &figures[i], between);
        between = "; ";
        beyond = true;
    }
    if (count > 0 && text.size == 0)
        tdm_text_add(&text, "photograph: good");
    if (count > 0 && !beyond)
        add_telling(&text, figures, count);
    if (text.size > 0)
        tdm_page_wrap(page, "  ", 2, text.data);
    page->text.failed = page->text.failed || text.failed;
    tdm_text_free(&text);
}
