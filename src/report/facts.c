/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of a photograph before its zones. */
#include <math.h>
#include <string.h>

#include "report/page.h"

void tdm_add_photo(tdm_text *text, const tdm_photo_facts *facts)
{
    tdm_text_format(text, "%s: %u x %u pixels, %s (%s)", facts->file, (unsigned)facts->width,
                    (unsigned)facts->height, facts->profile, facts->profile_source);
    if (facts->taken)
        tdm_text_format(text, ", taken %s", facts->taken);
    if (facts->coloured_on)
        tdm_text_format(text, ", last coloured %s", facts->coloured_on);
}

static void add_target_errors(tdm_text *text, const tdm_calibration_facts *facts)
{
    if (!isfinite(facts->residual_mean))
        return;
    tdm_text_add(text, ", error ");
    tdm_text_number(text, facts->before_mean, 1, "unknown");
    tdm_text_add(text, " before and ");
    tdm_text_number(text, facts->residual_mean, 1, "unknown");
    tdm_text_add(text, " after the correction (dE00");
    if (isfinite(facts->left_out_mean)) {
        tdm_text_add(text, ", each patch left out once: ");
        tdm_text_number(text, facts->left_out_mean, 1, "");
    }
    tdm_text_add(text, ")");
}

static void add_scale(tdm_text *text, const tdm_calibration_facts *facts)
{
    if (!isfinite(facts->mm_per_px)) {
        tdm_text_add(text, "; no scale, so that there are no millimetres");
        return;
    }
    tdm_text_add(text, "; ");
    tdm_text_number(text, facts->mm_per_px, 3, "");
    tdm_text_add(text, " mm a pixel");
    if (facts->scale && strcmp(facts->scale, "target") == 0)
        tdm_text_add(text, " by the target's width");
    if (facts->scale && strcmp(facts->scale, "grey") == 0)
        tdm_text_add(text, " by the card's width");
}

static void add_calibration(tdm_text *text, const tdm_calibration_facts *facts)
{
    static const struct {
        const char *method;
        const char *words;
    } methods[] = {{"icc", "colour by the photograph's profile alone"},
                   {"grey", "colour by a grey reference"},
                   {"target", "colour by the 24-patch target"}};
    for (size_t i = 0; i < sizeof methods / sizeof methods[0]; i++) {
        if (strcmp(facts->method, methods[i].method) == 0)
            tdm_text_add(text, methods[i].words);
    }
    if (facts->from)
        tdm_text_format(text, " in %s", facts->from);
    add_target_errors(text, facts);
    add_scale(text, facts);
}

void tdm_page_put(tdm_page *page, tdm_text *text, const char *lead, size_t indent)
{
    tdm_page_wrap(page, lead, indent, text->data ? text->data : "");
    page->text.failed = page->text.failed || text->failed;
    tdm_text_free(text);
}

void tdm_page_facts(tdm_page *page, const tdm_reading *reading, const char *label)
{
    tdm_photo_facts photo;
    tdm_calibration_facts calibration;
    tdm_reading_photo(reading, &photo);
    tdm_reading_calibration(reading, &calibration);
    tdm_text text = {0};
    if (label)
        tdm_text_format(&text, "%s: ", label);
    tdm_add_photo(&text, &photo);
    tdm_page_put(page, &text, "", 2);
    add_calibration(&text, &calibration);
    tdm_page_put(page, &text, "  ", 2);
    tdm_page_quality(page, reading);
    if (!tdm_reading_usable(reading)) {
        tdm_page_bold(page);
        tdm_page_wrap(page, "  ", 2, "This photograph isn't usable for measuring: see the warnings.");
        tdm_page_plain(page);
    }
}
