/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/overlay.h"
#include "report/picture.h"

tdm_code tdm_target_overlay(const tdm_target_reading *target, uint8_t **bytes, size_t *size, tdm_error *error)
{
    tdm_overlay overlay;
    tdm_code code = tdm_overlay_picture(target, &overlay, error);
    if (code != TDM_OK)
        return code;
    const cairo_status_t drawn = tdm_overlay_draw(target, &overlay);
    code = drawn == CAIRO_STATUS_SUCCESS ? tdm_picture_png(overlay.surface, target->file, bytes, size, error)
                                         : tdm_picture_fail(drawn, target->file, error);
    cairo_surface_destroy(overlay.surface);
    return code;
}
