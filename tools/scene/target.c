/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The 24-patch target, clean or not. */
#include <math.h>

#include "light.h"
#include "sheet.h"

/* Published CIELAB values (D50, 2 degrees) of the 24-patch target of McCamy, Marcus and Davidson,
   J. Appl. Photogr. Eng. 2(3):95-99, 1976: targets made before and since November 2014. */
static const double before_2014[24][3] = {
    {37.986, 13.555, 14.059},  {65.711, 18.130, 17.810},  {49.927, -4.880, -21.905},
    {43.139, -13.095, 21.905}, {55.112, 8.844, -25.399},  {70.719, -33.397, -0.199},
    {62.661, 36.067, 57.096},  {40.020, 10.410, -45.964}, {51.124, 48.239, 16.248},
    {30.325, 22.976, -21.587}, {72.532, -23.709, 57.255}, {71.941, 19.363, 67.857},
    {28.778, 14.179, -50.297}, {55.261, -38.342, 31.370}, {42.101, 53.378, 28.190},
    {81.733, 4.039, 79.819},   {51.935, 49.986, -14.574}, {51.038, -28.631, -28.638},
    {96.539, -0.425, 1.186},   {81.257, -0.638, -0.335},  {66.766, -0.734, -0.504},
    {50.867, -0.153, -0.270},  {35.656, -0.421, -1.231},  {20.461, -0.079, -0.973}};
static const double since_2014[24][3] = {
    {37.54, 14.37, 14.92},  {64.66, 19.27, 17.50},   {49.32, -3.82, -22.54}, {43.46, -12.74, 22.72},
    {54.94, 9.61, -24.79},  {70.48, -32.26, -0.37},  {62.73, 35.83, 56.50},  {39.43, 10.75, -45.17},
    {50.57, 48.64, 16.67},  {30.10, 22.54, -20.87},  {71.77, -24.13, 58.19}, {71.51, 18.24, 67.37},
    {28.37, 15.42, -49.80}, {54.38, -39.72, 32.27},  {42.43, 51.05, 28.62},  {81.80, 2.67, 80.41},
    {50.63, 51.28, -14.12}, {49.57, -29.71, -28.32}, {95.19, -1.03, 2.93},   {81.29, -0.57, 0.44},
    {66.89, -0.75, -0.06},  {50.76, -0.13, 0.14},    {35.63, -0.46, -0.48},  {20.64, 0.07, -0.46}};

static const double block_x = 105, block_y = 72, patch_share = 0.85;

scn_lab scn_patch_lab(bool new_edition, size_t patch)
{
    const double *lab = new_edition ? since_2014[patch] : before_2014[patch];
    return (scn_lab){{lab[0], lab[1], lab[2]}};
}

static double pitch(double block, int count)
{
    return block / ((double)count - 1 + patch_share);
}

typedef struct {
    const scn_target *held;
    scn_xyz patches[SCN_PATCHES];
    double scale; /* of its own mm to those of the target of standard size */
} target_look;

/* Skin and hair care leave a brown film, thicker in places. */
static scn_xyz dirty(scn_xyz patch, double amount, double u, double v)
{
    static const double film[3] = {0.62, 0.58, 0.40};
    const double here = amount * (0.8 + 0.2 * sin(5 * u + 1) * sin(4 * v + 2));
    for (int k = 0; k < 3; k++)
        patch.v[k] *= 1 - here * (1 - film[k]);
    return patch;
}

/* A reflection that covers the patch partly: strongest at its lower right. */
static scn_xyz glared(scn_xyz patch, double amount, double u, double v)
{
    static const double white[3] = {0.9642, 1.0, 0.8249};
    const double d = hypot(u - 0.25, v - 0.2);
    for (int k = 0; k < 3; k++)
        patch.v[k] += amount * white[k] * exp(-d * d / 0.18);
    return patch;
}

/* Light that the shadow leaves; its edge crosses the target at a share of its width. */
static double shade_at(const scn_target *held, double x, double y)
{
    const double angle = held->shade_turn * 3.14159265358979323846 / 180;
    const double place = x * cos(angle) + y * sin(angle) - (held->shade_from - 0.5) * held->width;
    const double t = fmin(1, fmax(0, 0.5 + place / held->shade_soft));
    return 1 - held->shade * t * t * (3 - 2 * t);
}

static scn_xyz target_surface(double x, double y, double pixel, const void *data)
{
    const target_look *look = data;
    const double px = pitch(block_x, 6), py = pitch(block_y, 4);
    const double hx = 0.5 * patch_share * px, hy = 0.5 * patch_share * py;
    const double sx = (look->held->mirrored ? -x : x) * look->scale, sy = y * look->scale;
    const double u = (sx + 0.5 * block_x - hx) / px, v = (sy + 0.5 * block_y - hy) / py;
    const double column = fmin(5, fmax(0, round(u))), row = fmin(3, fmax(0, round(v)));
    const double cover = scn_inside((u - column) * px, (v - row) * py, hx, hy, 0, pixel * look->scale);
    const size_t index = (size_t)(row * 6 + column);
    scn_xyz patch = look->patches[index], out = scn_neutral(14);
    if (look->held->dirt[index])
        patch = dirty(patch, look->held->dirt_amount, u - column, v - row);
    if (look->held->glare[index])
        patch = glared(patch, look->held->glare_amount, u - column, v - row);
    for (int k = 0; k < 3; k++)
        out.v[k] += cover * (patch.v[k] - out.v[k]);
    if (look->held->shade > 0) {
        const double left = shade_at(look->held, x, y);
        for (int k = 0; k < 3; k++)
            out.v[k] *= left;
    }
    return out;
}

/* The patches' colours under the lamps: their own spectra, where these count. The mix of lamps is that at the
   middle of each patch. */
static void colour_patches(target_look *look, const scn_scene *scene, const scn_sheet *sheet)
{
    scn_light light;
    if (scene->spectral)
        scn_light_make(&light, scene);
    for (size_t i = 0; i < SCN_PATCHES; i++) {
        look->patches[i] = scn_xyz_of(scn_patch_lab(scene->held.new_edition, i));
        if (!scene->spectral)
            continue;
        const double px = pitch(block_x, 6), py = pitch(block_y, 4);
        const double x = (((double)(i % 6) + 0.5 * patch_share) * px - 0.5 * block_x) / look->scale;
        const double y = (((double)(i / 6) + 0.5 * patch_share) * py - 0.5 * block_y) / look->scale;
        const scn_point at = scn_sheet_px(sheet, scene, scene->held.mirrored ? -x : x, y);
        look->patches[i] = scn_light_patch(&light, i, look->patches[i], scn_light_share(scene, at.x, at.y));
    }
}

void scn_draw_target(scn_image *image, const scn_scene *scene, scn_point corners[4])
{
    const scn_target *held = &scene->held;
    const scn_sheet sheet =
        scn_sheet_tilted(scn_sheet_at(held->at.x, held->at.y, held->turn), held->tilt, held->tilt_axis);
    target_look look = {.held = held, .scale = block_x / held->width};
    colour_patches(&look, scene, &sheet);
    scn_sheet_draw(image, scene, &sheet, (block_x / 2 + 5) / look.scale, (block_y / 2 + 5) / look.scale,
                   2 / look.scale, target_surface, &look);
    static const double at[4][2] = {{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}};
    const double side = held->mirrored ? -1 : 1;
    for (int i = 0; i < 4; i++)
        corners[i] = scn_sheet_px(&sheet, scene, side * at[i][0] * block_x / look.scale,
                                  at[i][1] * block_y / look.scale);
}
