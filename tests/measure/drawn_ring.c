/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/drawn_ring.h"

#include <math.h>
#include <string.h>

#include "colour/drawn.h"
#include "colour/profiles.h"
#include "suite.h"

double ring_light(double lstar)
{
    const double f = (lstar + 16) / 116;
    return f * f * f;
}

static void paint(ring *it, size_t index)
{
    for (uint32_t y = RING_GAP; y < RING_GAP + RING_SIDE; y++) {
        for (uint32_t x = 0; x < RING_SIDE; x++) {
            const double strand = x / 3 % 2 ? 1 + it->strands : 1 - it->strands;
            const double e = encode_srgb(fmin(1, it->exposure * strand * ring_light(it->lstars[index])));
            const double encoded[3] = {e, e, e};
            set_pixel(&it->pixels, (uint32_t)(RING_GAP + index * (RING_SIDE + RING_GAP)) + x, y, encoded);
        }
    }
}

void ring_draw(ring *it)
{
    const double surround[3] = {0.5, 0.2, 0.2};
    it->pixels = draw_even(16, surround, (uint32_t)(RING_GAP + it->count * (RING_SIDE + RING_GAP)),
                           RING_SIDE + 2 * RING_GAP);
    it->marks = (tdm_marks){.width = it->pixels.rect.width,
                            .height = it->pixels.rect.height,
                            .swatches = it->swatches,
                            .swatch_count = it->count};
    for (size_t i = 0; i < it->count; i++) {
        const double left = (double)(RING_GAP + i * (RING_SIDE + RING_GAP)), top = RING_GAP;
        const double at[8] = {
            left, top, left + RING_SIDE, top, left + RING_SIDE, top + RING_SIDE, left, top + RING_SIDE};
        memcpy(it->corners[i], at, sizeof at);
        it->swatches[i] = (tdm_swatch_marks){.polygon = {it->corners[i], 4}, .level = it->levels[i]};
        paint(it, i);
    }
    it->device = srgb_device();
    it->calibration = tdm_calibration_none(it->device);
    it->calibration.method = TDM_CALIBRATION_GREY;
    for (int c = 0; c < 3; c++)
        it->calibration.gain[c] = 1 / it->exposure;
}

tdm_code ring_measure(ring *it, tdm_error *error)
{
    it->found = calloc(1, sizeof *it->found);
    ck_assert_ptr_nonnull(it->found);
    tdm_sources sources[RING_MOST];
    for (size_t i = 0; i < RING_MOST; i++)
        sources[i] = (tdm_sources){.lstar = 0.5, .stops = it->stops[i]};
    it->found->file = strdup("ring.jpg");
    return tdm_swatches_measure(it->device, &it->calibration, &it->pixels, &it->marks, sources, "ring.jpg",
                                it->found, error);
}

void ring_free(ring *it)
{
    tdm_swatches_free(it->found);
    tdm_pixels_free(&it->pixels);
    tdm_device_free(it->device);
}

ring ring_of_five(void)
{
    return (ring){.count = 5,
                  .levels = {7, 3, 5, 4, 6},
                  .lstars = {41, 22, 30, 26, 35},
                  .strands = 0.2,
                  .exposure = 0.7};
}

void ring_read(ring *it)
{
    tdm_error error = {0};
    ring_draw(it);
    ck_assert_msg(ring_measure(it, &error) == TDM_OK, "%s", error.text);
}

const tdm_warning *ring_warning(const ring *it, const char *code)
{
    size_t count = 0;
    const tdm_warning *list = tdm_swatches_warnings(it->found, &count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(list[i].code, code) == 0)
            return &list[i];
    }
    return NULL;
}
