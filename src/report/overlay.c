/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/overlay.h"

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

static tdm_code fail_drawing(cairo_status_t status, const char *file, tdm_error *error)
{
    if (status == CAIRO_STATUS_NO_MEMORY)
        return tdm_fail_memory(error, file);
    return tdm_fail(error, TDM_ERR_SYSTEM, file, NULL, "the picture can't be drawn: %s",
                    cairo_status_to_string(status));
}

static tdm_code write_png(cairo_surface_t *surface, const char *file, uint8_t **bytes, size_t *size,
                          tdm_error *error)
{
    buffer made = {0};
    const cairo_status_t status = cairo_surface_write_to_png_stream(surface, take, &made);
    if (status != CAIRO_STATUS_SUCCESS) {
        free(made.data);
        return fail_drawing(status, file, error);
    }
    *bytes = made.data;
    *size = made.size;
    return TDM_OK;
}

tdm_code tdm_target_overlay(const tdm_target_reading *target, uint8_t **bytes, size_t *size, tdm_error *error)
{
    tdm_overlay overlay;
    tdm_code code = tdm_overlay_picture(target, &overlay, error);
    if (code != TDM_OK)
        return code;
    const cairo_status_t drawn = tdm_overlay_draw(target, &overlay);
    code = drawn == CAIRO_STATUS_SUCCESS ? write_png(overlay.surface, target->file, bytes, size, error)
                                         : fail_drawing(drawn, target->file, error);
    cairo_surface_destroy(overlay.surface);
    return code;
}
