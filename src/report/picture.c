/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/picture.h"

#include <stdlib.h>
#include <string.h>

#include "base/fail.h"

typedef struct buffer {
    uint8_t *data;
    size_t size, room;
} buffer;

static cairo_status_t take(void *closure, const unsigned char *data, unsigned int length)
{
    buffer *to = closure;
    if (to->room - to->size < length) {
        const size_t room = 2 * (to->size + length);
        uint8_t *grown = realloc(to->data, room);
        if (!grown)
            return CAIRO_STATUS_NO_MEMORY;
        to->data = grown;
        to->room = room;
    }
    memcpy(to->data + to->size, data, length);
    to->size += length;
    return CAIRO_STATUS_SUCCESS;
}

tdm_code tdm_picture_fail(cairo_status_t status, const char *file, tdm_error *error)
{
    if (status == CAIRO_STATUS_NO_MEMORY)
        return tdm_fail_memory(error, file);
    return tdm_fail(error, TDM_ERR_SYSTEM, file, NULL, "the picture can't be drawn: %s",
                    cairo_status_to_string(status));
}

tdm_code tdm_picture_png(cairo_surface_t *surface, const char *file, uint8_t **bytes, size_t *size,
                         tdm_error *error)
{
    buffer made = {0};
    const cairo_status_t status = cairo_surface_write_to_png_stream(surface, take, &made);
    if (status != CAIRO_STATUS_SUCCESS) {
        free(made.data);
        return tdm_picture_fail(status, file, error);
    }
    *bytes = made.data;
    *size = made.size;
    return TDM_OK;
}
