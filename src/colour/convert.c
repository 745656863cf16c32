/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pixels to calibrated XYZ. Where the device is curves and a matrix, correction and curve fold into one table
 * a channel; otherwise each pixel goes the whole way. Uneven light and root terms come after the curve. */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/calibration.h"
#include "colour/device_parts.h"
#include "colour/matrix.h"

enum { BLOCK = 256 };

/* One row of the rectangle. */
typedef struct row {
    const uint8_t *rgb8; /* one of the two is NULL */
    const uint16_t *rgb16;
    const uint8_t *opaque; /* NULL where all are */
    size_t count;
} row;

static row row_at(const tdm_pixels *pixels, tdm_rect rect, uint32_t y)
{
    const size_t start =
        (size_t)(rect.y - pixels->rect.y + y) * pixels->rect.width + (rect.x - pixels->rect.x);
    return (row){.rgb8 = pixels->rgb8 ? pixels->rgb8 + 3 * start : NULL,
                 .rgb16 = pixels->rgb16 ? pixels->rgb16 + 3 * start : NULL,
                 .opaque = pixels->opaque ? pixels->opaque + start : NULL,
                 .count = rect.width};
}

static unsigned code_at(const row *in, size_t i)
{
    return in->rgb8 ? in->rgb8[i] : in->rgb16[i];
}

static void set_flags(const row *in, uint8_t *flags)
{
    const unsigned top = in->rgb8 ? UINT8_MAX : UINT16_MAX;
    for (size_t i = 0; i < in->count; i++) {
        const unsigned r = code_at(in, 3 * i), g = code_at(in, 3 * i + 1), b = code_at(in, 3 * i + 2);
        unsigned bits = in->opaque && !in->opaque[i] ? TDM_PIXEL_TRANSPARENT : 0;
        if (r == top || g == top || b == top)
            bits |= TDM_PIXEL_CLIPPED;
        if (r == 0 && g == 0 && b == 0)
            bits |= TDM_PIXEL_BLACK;
        flags[i] = (uint8_t)bits;
    }
}

/* Encoded to XYZ, count pixels from `from` on. */
static void plain_xyz(const tdm_device *device, const row *in, size_t from, size_t count, float *xyz)
{
    float rgb[3 * BLOCK];
    const float top = in->rgb8 ? UINT8_MAX : UINT16_MAX;
    for (size_t i = 0; i < 3 * count; i++)
        rgb[i] = (float)code_at(in, 3 * from + i) / top;
    tdm_device_to_xyz(device, rgb, xyz, count);
}

static void convert_each(const tdm_device *device, const tdm_calibration *calibration, const row *in,
                         float *xyz)
{
    for (size_t done = 0; done < in->count;) {
        const size_t now = in->count - done < BLOCK ? in->count - done : BLOCK;
        plain_xyz(device, in, done, now, xyz + 3 * done);
        tdm_calibration_apply(calibration, xyz + 3 * done, now);
        done += now;
    }
}

/* table: corrected linear working RGB, `codes` entries a channel. */
static void convert_by_table(const float *table, size_t codes, const double from_rgb[9], const row *in,
                             float *xyz)
{
    float m[9];
    for (int i = 0; i < 9; i++)
        m[i] = (float)from_rgb[i];
    for (size_t i = 0; i < in->count; i++) {
        const float r = table[code_at(in, 3 * i)];
        const float g = table[codes + code_at(in, 3 * i + 1)];
        const float b = table[2 * codes + code_at(in, 3 * i + 2)];
        xyz[3 * i] = m[0] * r + m[1] * g + m[2] * b;
        xyz[3 * i + 1] = m[3] * r + m[4] * g + m[5] * b;
        xyz[3 * i + 2] = m[6] * r + m[7] * g + m[8] * b;
    }
}

/* Corrected linear working RGB, still in uneven light. */
static void shape(const tdm_device *device, const tdm_calibration *calibration, const float *table,
                  size_t codes, const row *in, size_t from, size_t count, float *rgb)
{
    if (table) {
        for (size_t i = 0; i < 3 * count; i++)
            rgb[i] = table[i % 3 * codes + code_at(in, 3 * from + i)];
        return;
    }
    plain_xyz(device, in, from, count, rgb);
    for (size_t i = 0; i < count; i++) {
        double triple[3] = {(double)rgb[3 * i], (double)rgb[3 * i + 1], (double)rgb[3 * i + 2]};
        tdm_matrix_apply(calibration->to_rgb, triple, triple);
        for (size_t c = 0; c < 3; c++)
            rgb[3 * i + c] = (float)tdm_calibration_channel(calibration, (int)c, triple[c]);
    }
}

/* The whole correction: curve, light, then matrix and root terms. table NULL: without one. x, y: centre of
 * the row's first pixel. */
static void convert_lit(const tdm_device *device, const tdm_calibration *calibration, const float *table,
                        size_t codes, const row *in, double x, double y, float *xyz)
{
    float rgb[3 * BLOCK], factors[3 * BLOCK];
    for (size_t done = 0; done < in->count;) {
        const size_t now = in->count - done < BLOCK ? in->count - done : BLOCK;
        shape(device, calibration, table, codes, in, done, now, rgb);
        tdm_light_row(&calibration->light, x + (double)done, y, now, factors);
        for (size_t i = done; i < done + now; i++) {
            const size_t at = 3 * (i - done);
            const double lit[3] = {(double)(rgb[at] * factors[at]), (double)(rgb[at + 1] * factors[at + 1]),
                                   (double)(rgb[at + 2] * factors[at + 2])};
            double mixed[3];
            tdm_calibration_mix(calibration, lit, mixed);
            for (size_t c = 0; c < 3; c++)
                xyz[3 * i + c] = (float)mixed[c];
        }
        done += now;
    }
}

/* NULL when out of memory. */
static float *corrected_table(const tdm_device *device, const tdm_calibration *calibration, size_t codes)
{
    const size_t stride = (TDM_CODES - 1) / (codes - 1);
    float *table = malloc(3 * codes * sizeof *table);
    if (!table)
        return NULL;
    for (size_t c = 0; c < 3; c++) {
        const float *linear = device->table + c * TDM_CODES;
        for (size_t i = 0; i < codes; i++)
            table[c * codes + i] =
                (float)tdm_calibration_channel(calibration, (int)c, (double)linear[i * stride]);
    }
    return table;
}

tdm_code tdm_colour_convert(const tdm_device *device, const tdm_calibration *calibration,
                            const tdm_pixels *pixels, tdm_rect rect, float *xyz, uint8_t *flags,
                            tdm_error *error)
{
    const size_t codes = pixels->bits == 8 ? UINT8_MAX + 1 : UINT16_MAX + 1;
    const bool by_table = device->kind == TDM_DEVICE_SHAPER && (uint64_t)rect.width * rect.height >= codes &&
                          tdm_calibration_starts_at(calibration, device);
    float *table = by_table ? corrected_table(device, calibration, codes) : NULL;
    if (by_table && !table)
        return tdm_fail_memory(error, NULL);
    for (uint32_t y = 0; y < rect.height; y++) {
        const row in = row_at(pixels, rect, y);
        const size_t start = (size_t)y * rect.width;
        if (calibration->light.degree > 0 || calibration->rooted)
            convert_lit(device, calibration, table, codes, &in, rect.x + 0.5, rect.y + y + 0.5,
                        xyz + 3 * start);
        else if (table)
            convert_by_table(table, codes, calibration->from_rgb, &in, xyz + 3 * start);
        else
            convert_each(device, calibration, &in, xyz + 3 * start);
        set_flags(&in, flags + start);
    }
    free(table);
    return TDM_OK;
}
