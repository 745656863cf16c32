/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/drawn_greys.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/lab.h"
#include "colour/profiles.h"
#include "suite.h"

const double even[2] = {0, 0};
const card wedge[6] = {{60, 60, 20, 20},  {110, 60, 35, 35}, {160, 60, 50, 50},
                       {210, 60, 65, 65}, {260, 60, 80, 80}, {310, 60, 95, 95}};

double light_of(double lstar)
{
    return pow((lstar + 16) / 116, 3);
}

double stops_at(const double along[2], double x, double y)
{
    const double half = GREYS_WIDTH / 2.0;
    return along[0] * (x - half) / half + along[1] * (y - GREYS_HEIGHT / 2.0) / half;
}

void draw_card(greys *it, const card *one)
{
    uint32_t seed = it->by.seed;
    for (uint32_t y = (uint32_t)one->y - 20; y < (uint32_t)one->y + 20; y++) {
        for (uint32_t x = (uint32_t)one->x - 20; x < (uint32_t)one->x + 20; x++) {
            const double lit = light_of(one->lstar) * pow(2, stops_at(it->along, x + 0.5, y + 0.5));
            const double linear[3] = {lit, lit, lit};
            double seen[3];
            camera_sees(&it->by, linear, seen, &seed);
            set_pixel(&it->pixels, x, y, seen);
        }
    }
}

void greys_draw(greys *out, const card *cards, size_t count, const double along[2], const camera *by)
{
    static const double dim[3] = {0.1, 0.1, 0.1};
    *out = (greys){.pixels = draw_even(16, dim, GREYS_WIDTH, GREYS_HEIGHT),
                   .count = count,
                   .by = *by,
                   .along = {along[0], along[1]},
                   .device = srgb_device()};
    ck_assert_uint_le(count, GREYS_MOST);
    for (size_t i = 0; i < count; i++) {
        const double l = cards[i].x - 18, t = cards[i].y - 18, r = cards[i].x + 18, b = cards[i].y + 18;
        const double polygon[8] = {l, t, r, t, r, b, l, b};
        memcpy(out->polygons[i], polygon, sizeof polygon);
        out->marks[i] = (tdm_grey){out->polygons[i], 4, cards[i].said};
        draw_card(out, &cards[i]);
    }
}

void greys_free(greys *it)
{
    tdm_warnings_free(&it->warnings);
    tdm_device_free(it->device);
    free(it->pixels.rgb16);
}

void greys_calibrate(greys *it)
{
    tdm_error error = {0};
    const tdm_code code =
        tdm_calibrate_grey(it->device, &it->pixels, it->marks, it->count, GREYS_WIDTH, GREYS_HEIGHT, NULL,
                           "photo.jpg", &it->warnings, &it->fitted, &error);
    ck_assert_msg(code == TDM_OK, "%s", error.text);
}

void greys_fit(greys *out, const card *cards, size_t count, const double along[2], const camera *by)
{
    greys_draw(out, cards, count, along, by);
    greys_calibrate(out);
}

double found_stops(const greys *it, double x, double y)
{
    double here[3], middle[3];
    tdm_light_at(&it->fitted.light, x, y, here);
    tdm_light_at(&it->fitted.light, GREYS_WIDTH / 2.0, GREYS_HEIGHT / 2.0, middle);
    return log2(middle[1] / here[1]);
}

void read_back(const greys *it, const double truth[3], double x, double y, double lab[3])
{
    double linear[3], seen[3];
    uint32_t seed = 1;
    linear_srgb_from_lab_d50(truth, linear);
    for (int c = 0; c < 3; c++)
        linear[c] *= pow(2, stops_at(it->along, x, y));
    camera_sees(&it->by, linear, seen, &seed);
    tdm_pixels pixel = draw_even(16, seen, 1, 1);
    pixel.rect.x = (uint32_t)x;
    pixel.rect.y = (uint32_t)y;
    float xyz[3];
    uint8_t flags[1];
    ck_assert_int_eq(tdm_colour_convert(it->device, &it->fitted, &pixel, pixel.rect, xyz, flags, NULL),
                     TDM_OK);
    const double in[3] = {(double)xyz[0], (double)xyz[1], (double)xyz[2]};
    tdm_xyz_to_lab(in, lab);
    free(pixel.rgb16);
}

double worst_lstar(const greys *it)
{
    static const double hair[6][3] = {{16, 1, 1.5}, {22, 3, 4},  {30, 6, 9},
                                      {42, 8, 17},  {55, 7, 20}, {70, 5, 20}};
    static const double places[4][2] = {{60, 60}, {300, 200}, {540, 100}, {100, 340}};
    double worst = 0;
    for (int i = 0; i < 6; i++) {
        for (int k = 0; k < 4; k++) {
            double lab[3];
            read_back(it, hair[i], places[k][0], places[k][1], lab);
            worst = worse(worst, fabs(lab[0] - hair[i][0]));
        }
    }
    return worst;
}
