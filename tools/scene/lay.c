/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays the hair, with the soft shadow it throws, over what stands behind it. */
#include <math.h>
#include <stdlib.h>

#include "drawing.h"

/* Coverage by hair in cells of about 2 mm, blurred: what keeps light from the things behind. */
typedef struct {
    float *cells, *spare;
    size_t across, down;
    double cell;
} veil;

static void veil_blur(const veil *v, size_t reach)
{
    const float *from = v->cells;
    for (size_t y = 0; y < v->down; y++) {
        for (size_t x = 0; x < v->across; x++) {
            float sum = 0, count = 0;
            for (size_t j = y > reach ? y - reach : 0; j <= y + reach && j < v->down; j++) {
                for (size_t i = x > reach ? x - reach : 0; i <= x + reach && i < v->across; i++) {
                    sum += from[j * v->across + i];
                    count += 1;
                }
            }
            v->spare[y * v->across + x] = sum / count;
        }
    }
}

static bool veil_make(veil *v, const scn_scene *scene, const scn_canvas *canvas)
{
    const double cell = fmax(1, 2 * scene->px_mm);
    *v = (veil){.across = (size_t)ceil((double)scene->width / cell) + 1,
                .down = (size_t)ceil((double)scene->height / cell) + 1,
                .cell = cell};
    v->cells = calloc(v->across * v->down, sizeof(float));
    v->spare = calloc(v->across * v->down, sizeof(float));
    if (!v->cells || !v->spare)
        return false;
    for (size_t y = 0; y < canvas->height; y++) {
        const size_t row = (size_t)((double)(y + canvas->top) / cell) * v->across;
        for (size_t x = 0; x < canvas->width; x++)
            v->cells[row + (size_t)((double)(x + canvas->left) / cell)] +=
                canvas->cover[scn_canvas_at(canvas, x, y)];
    }
    for (size_t i = 0; i < v->across * v->down; i++)
        v->cells[i] = fminf(1, v->cells[i] / (float)(cell * cell));
    veil_blur(v, 3);
    return true;
}

static float veil_at(const veil *v, double x, double y)
{
    const double cx = fmin(fmax(x / v->cell - 0.5, 0), (double)v->across - 2),
                 cy = fmin(fmax(y / v->cell - 0.5, 0), (double)v->down - 2);
    const float a = (float)(cx - floor(cx)), b = (float)(cy - floor(cy));
    const float *p = v->spare + (size_t)cy * v->across + (size_t)cx, *q = p + v->across;
    return (1 - b) * ((1 - a) * p[0] + a * p[1]) + b * ((1 - a) * q[0] + a * q[1]);
}

/* Skin in a parting, under what hair is left there. */
static void lay_skin(float skin, float cover, double x, double y, float *out)
{
    const scn_xyz scalp = scn_xyz_of((scn_lab){{63, 10, 15}});
    const double light = 1 + 0.04 * scn_mottle(x * 1.7, y * 1.7),
                 share = fmin(1, (double)skin / fmax(1e-3, 1 - (double)cover));
    for (int k = 0; k < 3; k++)
        out[k] += (float)(share * (light * scalp.v[k] - (double)out[k]));
}

/* The hair's own light: body colour under its shading, and the two reflections. */
static void lay_pixel(const float *v, const scn_more *more, float cover, float fall, float *out)
{
    static const float white[3] = {0.9642f, 1.0f, 0.8249f};
    const float cast = more ? more->v[SCN_CAST] / cover : 1, band = more ? more->v[SCN_BAND_SHEEN] : 0;
    for (int k = 0; k < 3; k++) {
        const float body = v[SCN_X + k] / cover, light = v[SCN_SHADE] / cover * fall * cast;
        const float hair =
            body * light + white[k] * (v[SCN_SHEEN] + band) / cover + body * v[SCN_TINTED] / cover;
        out[k] = (1 - cover) * out[k] + cover * hair;
    }
}

bool scn_lay_hair(scn_image *image, const scn_scene *scene, const scn_canvas *canvas)
{
    veil v;
    const bool good = veil_make(&v, scene, canvas);
    const double lit_mm = 2.5;
    for (size_t y = 0; good && y < image->height; y++) {
        for (size_t x = 0; x < image->width; x++) {
            float *out = image->xyz + 3 * (y * image->width + x);
            const float dark =
                1 - 0.5f * veil_at(&v, (double)x - lit_mm * scene->px_mm, (double)y - lit_mm * scene->px_mm);
            for (int k = 0; k < 3; k++)
                out[k] *= dark;
            if (x < canvas->left || x >= canvas->left + canvas->width || y < canvas->top ||
                y >= canvas->top + canvas->height)
                continue;
            const size_t at = scn_canvas_at(canvas, x - canvas->left, y - canvas->top);
            const double s = (double)y / scene->px_mm - 44,
                         fall = 1 + scene->shading_fall * (s / scene->length - 0.5);
            if (canvas->skin && canvas->skin[at] > 0)
                lay_skin(canvas->skin[at], canvas->cover[at], (double)x / scene->px_mm,
                         (double)y / scene->px_mm, out);
            if (canvas->cover[at] > 1e-4f)
                lay_pixel(canvas->pixels[at].v, canvas->more ? &canvas->more[at] : NULL, canvas->cover[at],
                          (float)fall, out);
        }
    }
    free(v.cells);
    free(v.spare);
    return good || scn_fail("size", "out of memory");
}
