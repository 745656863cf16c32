/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A picture, made in the test, with one zone to lay out straight. Pictures are 16-bit sRGB; their truth is
 * the function that draws them. */
#ifndef TEST_STRIP_BENCH_H
#define TEST_STRIP_BENCH_H

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "strip/strip.h"
#include "suite.h"

typedef struct bench {
    tdm_pixels pixels;
    tdm_marks marks;
    tdm_zone_marks zone;
    double xy[32], widths[16];
    tdm_device *device;
    tdm_calibration calibration;
    tdm_strip strip;
    tdm_error error;
} bench;

/* Linear light 0 to 1 to the sRGB code (IEC 61966-2-1). */
static inline uint16_t encode(double light)
{
    const double code = light <= 0.0031308 ? 12.92 * light : 1.055 * pow(light, 1 / 2.4) - 0.055;
    return (uint16_t)lround(65535 * code);
}

typedef double (*picture)(double x, double y);

static inline void set_up(bench *on, uint32_t width, uint32_t height, picture light)
{
    memset(on, 0, sizeof *on);
    on->pixels = (tdm_pixels){.rect = {0, 0, width, height}, .bits = 16};
    on->pixels.rgb16 = malloc((size_t)3 * width * height * sizeof(uint16_t));
    ck_assert_ptr_nonnull(on->pixels.rgb16);
    for (size_t i = 0; i < (size_t)width * height; i++) {
        for (size_t k = 0; k < 3; k++)
            on->pixels.rgb16[3 * i + k] = encode(light((double)(i % width) + 0.5, (double)(i / width) + 0.5));
    }
    const tdm_photo_info info = {
        .format = "PNG", .width = width, .height = height, .bits = 16, .colour = TDM_COLOUR_SRGB};
    tdm_warnings warnings = {0};
    ck_assert_int_eq(tdm_device_create(&info, false, "test", &warnings, &on->device, &on->error), TDM_OK);
    tdm_warnings_free(&warnings);
    on->calibration = tdm_calibration_none(on->device);
    on->zone.path.xy = on->xy;
    on->zone.widths = on->widths;
    on->marks =
        (tdm_marks){.width = width, .height = height, .mm_per_px = NAN, .zones = &on->zone, .zone_count = 1};
}

static inline void path(bench *on, size_t points, const double *xy, double width)
{
    memcpy(on->xy, xy, 2 * points * sizeof *xy);
    on->zone.path.count = points;
    for (size_t i = 0; i < points; i++)
        on->widths[i] = width;
}

static inline tdm_code lay_out(bench *on)
{
    const tdm_limits limits = tdm_limits_default();
    return tdm_strip_make(on->device, &on->calibration, &on->pixels, &on->marks, 0, &limits, "test",
                          &on->strip, &on->error);
}

static inline void scale(bench *on, double mm_per_px)
{
    on->marks.has_scale = true;
    on->marks.mm_per_px = mm_per_px;
}

static inline void tear_down(bench *on)
{
    tdm_strip_free(&on->strip);
    tdm_device_free(on->device);
    free(on->pixels.rgb16);
    free(on->pixels.opaque);
}

static inline double y_at(const tdm_strip *strip, size_t row, size_t col)
{
    return (double)strip->xyz[3 * (row * strip->cols + col) + 1];
}

/* 16 bits and float storage leave 3e-5 of light; the tolerances below are ten times that unless said. */
static const double exact = 3e-4;

static inline double plain(double x, double y)
{
    (void)x, (void)y;
    return 0.2;
}

#endif
