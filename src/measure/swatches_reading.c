/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What may be asked of a reading of swatches, the level scale among it. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "marks/scale_file.h"
#include "measure/swatches_parts.h"

void tdm_swatches_photo(const tdm_swatches *swatches, tdm_photo_facts *out)
{
    *out = (tdm_photo_facts){
        .file = swatches->file,
        .sha256 = swatches->sha256,
        .width = swatches->width,
        .height = swatches->height,
        .profile = swatches->profile,
        .profile_source = tdm_profile_source_word(swatches->profile_source),
        .taken = swatches->taken[0] ? swatches->taken : NULL,
        .taken_source = swatches->taken[0] ? "exif" : NULL,
    };
}

size_t tdm_swatches_count(const tdm_swatches *swatches)
{
    return swatches->count;
}

void tdm_swatches_at(const tdm_swatches *swatches, size_t index, tdm_swatch *out)
{
    const tdm_swatch_entry *entry = &swatches->entries[index];
    *out = (tdm_swatch){.level = entry->level,
                        .name = entry->name,
                        .u = entry->u,
                        .spread = entry->spread,
                        .rising = entry->rising};
    memcpy(out->lab, entry->lab, sizeof out->lab);
}

bool tdm_swatches_rising(const tdm_swatches *swatches)
{
    return swatches->falling == 0;
}

const tdm_warning *tdm_swatches_warnings(const tdm_swatches *swatches, size_t *count)
{
    *count = swatches->warnings.count;
    return swatches->warnings.items;
}

/* "your swatches, ring.jpg, 2026-03-14"; a long file name is cut between characters. */
static void write_note(const tdm_swatches *swatches, char *out, size_t room)
{
    static const char lead[] = "your swatches, ", cut[] = "...";
    enum { DATE = 10 };
    const size_t rest = swatches->taken[0] ? 2 + DATE : 0;
    size_t length = strlen(swatches->file);
    const size_t most = room - sizeof lead - rest;
    const bool whole = length <= most;
    if (!whole) {
        length = most - (sizeof cut - 1);
        while (length > 0 && ((unsigned char)swatches->file[length] & 0xC0) == 0x80)
            length--;
    }
    (void)snprintf(out, room, "%s%.*s%s%s%.*s", lead, (int)length, swatches->file, whole ? "" : cut,
                   rest ? ", " : "", DATE, swatches->taken);
    for (char *at = out; *at; at++) {
        if ((unsigned char)*at < 0x20 || *at == 0x7f)
            *at = '?';
    }
}

static tdm_code fail_order(const tdm_swatches *swatches, tdm_error *error)
{
    tdm_text list = {0};
    tdm_swatches_falling_words(swatches, &list);
    const tdm_code code =
        list.failed
            ? tdm_fail_memory(error, swatches->file)
            : tdm_fail(error, TDM_ERR_UNUSABLE, swatches->file, "swatches",
                       "don't get lighter with their level; out of order: %s. Check their levels, mark "
                       "them anew, or leave them out",
                       list.data);
    tdm_text_free(&list);
    return code;
}

tdm_code tdm_swatches_scale(const tdm_swatches *swatches, char **out, tdm_error *error)
{
    tdm_level_scale scale = {.count = swatches->count};
    if (swatches->falling > 0)
        return fail_order(swatches, error);
    for (size_t i = 0; i < swatches->count; i++) {
        const tdm_swatch_entry *entry = &swatches->entries[i];
        scale.level[i] = entry->level;
        scale.lstar[i] = entry->lab[0];
        if (entry->name)
            (void)snprintf(scale.name[i], sizeof scale.name[i], "%s", entry->name);
    }
    write_note(swatches, scale.note, sizeof scale.note);
    return tdm_scale_text(&scale, out, error);
}

void tdm_swatches_free(tdm_swatches *swatches)
{
    if (!swatches)
        return;
    for (size_t i = 0; i < swatches->count; i++)
        free(swatches->entries[i].name);
    free(swatches->file);
    free(swatches->profile);
    tdm_warnings_free(&swatches->warnings);
    free(swatches);
}
