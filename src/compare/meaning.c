/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compare/meaning.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"

tdm_verdict tdm_verdict_of(const tdm_zone_change *change, const char *path)
{
    tdm_value found;
    if (!tdm_change(change, tdm_figure_find(path), &found) || !isfinite(found.u))
        return TDM_VERDICT_UNKNOWN;
    if (fabs(found.value) <= found.u)
        return TDM_VERDICT_SAME;
    return found.value > 0 ? TDM_VERDICT_UP : TDM_VERDICT_DOWN;
}

static void separate(tdm_text *text)
{
    if (text->size > 0)
        tdm_text_add(text, "; ");
}

/* "the root is 1.2 levels lighter" */
static void add_level(tdm_text *text, const tdm_zone_change *change, const char *path, const char *where)
{
    const tdm_verdict verdict = tdm_verdict_of(change, path);
    tdm_value found = {0};
    if ((verdict != TDM_VERDICT_UP && verdict != TDM_VERDICT_DOWN) ||
        !tdm_change(change, tdm_figure_find(path), &found))
        return;
    separate(text);
    tdm_text_format(text, "the %s ", where);
    if (fabs(found.value) < 0.05)
        tdm_text_add(text, "less than 0.1");
    else
        tdm_text_number(text, fabs(found.value), 1, "");
    tdm_text_add(text, verdict == TDM_VERDICT_UP ? " levels lighter" : " levels darker");
}

/* "the contrast of light and dark strands has fallen from 14.2 to 9.8 L*" */
static void add_contrast(tdm_text *text, const tdm_zone_change *change, const char *path, tdm_verdict verdict)
{
    const tdm_figure *figure = tdm_figure_find(path);
    tdm_value before;
    tdm_value after;
    if (!tdm_zone_value(change->before, figure, &before) || !tdm_zone_value(change->after, figure, &after))
        return;
    separate(text);
    tdm_text_format(text, "the contrast of light and dark strands has %s from ",
                    verdict == TDM_VERDICT_UP ? "risen" : "fallen");
    tdm_text_number(text, before.value, figure->digits, "");
    tdm_text_add(text, " to ");
    tdm_text_number(text, after.value, figure->digits, "");
    tdm_text_add(text, " L*");
}

/* Strands that are apart in one photograph alone: their contrast is null in the other. */
static void add_separable(tdm_text *text, const tdm_zone_change *change)
{
    const tdm_figure *figure = tdm_figure_find("strands.separable");
    bool before = false;
    bool after = false;
    if (!tdm_zone_flag(change->before, figure, &before) || !tdm_zone_flag(change->after, figure, &after) ||
        before == after)
        return;
    separate(text);
    tdm_text_format(text, "light and dark strands can be told apart only in the %s photograph",
                    before ? "first" : "second");
}

static void add_strands(tdm_text *text, const tdm_zone_change *change, tdm_unchanged *unchanged)
{
    static const char path[] = "strands.contrast_lstar";
    const tdm_verdict verdict = tdm_verdict_of(change, path);
    if (verdict == TDM_VERDICT_SAME)
        unchanged->items[unchanged->count++] = "the contrast";
    else if (verdict == TDM_VERDICT_UNKNOWN)
        add_separable(text, change);
    else
        add_contrast(text, change, path, verdict);
}

static void add_unchanged(tdm_text *text, const tdm_unchanged *unchanged)
{
    if (unchanged->count == 0)
        return;
    separate(text);
    for (size_t i = 0; i < unchanged->count; i++) {
        if (i > 0)
            tdm_text_add(text, i + 1 == unchanged->count ? " and " : ", ");
        tdm_text_add(text, unchanged->items[i]);
    }
    tdm_text_add(text, unchanged->count == 1 ? " is" : " are");
    tdm_text_add(text, " unchanged within what the photographs can tell");
}

tdm_code tdm_meaning(const tdm_zone_change *change, const char **out, tdm_error *error)
{
    tdm_text text = {0};
    tdm_unchanged unchanged = {0};
    tdm_line_words(&text, change, &unchanged);
    if (tdm_verdict_of(change, "root.level") == TDM_VERDICT_SAME)
        unchanged.items[unchanged.count++] = "the level at the root";
    add_level(&text, change, "root.level", "root is");
    add_level(&text, change, "ends.level", "ends are");
    add_strands(&text, change, &unchanged);
    tdm_frame_words(&text, change);
    add_unchanged(&text, &unchanged);
    if (text.size == 0)
        tdm_text_add(&text, "the photographs can't tell what has changed here");
    tdm_text_add(&text, ".");
    if (text.failed) {
        tdm_text_free(&text);
        return tdm_fail_memory(error, NULL);
    }
    if (text.data[0] >= 'a' && text.data[0] <= 'z')
        text.data[0] = (char)(text.data[0] - 'a' + 'A');
    *out = text.data;
    return TDM_OK;
}
