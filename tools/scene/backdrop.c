/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The room: wall, neck and cheek without features, cape. Smooth functions of the place in mm. */
#include <math.h>
#include <stdlib.h>

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

/* The corners of a cell of noise, kept while a row of pixels stays in it. */
typedef struct {
    double x, y, corner[2][2];
} noise_cell;

static double mottle(noise_cell *cell, double x, double y)
{
    const double fx = floor(x), fy = floor(y), a = scn_soft(0, 1, x - fx), b = scn_soft(0, 1, y - fy);
    if (fx != cell->x || fy != cell->y) {
        cell->x = fx;
        cell->y = fy;
        for (int j = 0; j < 2; j++)
            for (int i = 0; i < 2; i++)
                cell->corner[j][i] = (double)scn_hash((int)fx + i, (int)fy + j) / 2147483647.5 - 1;
    }
    return (1 - b) * ((1 - a) * cell->corner[0][0] + a * cell->corner[0][1]) +
           b * ((1 - a) * cell->corner[1][0] + a * cell->corner[1][1]);
}

double scn_mottle(double x, double y)
{
    noise_cell fresh = {.x = NAN};
    return mottle(&fresh, x, y);
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

enum { KINDS_OF_NOISE = 7 };

static double skin_light(noise_cell *cells, double x, double y, double edge)
{
    const double round = 0.78 + 0.22 * scn_soft(-4, 34, x - edge);
    const double jaw = 1 - 0.34 * scn_soft(150, 176, y + 0.35 * x - 14);
    return round * jaw *
           (1 + 0.015 * mottle(&cells[0], x * 1.3, y * 1.3) + 0.012 * mottle(&cells[1], x * 4, y * 4));
}

static double cape_light(noise_cell *cells, double x, double y, double edge)
{
    const double fold =
        sin((x - 0.22 * y) / 13 + 1.4 * mottle(&cells[2], x / 40, y / 60)) * scn_soft(0, 60, y - edge + 20);
    const double hem = 0.72 + 0.28 * scn_soft(0, 5, y - edge);
    const double weave = 0.018 * (mottle(&cells[3], x * 3.1, y * 3.1) + sin(x * 9) * sin(y * 9));
    return hem * (0.92 + 0.12 * fold + weave + 0.05 * mottle(&cells[4], x / 23, y / 31));
}

static void colour_at(noise_cell *cells, double x, double y, double pixel, double face, double hem,
                      const scn_xyz surfaces[3], float *out)
{
    const double wall_light = 1.02 - 0.10 * (x / 400) + 0.03 * mottle(&cells[5], x / 90, y / 90) +
                              0.008 * mottle(&cells[6], x * 1.6, y * 1.6);
    const double skin = scn_soft(-1.2 - pixel, 1.2 + pixel, x - face) * (x < 140 && y > 46);
    const double cape = scn_soft(-0.3 - pixel, 0.3 + pixel, y - hem);
    const double s = skin > 0 ? skin_light(cells, x, y, face) : 0,
                 c = cape > 0 ? cape_light(cells, x, y, hem) : 0;
    for (int k = 0; k < 3; k++) {
        double v = surfaces[0].v[k] * wall_light;
        v += skin * (surfaces[1].v[k] * s - v);
        v += cape * (surfaces[2].v[k] * c - v);
        out[k] = (float)v;
    }
}

bool scn_backdrop(scn_image *image, const scn_scene *scene)
{
    const scn_xyz surfaces[3] = {scn_xyz_of((scn_lab){{77, 0.3, 2.5}}), scn_xyz_of((scn_lab){{66, 14, 17}}),
                                 scn_xyz_of((scn_lab){{44, -1.5, -5}})};
    const double pixel = 0.5 / scene->px_mm;
    double *hems = malloc(image->width * sizeof *hems); /* by column; the face's edge is by row */
    if (!hems)
        return scn_fail("size", "out of memory");
    noise_cell cells[KINDS_OF_NOISE];
    for (size_t i = 0; i < KINDS_OF_NOISE; i++)
        cells[i] = (noise_cell){.x = NAN};
    for (size_t x = 0; x < image->width; x++)
        hems[x] = cape_edge(((double)x + 0.5) / scene->px_mm - scene->dx);
    for (size_t y = 0; y < image->height; y++) {
        const double my = ((double)y + 0.5) / scene->px_mm - scene->dy, face = skin_edge(my);
        for (size_t x = 0; x < image->width; x++) {
            const double mx = ((double)x + 0.5) / scene->px_mm - scene->dx;
            colour_at(cells, mx, my, pixel, face, hems[x], surfaces, image->xyz + 3 * (y * image->width + x));
        }
    }
    free(hems);
    return true;
}

void scn_backdrop_flat(scn_image *image, double lstar)
{
    const scn_xyz card = scn_neutral(lstar);
    for (size_t i = 0; i < 3 * image->width * image->height; i++)
        image->xyz[i] = (float)card.v[i % 3];
}
