/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the face frame stands against the rest of the head, before and after. Zones have none. */
#include <math.h>

#include "compare/meaning.h"

static const char path[] = "frame.lstar_above_rest";

static bool value_of(const tdm_zone_reading *head, tdm_value *out)
{
    return tdm_zone_value(head, tdm_figure_find(path), out);
}

/* "3.1 L* darker than the rest" */
static void add_standing(tdm_text *text, tdm_value found)
{
    if (fabs(found.value) < 0.05) {
        tdm_text_add(text, "as bright as the rest");
        return;
    }
    tdm_text_number(text, fabs(found.value), 1, "");
    tdm_text_format(text, " L* %s than the rest", found.value > 0 ? "brighter" : "darker");
}

void tdm_frame_words(tdm_text *text, const tdm_zone_change *change)
{
    const tdm_verdict verdict = tdm_verdict_of(change, path);
    tdm_value before, after;
    if ((verdict != TDM_VERDICT_UP && verdict != TDM_VERDICT_DOWN) || !value_of(change->before, &before) ||
        !value_of(change->after, &after))
        return;
    if (text->size > 0)
        tdm_text_add(text, "; ");
    tdm_text_format(text, "against the rest the face frame has become %s: it is ",
                    verdict == TDM_VERDICT_UP ? "brighter" : "darker");
    add_standing(text, after);
    tdm_text_add(text, ", and was ");
    add_standing(text, before);
}
