/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/find_picture.h"

#include <math.h>
#include <stdlib.h>

static bool make_room(uint32_t width, uint32_t height, tdm_find_picture *out)
{
    const size_t count = (size_t)width * height;
    *out = (tdm_find_picture){.width = width, .height = height, .factor = 1};
    if (count == 0 || count > (size_t)-1 / 3)
        return false;
    out->planes[0] = malloc(3 * count);
    if (!out->planes[0])
        return false;
    out->planes[1] = out->planes[0] + count;
    out->planes[2] = out->planes[1] + count;
    return true;
}

bool tdm_find_picture_take(const tdm_pixels *pixels, double factor, tdm_find_picture *out)
{
    const size_t count = (size_t)pixels->rect.width * pixels->rect.height;
    if (!make_room(pixels->rect.width, pixels->rect.height, out))
        return false;
    out->factor = factor;
    out->left = pixels->rect.x;
    out->top = pixels->rect.y;
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k < 3; k++)
            out->planes[k][i] =
                pixels->rgb8 ? pixels->rgb8[3 * i + k] : (uint8_t)(pixels->rgb16[3 * i + k] >> 8);
    }
    return true;
}

bool tdm_find_picture_halve(const tdm_find_picture *picture, tdm_find_picture *out)
{
    if (!make_room(picture->width / 2, picture->height / 2, out))
        return false;
    out->factor = 2 * picture->factor;
    out->left = picture->left;
    out->top = picture->top;
    for (int k = 0; k < 3; k++) {
        for (uint32_t y = 0; y < out->height; y++) {
            const uint8_t *upper = picture->planes[k] + 2 * (size_t)y * picture->width;
            const uint8_t *lower = upper + picture->width;
            uint8_t *to = out->planes[k] + (size_t)y * out->width;
            for (size_t x = 0; x < out->width; x++)
                to[x] =
                    (uint8_t)((upper[2 * x] + upper[2 * x + 1] + lower[2 * x] + lower[2 * x + 1] + 2) / 4);
        }
    }
    return true;
}

void tdm_find_picture_free(tdm_find_picture *picture)
{
    free(picture->planes[0]);
    *picture = (tdm_find_picture){0};
}

static double within(double value, double most)
{
    return value > 0 ? fmin(value, most) : 0; /* NaN becomes 0 */
}

void tdm_find_picture_at(const tdm_find_picture *picture, double x, double y, double value[3])
{
    const double px = within(x - 0.5, picture->width - 1.0), py = within(y - 0.5, picture->height - 1.0);
    const size_t left = (size_t)px, top = (size_t)py;
    const size_t right = left + 1 < picture->width ? left + 1 : left;
    const size_t bottom = top + 1 < picture->height ? top + 1 : top;
    const double across = px - (double)left, down = py - (double)top;
    for (int k = 0; k < 3; k++) {
        const uint8_t *upper = picture->planes[k] + top * picture->width;
        const uint8_t *lower = picture->planes[k] + bottom * picture->width;
        value[k] = (1 - down) * ((1 - across) * upper[left] + across * upper[right]) +
                   down * ((1 - across) * lower[left] + across * lower[right]);
    }
}
