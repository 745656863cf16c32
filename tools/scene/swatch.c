/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Swatches: loops of hair of one colour, matt, bound at the top. */
#include <math.h>

#include "sheet.h"

typedef struct {
    scn_xyz body;
    double a, b;     /* half sizes, mm */
    double x0, fine; /* apart from other swatches; width of a strand, mm */
} swatch_look;

static const double band_share = 0.16; /* of the height: the paper band that binds the hair */

static double strands(const swatch_look *look, double x, double y)
{
    const double wave = 0.7 * scn_mottle(y / 17 + look->x0, 3.5) + 0.25 * scn_mottle(y / 6, look->x0 + x / 5);
    const double u = x + look->x0 + wave;
    const double wisp = scn_mottle(u / 1.9, y / 60), lock = scn_mottle(u / 5.5, y / 90);
    const double strand = scn_mottle(u / look->fine, y / 14), end = scn_mottle(u / look->fine / 2.3, y / 30);
    const double round = 1 - 0.25 * pow(x / look->a, 4);
    return fmax(0.1, round * (1 + 0.10 * lock + 0.10 * wisp + 0.13 * strand + 0.08 * end));
}

static scn_xyz swatch_surface(double x, double y, double pixel, const void *data)
{
    const swatch_look *look = data;
    const double light = strands(look, x, y), paper = 0.5 + (y + look->b - 2 * look->b * band_share) / pixel;
    const scn_xyz band = scn_xyz_of((scn_lab){{86, 0, 3}});
    const double share = fmin(1, fmax(0, paper));
    scn_xyz out;
    for (int k = 0; k < 3; k++)
        out.v[k] = band.v[k] + share * (look->body.v[k] * light - band.v[k]);
    return out;
}

/* Mean light of the pixels inside the marks. */
static scn_lab mean_of(const scn_image *image, const scn_scene *scene, const scn_sheet *f, double y0,
                       double a, double b)
{
    double sum[3] = {0, 0, 0}, count = 0;
    const double reach = hypot(a, b) + fabs(y0), px = scene->px_mm;
    const double y_end = fmin((f->y + reach) * px, (double)image->height);
    const double x_end = fmin((f->x + reach) * px, (double)image->width);
    for (double iy = fmax(0, floor((f->y - reach) * px)); iy < y_end; iy++) {
        for (double ix = fmax(0, floor((f->x - reach) * px)); ix < x_end; ix++) {
            const scn_point p = scn_sheet_mm(f, (ix + 0.5) / px - f->x, (iy + 0.5) / px - f->y);
            if (fabs(p.x) > a || fabs(p.y - y0) > b)
                continue;
            for (int k = 0; k < 3; k++)
                sum[k] += (double)image->xyz[3 * ((size_t)iy * image->width + (size_t)ix) + (size_t)k];
            count++;
        }
    }
    scn_xyz mean;
    for (int k = 0; k < 3; k++)
        mean.v[k] = count > 0 ? sum[k] / count : 0;
    return scn_lab_of(mean);
}

/* Marked in the middle of the hair, away from band and edges. */
void scn_draw_swatch(scn_image *image, const scn_scene *scene, size_t index, scn_places *places)
{
    const scn_swatch *s = &scene->swatches[index];
    const scn_sheet f = scn_sheet_at(s->at.x, s->at.y, s->turn);
    const double a = 0.5 * s->width, b = 0.5 * s->height, y0 = b * band_share;
    const double mark_a = 0.7 * a, mark_b = b * (1 - band_share) * 0.75;
    const swatch_look look = {scn_xyz_of(s->lab), a, b,
                              100 * (double)(1 + index) + (double)(scene->seed % 97) * 0.37,
                              fmax(0.18, 1.5 / scene->px_mm)};
    scn_sheet_draw(image, scene, &f, a, b, fmin(a, b) * 0.35, swatch_surface, &look);
    static const double at[4][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
    for (int i = 0; i < 4; i++)
        places->swatches[index][i] = scn_sheet_px(&f, scene, at[i][0] * mark_a, y0 + at[i][1] * mark_b);
    places->swatch_labs[index] = mean_of(image, scene, &f, y0, mark_a, mark_b);
}
