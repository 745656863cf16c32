/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The level scale file: any bytes. What parses must be a scale that rises, and must come back the same. */
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "marks/scale_file.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void check(const tdm_level_scale *scale)
{
    if (scale->count < 2 || scale->count > TDM_LEVEL_ENTRIES)
        __builtin_trap();
    for (size_t i = 1; i < scale->count; i++) {
        if (!(scale->level[i] > scale->level[i - 1] && scale->lstar[i] > scale->lstar[i - 1]))
            __builtin_trap();
    }
    for (double lstar = 0; lstar <= 100; lstar += 10) {
        const double level = tdm_level_from_lstar(scale, lstar);
        if (!(level >= scale->level[0] && level <= scale->level[scale->count - 1]))
            __builtin_trap();
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    tdm_level_scale scale, again;
    if (tdm_scale_parse((const char *)data, size, "fuzz", &limits, &warnings, &scale, &error) == TDM_OK) {
        char *text = NULL;
        check(&scale);
        if (tdm_scale_text(&scale, &text, &error) == TDM_OK) {
            /* Numbers closer than the digits that are written fall together and don't rise any more. */
            if (tdm_scale_parse(text, strlen(text), "again", &limits, &warnings, &again, &error) == TDM_OK &&
                (again.count != scale.count || strcmp(again.note, scale.note) != 0))
                __builtin_trap();
            tdm_free(text);
        }
    }
    tdm_warnings_free(&warnings);
    return 0;
}
