/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is held beside the hair: the 24-patch target, grey cards, a scale, swatches. */
#include <math.h>

#include "sheet.h"

static scn_xyz card_surface(double x, double y, double pixel, const void *data)
{
    (void)x, (void)y, (void)pixel;
    return scn_neutral(*(const double *)data);
}

static void draw_card(scn_image *image, const scn_scene *scene, scn_point corners[4])
{
    static const double lstar = 50;
    const scn_sheet f = scn_sheet_at(336, 148, -0.8);
    scn_sheet_draw(image, scene, &f, 45, 30, 1.5, card_surface, &lstar);
    scn_sheet_corners(&f, scene, 38, 23, corners);
}

/* Marked well inside; to the very edge where the mark says how wide the card is. */
static void draw_grey(scn_image *image, const scn_scene *scene, const scn_card *card, scn_point corners[4])
{
    const scn_sheet f = scn_sheet_at(card->at.x, card->at.y, card->turn);
    const double a = 0.5 * card->width, b = 0.5 * card->height, share = card->in_marks_width ? 1 : 0.84;
    scn_sheet_draw(image, scene, &f, a, b, 0, card_surface, &card->lstar);
    scn_sheet_corners(&f, scene, a * share, b * share, corners);
}

/* A white rule with a tick each mm, longer each 5 and 10; nought is 50 mm left of the middle. */
static scn_xyz rule_surface(double x, double y, double pixel, const void *data)
{
    (void)data;
    const double nearest = fmin(50, fmax(-50, round(x)));
    const long mm = lround(nearest) + 50;
    const double length = mm % 10 == 0 ? 7.5 : mm % 5 == 0 ? 5.5 : 3.5;
    const double half = mm % 10 == 0 ? 0.16 : 0.11;
    const double ink = scn_inside(x - nearest, y + 9 - 0.5 * length, half, 0.5 * length, 0, pixel);
    const scn_xyz paper = scn_xyz_of((scn_lab){{90, 0, 2}}), black = scn_neutral(15);
    scn_xyz out;
    for (int k = 0; k < 3; k++)
        out.v[k] = paper.v[k] + ink * (black.v[k] - paper.v[k]);
    return out;
}

static void draw_rule(scn_image *image, const scn_scene *scene, scn_point ends[2])
{
    const scn_sheet f = scn_sheet_at(scene->scale_at.x, scene->scale_at.y, 0.6);
    scn_sheet_draw(image, scene, &f, 56, 9, 1, rule_surface, NULL);
    ends[0] = scn_sheet_px(&f, scene, -50, -9);
    ends[1] = scn_sheet_px(&f, scene, 50, -9);
}

bool scn_props(scn_image *image, const scn_scene *scene, scn_places *places)
{
    if (scene->target)
        scn_draw_target(image, scene, places->target);
    if (scene->grey)
        draw_card(image, scene, places->grey);
    if (scene->scale)
        draw_rule(image, scene, places->scale);
    for (size_t i = 0; i < scene->card_count; i++)
        draw_grey(image, scene, &scene->cards[i], places->cards[i]);
    for (size_t i = 0; i < scene->swatch_count; i++)
        scn_draw_swatch(image, scene, i, places);
    return true;
}
