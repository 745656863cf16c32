/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A file of measured patches: any bytes. What passes must be this target's colours. */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "colour/lab.h"
#include "colour/reference.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool holds)
{
    if (!holds)
        abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const tdm_reference published = tdm_reference_published();
    tdm_reference read;
    tdm_error error = {0};
    const tdm_code code = tdm_reference_parse((const char *)data, size, "fuzz", &read, &error);
    if (code != TDM_OK) {
        must(code == TDM_ERR_FORMAT && strncmp(error.place, "line ", 5) == 0);
        return 0;
    }
    must(read.measured);
    for (int i = 0; i < TDM_REFERENCE_PATCHES; i++)
        must(tdm_de00(read.lab[i], published.lab[i]) <= 25);
    return 0;
}
