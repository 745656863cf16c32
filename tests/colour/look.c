/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/look.h"

#include <stdlib.h>

#include "colour/profiles.h"
#include "suite.h"

look look_for(canvas *c, const camera *by, double blur, int quality)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    tdm_photo *photo = NULL;
    tdm_device *device = srgb_device();
    look seen = {0};
    size_t size;
    uint8_t *bytes = take_photograph(c, by, blur, quality, &size);
    tdm_code code = tdm_photo_open_memory(bytes, size, "drawn", &limits, &warnings, &photo, &error);
    if (code == TDM_OK)
        code = tdm_target_find(device, photo, &seen.found, &seen.target, &error);
    ck_assert_msg(code == TDM_OK, "%s", error.text);
    tdm_photo_close(photo);
    tdm_device_free(device);
    tdm_warnings_free(&warnings);
    free(bytes);
    canvas_free(c);
    return seen;
}

camera usual_camera(void)
{
    camera by = plain_camera();
    by.noise = 0.006;
    by.veil = 0.003;
    return by;
}

canvas scene_of(const board *b, uint32_t seed, bool cluttered)
{
    double colours[PATCHES][3];
    canvas c = canvas_of(800, 600, seed);
    if (cluttered) {
        paint_clutter(&c, CLUTTER_TILES, 150, 150, 350);
        paint_clutter(&c, CLUTTER_STREAKS, 620, 300, 300);
        paint_clutter(&c, CLUTTER_CHIPS, 200, 480, 260);
    }
    target_colours(colours);
    paint_board(&c, b, colours);
    return c;
}
