/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "made.h"

made_read made_read_limited(made file, const tdm_limits *limits)
{
    made_read read = {0};
    tdm_photo *photo = NULL;
    read.code =
        tdm_photo_open_memory(file.data, file.size, "made", limits, &read.warnings, &photo, &read.error);
    if (read.code != TDM_OK)
        return read;
    read.info = *tdm_photo_about(photo);
    const tdm_rect whole = {0, 0, read.info.width, read.info.height};
    read.code = tdm_photo_read(photo, whole, &read.pixels, &read.error);
    tdm_photo_close(photo);
    return read;
}

made_read made_read_all(made file)
{
    const tdm_limits limits = tdm_limits_default();
    return made_read_limited(file, &limits);
}

void made_read_free(made_read *read)
{
    tdm_warnings_free(&read->warnings);
    tdm_pixels_free(&read->pixels);
}
