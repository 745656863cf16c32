/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From marked swatches to a lightness for each level. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "measure/swatch_sample.h"
#include "measure/swatches_parts.h"

enum { FEWEST_PIXELS = 100 }; /* a choice: ten by ten, wide of a few strands */
/* Choices: beyond them what is left is too dark, or too light, to stand for the swatch. */
static const double most_clipped = 0.05, most_black = 0.05;

void tdm_swatch_words(const tdm_swatch_entry *entry, char *out, size_t room)
{
    const char *half = entry->level > floor(entry->level) ? ".5" : "";
    if (entry->name)
        (void)snprintf(out, room, "level %d%s (%s)", (int)entry->level, half, entry->name);
    else
        (void)snprintf(out, room, "level %d%s", (int)entry->level, half);
}

static const char *fault(const tdm_swatch_sample *sample)
{
    if (sample->clipped_share > most_clipped)
        return "is clipped: retake with less exposure, or mark it beside the highlight";
    if (sample->black_share > most_black)
        return "is black without detail: expose more";
    if (sample->used < FEWEST_PIXELS)
        return "is too small: mark at least 10 by 10 pixels of it";
    return NULL;
}

static tdm_code take(const tdm_swatch_marks *marks, const tdm_swatch_sample *sample,
                     const tdm_sources *sources, struct tdm_swatches *swatches, tdm_error *error)
{
    tdm_swatch_entry *entry = &swatches->entries[swatches->count++];
    const tdm_budget parts = tdm_lightness_budget(sources, sample->lab[0], sample->u_sampling, 0);
    *entry = (tdm_swatch_entry){.level = marks->level,
                                .u_sampling = sample->u_sampling,
                                .u = tdm_budget_u(&parts),
                                .spread = sample->spread,
                                .rising = true};
    memcpy(entry->lab, sample->lab, sizeof entry->lab);
    if (!marks->name)
        return TDM_OK;
    entry->name = strdup(marks->name);
    return entry->name ? TDM_OK : tdm_fail_memory(error, NULL);
}

static int compare_entries(const void *a, const void *b)
{
    const tdm_swatch_entry *one = a, *other = b;
    return (one->level > other->level) - (one->level < other->level);
}

void tdm_swatches_falling_words(const struct tdm_swatches *swatches, tdm_text *out)
{
    for (size_t i = 0; i < swatches->count; i++) {
        char words[64];
        if (swatches->entries[i].rising)
            continue;
        tdm_swatch_words(&swatches->entries[i], words, sizeof words);
        tdm_text_format(out, "%s%s", out->size ? ", " : "", words);
    }
}

static tdm_code warn_order(struct tdm_swatches *swatches, tdm_error *error)
{
    tdm_text list = {0};
    if (swatches->falling == 0)
        return TDM_OK;
    tdm_swatches_falling_words(swatches, &list);
    const tdm_code code =
        list.failed ? tdm_fail_memory(error, swatches->file)
                    : tdm_warn(&swatches->warnings, error, "swatch-order", NULL,
                               "the swatches don't get lighter with their level; out of order: %s. Check "
                               "their levels, mark them anew, or leave them out",
                               list.data);
    tdm_text_free(&list);
    return code;
}

/* Between neighbours in one photograph the errors of calibration and light are shared, so that sampling alone
 * decides. */
static tdm_code warn_close(struct tdm_swatches *swatches, tdm_error *error)
{
    tdm_code code = TDM_OK;
    const tdm_swatch_entry *last = NULL;
    for (size_t i = 0; code == TDM_OK && i < swatches->count; i++) {
        const tdm_swatch_entry *here = &swatches->entries[i];
        if (!here->rising)
            continue;
        if (last && here->lab[0] - last->lab[0] < 2 * hypot(here->u_sampling, last->u_sampling)) {
            char low[64], high[64];
            tdm_swatch_words(last, low, sizeof low);
            tdm_swatch_words(here, high, sizeof high);
            code = tdm_warn(&swatches->warnings, error, "swatch-close", NULL,
                            "%s and %s are hardly apart in this photograph: mark larger areas of them, or "
                            "leave one out",
                            low, high);
        }
        last = here;
    }
    return code;
}

static tdm_code judge(struct tdm_swatches *swatches, tdm_error *error)
{
    double levels[TDM_SWATCHES], lstars[TDM_SWATCHES];
    bool rising[TDM_SWATCHES];
    qsort(swatches->entries, swatches->count, sizeof swatches->entries[0], compare_entries);
    for (size_t i = 0; i < swatches->count; i++) {
        levels[i] = swatches->entries[i].level;
        lstars[i] = fmax(swatches->entries[i].lab[0], 1e-3);
    }
    swatches->falling = tdm_swatch_order(levels, lstars, swatches->count, rising);
    for (size_t i = 0; i < swatches->count; i++)
        swatches->entries[i].rising = rising[i];
    tdm_code code = warn_order(swatches, error);
    if (code == TDM_OK)
        code = warn_close(swatches, error);
    return code;
}

static tdm_code measure_one(const tdm_device *device, const tdm_calibration *calibration,
                            const tdm_pixels *pixels, const tdm_marks *marks, const tdm_sources *sources,
                            size_t index, const char **wrong, struct tdm_swatches *swatches, tdm_error *error)
{
    tdm_swatch_sample sample;
    const tdm_code code = tdm_swatch_sample_make(device, calibration, pixels, marks, index, &sample, error);
    if (code != TDM_OK)
        return code;
    *wrong = fault(&sample);
    if (*wrong)
        return tdm_warn(&swatches->warnings, error, "swatch-unusable", NULL, "swatches[%zu] %s", index,
                        *wrong);
    return take(&marks->swatches[index], &sample, &sources[index], swatches, error);
}

tdm_code tdm_swatches_measure(const tdm_device *device, const tdm_calibration *calibration,
                              const tdm_pixels *pixels, const tdm_marks *marks, const tdm_sources *sources,
                              const char *file, struct tdm_swatches *swatches, tdm_error *error)
{
    const char *first_fault = NULL;
    char place[32] = "swatches";
    tdm_code code = TDM_OK;
    if (marks->swatch_count < 2 || marks->swatch_count > TDM_SWATCHES)
        return tdm_fail(error, TDM_ERR_UNUSABLE, file, place,
                        "mark two swatches or more, each with its level");
    for (size_t i = 0; code == TDM_OK && i < marks->swatch_count; i++) {
        const char *wrong = NULL;
        code = measure_one(device, calibration, pixels, marks, sources, i, &wrong, swatches, error);
        if (wrong && !first_fault) {
            first_fault = wrong;
            (void)snprintf(place, sizeof place, "swatches[%zu]", i);
        }
    }
    if (code == TDM_OK && swatches->count < 2)
        return tdm_fail(error, TDM_ERR_UNUSABLE, file, place, "%s; a scale needs two swatches or more",
                        first_fault);
    return code == TDM_OK ? judge(swatches, error) : code;
}
