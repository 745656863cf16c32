/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/warning_list.h"

#include <string.h>

typedef struct cursor {
    const tdm_warning_source *sources;
    size_t count;
    size_t source;
    size_t item;
} cursor;

static const tdm_warning *next(cursor *it)
{
    while (it->source < it->count && it->item >= it->sources[it->source].count) {
        it->source++;
        it->item = 0;
    }
    return it->source < it->count ? &it->sources[it->source].warnings[it->item++] : NULL;
}

static bool alike(const tdm_warning *one, const tdm_warning *other)
{
    return strcmp(one->code, other->code) == 0 && strcmp(one->text, other->text) == 0;
}

static bool said_before(const tdm_warning *warning, const tdm_warning_source *sources, size_t count)
{
    cursor it = {.sources = sources, .count = count};
    for (const tdm_warning *one = next(&it); one && one != warning; one = next(&it)) {
        if (alike(one, warning))
            return true;
    }
    return false;
}

/* " (before: left panel; after)" */
static void add_places(tdm_text *text, const tdm_warning *warning, const tdm_warning_source *sources,
                       size_t count)
{
    cursor it = {.sources = sources, .count = count};
    const char *between = " (";
    for (const tdm_warning *one = next(&it); one; one = next(&it)) {
        const char *label = sources[it.source].label;
        if (!alike(one, warning) || (!label[0] && !one->zone))
            continue;
        tdm_text_format(text, "%s%s%s%s", between, label, label[0] && one->zone ? ": " : "",
                        one->zone ? one->zone : "");
        between = "; ";
    }
    if (between[0] == ';')
        tdm_text_add(text, ")");
}

void tdm_page_warnings(tdm_page *page, const tdm_warning_source *sources, size_t count)
{
    cursor it = {.sources = sources, .count = count};
    bool begun = false;
    for (const tdm_warning *one = next(&it); one; one = next(&it)) {
        if (said_before(one, sources, count))
            continue;
        if (!begun) {
            tdm_page_line(page);
            tdm_page_rule(page, "warnings");
            begun = true;
        }
        tdm_text text = {0};
        tdm_text_format(&text, "%s: %s", one->code, one->text);
        add_places(&text, one, sources, count);
        tdm_page_wrap(page, "  ", 4, text.data ? text.data : "");
        page->text.failed = page->text.failed || text.failed;
        tdm_text_free(&text);
    }
}
