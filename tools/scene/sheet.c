/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheet.h"

#include <math.h>

static const double degree = 3.14159265358979323846 / 180, eye_mm = 600;

scn_sheet scn_sheet_at(double x, double y, double degrees)
{
    const double angle = degrees * 3.14159265358979323846 / 180;
    return (scn_sheet){.x = x, .y = y, .cosine = cos(angle), .sine = sin(angle)};
}

scn_sheet scn_sheet_tilted(scn_sheet sheet, double tilt_deg, double axis_deg)
{
    sheet.tilted = tilt_deg != 0;
    sheet.axis_cosine = cos(axis_deg * degree);
    sheet.axis_sine = sin(axis_deg * degree);
    sheet.tilt_cosine = cos(tilt_deg * degree);
    sheet.tilt_sine = sin(tilt_deg * degree);
    return sheet;
}

/* Along the axis u, across it v: v leans away from the eye. */
static scn_point lean_away(const scn_sheet *f, double x, double y)
{
    const double u = x * f->axis_cosine + y * f->axis_sine, v = y * f->axis_cosine - x * f->axis_sine;
    const double nearness = eye_mm / (eye_mm + v * f->tilt_sine);
    const double a = u * nearness, b = v * f->tilt_cosine * nearness;
    return (scn_point){a * f->axis_cosine - b * f->axis_sine, a * f->axis_sine + b * f->axis_cosine};
}

static scn_point lean_back(const scn_sheet *f, double x, double y)
{
    const double a = x * f->axis_cosine + y * f->axis_sine, b = y * f->axis_cosine - x * f->axis_sine;
    /* Beyond the horizon there is nothing of the sheet: any far place does. */
    const double v = b * eye_mm / fmax(eye_mm * f->tilt_cosine - b * f->tilt_sine, 1);
    const double u = a * (eye_mm + v * f->tilt_sine) / eye_mm;
    return (scn_point){u * f->axis_cosine - v * f->axis_sine, u * f->axis_sine + v * f->axis_cosine};
}

scn_point scn_sheet_px(const scn_sheet *f, const scn_scene *scene, double x, double y)
{
    if (f->tilted) {
        const scn_point p = lean_away(f, x * f->cosine - y * f->sine, x * f->sine + y * f->cosine);
        return (scn_point){(f->x + p.x) * scene->px_mm, (f->y + p.y) * scene->px_mm};
    }
    return (scn_point){(f->x + x * f->cosine - y * f->sine) * scene->px_mm,
                       (f->y + x * f->sine + y * f->cosine) * scene->px_mm};
}

scn_point scn_sheet_mm(const scn_sheet *f, double mx, double my)
{
    const scn_point p = f->tilted ? lean_back(f, mx, my) : (scn_point){mx, my};
    return (scn_point){p.x * f->cosine + p.y * f->sine, p.y * f->cosine - p.x * f->sine};
}

void scn_sheet_corners(const scn_sheet *f, const scn_scene *scene, double a, double b, scn_point corners[4])
{
    static const double at[4][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
    for (int i = 0; i < 4; i++)
        corners[i] = scn_sheet_px(f, scene, at[i][0] * a, at[i][1] * b);
}

double scn_inside(double x, double y, double a, double b, double r, double pixel)
{
    const double dx = fmax(fabs(x) - a + r, 0), dy = fmax(fabs(y) - b + r, 0);
    const double out = r > 0 ? hypot(dx, dy) - r : fmax(fabs(x) - a, fabs(y) - b);
    return fmin(1, fmax(0, 0.5 - out / pixel));
}

void scn_sheet_draw(scn_image *image, const scn_scene *scene, const scn_sheet *f, double a, double b,
                    double r, scn_surface paint, const void *data)
{
    const double reach = (hypot(a, b) + 8) * (f->tilted ? 1.3 : 1), px = scene->px_mm;
    const double pixel = f->tilted ? 1 / px / sqrt(f->tilt_cosine) : 1 / px;
    const size_t x0 = (size_t)fmax(0, floor((f->x - reach) * px)),
                 y0 = (size_t)fmax(0, floor((f->y - reach) * px));
    for (size_t iy = y0; iy < image->height && (double)iy < (f->y + reach) * px; iy++) {
        for (size_t ix = x0; ix < image->width && (double)ix < (f->x + reach) * px; ix++) {
            const double mx = ((double)ix + 0.5) / px - f->x, my = ((double)iy + 0.5) / px - f->y;
            const scn_point p = scn_sheet_mm(f, mx, my);
            const double far_x = fmax(fabs(p.x - 1.2) - a, 0), far_y = fmax(fabs(p.y - 2.0) - b, 0);
            if (far_x > 20 || far_y > 20) /* no shadow is left */
                continue;
            float *out = image->xyz + 3 * (iy * image->width + ix);
            const double away = hypot(far_x, far_y);
            const double dark = 1 - 0.45 * exp(-away * away / 9),
                         cover = scn_inside(p.x, p.y, a, b, r, pixel);
            const scn_xyz own = cover > 0 ? paint(p.x, p.y, pixel, data) : (scn_xyz){{0, 0, 0}};
            for (int k = 0; k < 3; k++)
                out[k] = (float)((1 - cover) * dark * (double)out[k] + cover * own.v[k]);
        }
    }
}
