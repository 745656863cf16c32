/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The EXIF block alone, where JPEG's and PNG's own structure can't stand in the way. */
#include <stdlib.h>
#include <string.h>

#include "photo/exif.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    tdm_warnings warnings = {0};
    tdm_exif exif;
    tdm_error error;
    const tdm_code code = tdm_exif_read(data, size, "fuzz", &warnings, &exif, &error);
    if (code != TDM_OK || exif.orientation < 1 || exif.orientation > 8)
        abort();
    if (strlen(exif.taken) != 0 && strlen(exif.taken) != 19)
        abort();
    tdm_warnings_free(&warnings);
    return 0;
}
