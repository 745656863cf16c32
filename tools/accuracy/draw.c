/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw.h"

#include <math.h>
#include <stdio.h>

draw draw_start(unsigned number)
{
    draw from = {.state = 0x9e3779b97f4a7c15u * (number + 1)};
    (void)draw_bits(&from);
    return from;
}

uint32_t draw_bits(draw *from)
{
    const uint64_t old = from->state;
    from->state = old * 6364136223846793005u + 1442695040888963407u;
    const uint32_t word = (uint32_t)(((old >> 18) ^ old) >> 27), turn = (uint32_t)(old >> 59);
    return (word >> turn) | (word << ((32 - turn) & 31));
}

double draw_even(draw *from, double low, double high)
{
    return low + (high - low) * draw_bits(from) / 4294967296.0;
}

double draw_even_log(draw *from, double low, double high)
{
    return exp(draw_even(from, log(low), log(high)));
}

bool draw_chance(draw *from, double share)
{
    return draw_even(from, 0, 1) < share;
}

void set_number(json_t *sets, const char *key, double value)
{
    char text[128];
    (void)snprintf(text, sizeof text, "%s=%.4g", key, value);
    (void)json_array_append_new(sets, json_string(text));
}

void set_word(json_t *sets, const char *key, const char *value)
{
    char text[128];
    (void)snprintf(text, sizeof text, "%s=%s", key, value);
    (void)json_array_append_new(sets, json_string(text));
}

/* Daylight, warm lamps, or both; the main light falling off across the picture. */
void draw_light(draw *from, json_t *sets, double most_uneven)
{
    char share[64];
    if (draw_chance(from, 0.25))
        set_number(sets, "lamp.kelvin_planck", draw_even(from, 2800, 3400));
    else
        set_number(sets, "lamp.cct", draw_even(from, 4500, 7000));
    if (draw_chance(from, 0.15)) {
        (void)snprintf(share, sizeof share, "[%.3f, %.3f]", draw_even(from, 0, 0.2),
                       draw_even(from, 0.1, 0.3));
        set_number(sets, "lamp.second.kelvin_planck", draw_even(from, 2800, 3400));
        set_word(sets, "lamp.second.share", share);
    }
    set_number(sets, "camera.uneven", draw_even(from, 0, most_uneven));
}

void draw_camera(draw *from, json_t *sets)
{
    static const char *const cameras[] = {"ideal", "real", "real-b"};
    char balance[96];
    (void)snprintf(balance, sizeof balance, "[%.3f, 1, %.3f]", draw_even(from, 0.85, 1.2),
                   draw_even(from, 0.8, 1.15));
    set_word(sets, "camera.sensitivity", cameras[draw_bits(from) % 3]);
    set_number(sets, "camera.exposure_ev", draw_even(from, -1, 0.3));
    set_word(sets, "camera.white_balance", balance);
    set_number(sets, "camera.tone", draw_even(from, 0, 0.6));
    set_number(sets, "camera.noise", draw_even(from, 0.1, 1));
    set_number(sets, "camera.blur_px", draw_even(from, 0.4, 1.2));
    set_number(sets, "camera.quality", floor(draw_even(from, 80, 98)));
    set_word(sets, "camera.profile", draw_chance(from, 0.3) ? "display-p3" : "srgb");
    set_word(sets, "target.edition", draw_chance(from, 0.5) ? "before-2014" : "since-2014");
    set_number(sets, "target.tilt_deg", draw_even(from, 0, 12));
    set_number(sets, "target.tilt_axis_deg", draw_even(from, 0, 180));
}
