/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The room: wall, neck and cheek without features, cape. Smooth functions of the place in mm. */
#include <math.h>

#include "drawing.h"

double scn_soft(double low, double high, double x)
{
    const double t = fmin(1, fmax(0, (x - low) / (high - low)));
    return t * t * (3 - 2 * t);
}

uint32_t scn_hash(int x, int y)
{
    uint32_t h = (uint32_t)x * 374761393u + (uint32_t)y * 668265263u;
    h = (h ^ (h >> 13)) * 1274126177u;
    return h ^ (h >> 16);
}

/* Smooth noise from -1 to 1. */
double scn_mottle(double x, double y)
{
    const double fx = floor(x), fy = floor(y), a = scn_soft(0, 1, x - fx), b = scn_soft(0, 1, y - fy);
    double corner[2][2];
    for (int j = 0; j < 2; j++)
        for (int i = 0; i < 2; i++)
            corner[j][i] = (double)scn_hash((int)fx + i, (int)fy + j) / 2147483647.5 - 1;
    return (1 - b) * ((1 - a) * corner[0][0] + a * corner[0][1]) +
           b * ((1 - a) * corner[1][0] + a * corner[1][1]);
}

/* Where the skin ends at the left, by height: forehead, cheek, jaw, neck. */
static double skin_edge(double y)
{
    const double rest = 1 - fmin(1, fmax(0, (y - 40) / 75));
    const double brow = 60 - 40 * sqrt(1 - rest * rest);
    return brow - 2 * scn_soft(95, 150, y) + 34 * scn_soft(158, 196, y) - 14 * scn_soft(214, 262, y);
}

static double cape_edge(double x)
{
    return 224 + 30 * scn_soft(70, -30, x) + 46 * scn_soft(230, 300, x) + 2 * sin(x / 19);
}

static double skin_light(double x, double y)
{
    const double round = 0.78 + 0.22 * scn_soft(-4, 34, x - skin_edge(y));
    const double jaw = 1 - 0.34 * scn_soft(150, 176, y + 0.35 * x - 14);
    return round * jaw * (1 + 0.015 * scn_mottle(x * 1.3, y * 1.3) + 0.012 * scn_mottle(x * 4, y * 4));
}

static double cape_light(double x, double y)
{
    const double fold =
        sin((x - 0.22 * y) / 13 + 1.4 * scn_mottle(x / 40, y / 60)) * scn_soft(0, 60, y - cape_edge(x) + 20);
    const double hem = 0.72 + 0.28 * scn_soft(0, 5, y - cape_edge(x));
    const double weave = 0.018 * (scn_mottle(x * 3.1, y * 3.1) + sin(x * 9) * sin(y * 9));
    return hem * (0.92 + 0.12 * fold + weave + 0.05 * scn_mottle(x / 23, y / 31));
}

static void colour_at(double x, double y, double pixel, const scn_xyz surfaces[3], float *out)
{
    const double wall_light =
        1.02 - 0.10 * (x / 400) + 0.03 * scn_mottle(x / 90, y / 90) + 0.008 * scn_mottle(x * 1.6, y * 1.6);
    const double skin = scn_soft(-1.2 - pixel, 1.2 + pixel, x - skin_edge(y)) * (x < 140 && y > 46);
    const double cape = scn_soft(-0.3 - pixel, 0.3 + pixel, y - cape_edge(x));
    const double s = skin > 0 ? skin_light(x, y) : 0, c = cape > 0 ? cape_light(x, y) : 0;
    for (int k = 0; k < 3; k++) {
        double v = surfaces[0].v[k] * wall_light;
        v += skin * (surfaces[1].v[k] * s - v);
        v += cape * (surfaces[2].v[k] * c - v);
        out[k] = (float)v;
    }
}

void scn_backdrop(scn_image *image, const scn_scene *scene)
{
    const scn_xyz surfaces[3] = {scn_xyz_of((scn_lab){{77, 0.3, 2.5}}), scn_xyz_of((scn_lab){{66, 14, 17}}),
                                 scn_xyz_of((scn_lab){{44, -1.5, -5}})};
    const double pixel = 0.5 / scene->px_mm;
    for (size_t y = 0; y < image->height; y++) {
        for (size_t x = 0; x < image->width; x++) {
            const double mx = ((double)x + 0.5) / scene->px_mm - scene->dx,
                         my = ((double)y + 0.5) / scene->px_mm - scene->dy;
            colour_at(mx, my, pixel, surfaces, image->xyz + 3 * (y * image->width + x));
        }
    }
}

void scn_backdrop_flat(scn_image *image, double lstar)
{
    const scn_xyz card = scn_neutral(lstar);
    for (size_t i = 0; i < 3 * image->width * image->height; i++)
        image->xyz[i] = (float)card.v[i % 3];
}
