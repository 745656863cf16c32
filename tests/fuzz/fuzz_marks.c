/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The marks file: any bytes. What parses must also be written and be laid out within the limits. */
#include <stdint.h>

#include "marks/marks.h"
#include "strip/strip.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_marks marks;
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    if (tdm_marks_parse((const char *)data, size, "fuzz", 0, 0, &limits, &warnings, &marks, &error) ==
        TDM_OK) {
        char *text = NULL;
        if (tdm_marks_text(&marks, &text, &error) == TDM_OK)
            tdm_free(text);
        for (size_t i = 0; i < marks.zone_count; i++) {
            tdm_rect rect;
            if (tdm_strip_rect(&marks, i, &rect, &error) == TDM_OK &&
                (rect.width == 0 || rect.x + rect.width > marks.width || rect.y + rect.height > marks.height))
                __builtin_trap();
        }
        tdm_marks_free(&marks);
    }
    tdm_warnings_free(&warnings);
    return 0;
}
