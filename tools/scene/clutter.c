/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Things of the room, laid where hair, face, target, cards and rule aren't. */
#include "clutter.h"

#include <math.h>

enum {
    MOST_THINGS = 14,
    MOST_TRIES = 400,
    MOST_TAKEN = 8 + SCN_MOST_CARDS + SCN_MOST_SWATCHES + MOST_THINGS
};

/* Places that are taken: a circle each, or a box. */
typedef struct {
    double left, top, right, bottom; /* mm */
} box;

typedef struct {
    box taken[MOST_TAKEN];
    size_t count;
} room;

static void take(room *r, double x, double y, double half_x, double half_y)
{
    if (r->count < MOST_TAKEN)
        r->taken[r->count++] = (box){x - half_x, y - half_y, x + half_x, y + half_y};
}

static bool is_free(const room *r, double x, double y, double half_x, double half_y)
{
    for (size_t i = 0; i < r->count; i++) {
        const box *b = &r->taken[i];
        if (x + half_x > b->left && x - half_x < b->right && y + half_y > b->top && y - half_y < b->bottom)
            return false;
    }
    return true;
}

/* Half sizes of the box around a turned rectangle. */
static scn_point spread(double a, double b, double degrees)
{
    const double angle = degrees * 3.14159265358979323846 / 180, c = fabs(cos(angle)), s = fabs(sin(angle));
    return (scn_point){a * c + b * s, a * s + b * c};
}

static void take_held(room *r, const scn_scene *scene)
{
    const double gap = 3;
    if (scene->target) {
        const double k = scene->held.width / 105;
        /* Tilted it is smaller, but for what perspective adds. */
        const scn_point p = spread(57.5 * k, 41 * k, scene->held.turn);
        take(r, scene->held.at.x, scene->held.at.y, 1.1 * p.x + gap, 1.1 * p.y + gap);
    }
    if (scene->grey)
        take(r, 336, 148, 46 + gap, 31 + gap);
    if (scene->scale)
        take(r, scene->scale_at.x, scene->scale_at.y, 57 + gap, 10 + gap);
    for (size_t i = 0; i < scene->card_count; i++) {
        const scn_card *card = &scene->cards[i];
        const scn_point p = spread(0.5 * card->width, 0.5 * card->height, card->turn);
        take(r, card->at.x, card->at.y, p.x + gap, p.y + gap);
    }
    for (size_t i = 0; i < scene->swatch_count; i++) {
        const scn_swatch *swatch = &scene->swatches[i];
        const scn_point p = spread(0.5 * swatch->width, 0.5 * swatch->height, swatch->turn);
        take(r, swatch->at.x, swatch->at.y, p.x + gap, p.y + gap);
    }
}

static void take_head(room *r, const scn_scene *scene, const scn_canvas *hair)
{
    const double px = scene->px_mm, inset = 10; /* the canvas is wider than the hair */
    const double left = (double)hair->left / px + inset, top = (double)hair->top / px + inset;
    const double right = (double)(hair->left + hair->width) / px - inset;
    const double bottom = (double)(hair->top + hair->height) / px - inset;
    take(r, 0.5 * (left + right), 0.5 * (top + bottom), 0.5 * (right - left), 0.5 * (bottom - top));
    take(r, 30 + scene->dx, 155 + scene->dy, 40, 110); /* face and neck */
}

static void lay_thing(room *r, scn_image *image, const scn_scene *scene, scn_random *random)
{
    const double across = (double)scene->width / scene->px_mm, down = (double)scene->height / scene->px_mm;
    const int kind = (int)(scn_random_bits(random) % SCN_CLUTTER_KINDS);
    scn_thing thing = {.kind = (scn_clutter_kind)kind, .seed = (int)(scn_random_bits(random) % 10007)};
    const double turn =
        scn_uniform(random, 0, 1) < 0.5 ? scn_uniform(random, -4, 4) : scn_uniform(random, -90, 90);
    const double proportion = scn_uniform(random, 0.45, 0.9);
    for (int i = 0; i < MOST_TRIES; i++) {
        /* Large ones are tried first. */
        thing.a = 0.16 * across * exp(-1.6 * i / MOST_TRIES);
        thing.b = thing.a * proportion;
        const double x = scn_uniform(random, 0, across), y = scn_uniform(random, 0, down);
        const scn_point p = spread(thing.a, thing.b, turn);
        if (!is_free(r, x, y, p.x, p.y))
            continue;
        const scn_sheet sheet = scn_sheet_tilted(scn_sheet_at(x, y, turn), scn_uniform(random, -25, 25),
                                                 scn_uniform(random, 0, 180));
        scn_sheet_draw(image, scene, &sheet, thing.a, thing.b, 0, scn_thing_surface, &thing);
        take(r, x, y, p.x + 2, p.y + 2);
        return;
    }
}

void scn_clutter(scn_image *image, const scn_scene *scene, const scn_canvas *hair)
{
    room r = {.count = 0};
    const int count = (int)lround(scene->clutter * MOST_THINGS);
    scn_random random = scn_random_start(scene->clutter_seed, 61);
    take_held(&r, scene);
    if (hair)
        take_head(&r, scene, hair);
    for (int i = 0; i < count; i++)
        lay_thing(&r, image, scene, &random);
}
