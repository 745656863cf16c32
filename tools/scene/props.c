/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is held beside the hair: the 24-patch target, a grey card and a scale; and the shadows all things
 * throw. */
#include <math.h>

#include "drawing.h"

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

/* A flat thing held in the picture: its own mm from its centre, turned. */
typedef struct {
    double x, y, cosine, sine;
} frame;

static frame frame_at(double x, double y, double degrees)
{
    const double angle = degrees * 3.14159265358979323846 / 180;
    return (frame){x, y, cos(angle), sin(angle)};
}

static scn_point to_px(const frame *f, const scn_scene *scene, double x, double y)
{
    return (scn_point){(f->x + x * f->cosine - y * f->sine) * scene->px_mm,
                       (f->y + x * f->sine + y * f->cosine) * scene->px_mm};
}

/* Coverage of a pixel by the rectangle of half sizes (a, b), round corners of radius r, all mm. */
static double inside(double x, double y, double a, double b, double r, double pixel)
{
    const double dx = fmax(fabs(x) - a + r, 0), dy = fmax(fabs(y) - b + r, 0);
    const double out = r > 0 ? hypot(dx, dy) - r : fmax(fabs(x) - a, fabs(y) - b);
    return fmin(1, fmax(0, 0.5 - out / pixel));
}

typedef scn_xyz (*surface)(double x, double y, double pixel, const void *data);

static void place(scn_image *image, const scn_scene *scene, const frame *f, double a, double b, double r,
                  surface paint, const void *data)
{
    const double reach = hypot(a, b) + 8, px = scene->px_mm, pixel = 1 / px;
    const size_t x0 = (size_t)fmax(0, floor((f->x - reach) * px)),
                 y0 = (size_t)fmax(0, floor((f->y - reach) * px));
    for (size_t iy = y0; iy < image->height && (double)iy < (f->y + reach) * px; iy++) {
        for (size_t ix = x0; ix < image->width && (double)ix < (f->x + reach) * px; ix++) {
            const double mx = ((double)ix + 0.5) / px - f->x, my = ((double)iy + 0.5) / px - f->y;
            const double x = mx * f->cosine + my * f->sine, y = my * f->cosine - mx * f->sine;
            float *out = image->xyz + 3 * (iy * image->width + ix);
            const double away = hypot(fmax(fabs(x - 1.2) - a, 0), fmax(fabs(y - 2.0) - b, 0));
            const double dark = 1 - 0.45 * exp(-away * away / 9), cover = inside(x, y, a, b, r, pixel);
            const scn_xyz own = cover > 0 ? paint(x, y, pixel, data) : (scn_xyz){{0, 0, 0}};
            for (int k = 0; k < 3; k++)
                out[k] = (float)((1 - cover) * dark * (double)out[k] + cover * own.v[k]);
        }
    }
}

static const double block_x = 105, block_y = 72, patch_share = 0.85;

static double pitch(double block, int count)
{
    return block / ((double)count - 1 + patch_share);
}

static scn_xyz target_surface(double x, double y, double pixel, const void *data)
{
    const scn_xyz *patches = data;
    const double px = pitch(block_x, 6), py = pitch(block_y, 4);
    const double hx = 0.5 * patch_share * px, hy = 0.5 * patch_share * py;
    const double u = (x + 0.5 * block_x - hx) / px, v = (y + 0.5 * block_y - hy) / py;
    const double column = fmin(5, fmax(0, round(u))), row = fmin(3, fmax(0, round(v)));
    const double cover = inside((u - column) * px, (v - row) * py, hx, hy, 0, pixel);
    const scn_xyz *patch = &patches[(size_t)(row * 6 + column)];
    scn_xyz out = scn_neutral(14);
    for (int k = 0; k < 3; k++)
        out.v[k] += cover * (patch->v[k] - out.v[k]);
    return out;
}

static void draw_target(scn_image *image, const scn_scene *scene, scn_point corners[4])
{
    scn_xyz patches[24];
    for (int i = 0; i < 24; i++) {
        const double *lab = scene->new_edition ? since_2014[i] : before_2014[i];
        patches[i] = scn_xyz_of((scn_lab){{lab[0], lab[1], lab[2]}});
    }
    const frame f = frame_at(335, 62, scene->target_turn);
    place(image, scene, &f, block_x / 2 + 5, block_y / 2 + 5, 2, target_surface, patches);
    static const double at[4][2] = {{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}};
    for (int i = 0; i < 4; i++)
        corners[i] = to_px(&f, scene, at[i][0] * block_x, at[i][1] * block_y);
}

static scn_xyz card_surface(double x, double y, double pixel, const void *data)
{
    (void)x, (void)y, (void)pixel, (void)data;
    return scn_neutral(50);
}

static void draw_card(scn_image *image, const scn_scene *scene, scn_point corners[4])
{
    static const double at[4][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
    const frame f = frame_at(336, 148, -0.8);
    place(image, scene, &f, 45, 30, 1.5, card_surface, NULL);
    for (int i = 0; i < 4; i++)
        corners[i] = to_px(&f, scene, at[i][0] * 38, at[i][1] * 23);
}

/* A white rule with a tick each mm, longer each 5 and 10; nought is 50 mm left of the middle. */
static scn_xyz rule_surface(double x, double y, double pixel, const void *data)
{
    (void)data;
    const double nearest = fmin(50, fmax(-50, round(x)));
    const long mm = lround(nearest) + 50;
    const double length = mm % 10 == 0 ? 7.5 : mm % 5 == 0 ? 5.5 : 3.5;
    const double half = mm % 10 == 0 ? 0.16 : 0.11;
    const double ink = inside(x - nearest, y + 9 - 0.5 * length, half, 0.5 * length, 0, pixel);
    const scn_xyz paper = scn_xyz_of((scn_lab){{90, 0, 2}}), black = scn_neutral(15);
    scn_xyz out;
    for (int k = 0; k < 3; k++)
        out.v[k] = paper.v[k] + ink * (black.v[k] - paper.v[k]);
    return out;
}

static void draw_rule(scn_image *image, const scn_scene *scene, scn_point ends[2])
{
    const frame f = frame_at(334, 208, 0.6);
    place(image, scene, &f, 56, 9, 1, rule_surface, NULL);
    ends[0] = to_px(&f, scene, -50, -9);
    ends[1] = to_px(&f, scene, 50, -9);
}

bool scn_props(scn_image *image, const scn_scene *scene, scn_places *places)
{
    if (scene->target)
        draw_target(image, scene, places->target);
    if (scene->grey)
        draw_card(image, scene, places->grey);
    if (scene->scale)
        draw_rule(image, scene, places->scale);
    return true;
}
