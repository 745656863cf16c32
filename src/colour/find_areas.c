/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Connected components in one pass from top to bottom. Only those that reach the row at work are kept in
 * hand; one that has ended is judged by its moments. */
#include "colour/find_areas.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { FEWEST_PIXELS = 8, MOST_AREAS = 100000 };
/* A parallelogram's area is 12 times the root of its moments' determinant; an ellipse's is 12.57 times, a
 * triangle's 10.4 times, and what is ragged or bent has less. */
static const double least_compact = 9.6, most_compact = 13.5;
static const double longest = 2.6; /* sides' ratio: 45 degrees of tilt and a pixel lost at each edge */
static const double largest_share = 1 / 30.0; /* of the picture */

/* Sums over the pixels of a component, or the way to the one that it joined. */
typedef struct part {
    uint32_t into; /* its own index, or an earlier one's */
    double n, x, y, xx, xy, yy;
} part;

typedef struct sweep {
    const tdm_find_picture *picture;
    int step;
    tdm_find_areas *areas;
    uint8_t *across, *above;   /* of a row: whether the pixel joins its left and its upper neighbour */
    uint32_t *labels, *before; /* parts of this row's pixels, and of the last one's */
    part *parts, *next;        /* twice the width each: those of the last row, then new ones */
    uint32_t *renamed;
    uint32_t count;
} sweep;

static void compare(const uint8_t *const a[3], const uint8_t *const b[3], size_t count, int step,
                    uint8_t *out)
{
    for (size_t x = 0; x < count; x++) {
        const int red = abs(a[0][x] - b[0][x]), green = abs(a[1][x] - b[1][x]), blue = abs(a[2][x] - b[2][x]);
        out[x] = (uint8_t)((red <= step) & (green <= step) & (blue <= step));
    }
}

static void compare_row(const sweep *s, uint32_t y)
{
    const uint8_t *row[3], *left[3], *up[3];
    const size_t width = s->picture->width;
    for (int k = 0; k < 3; k++) {
        row[k] = s->picture->planes[k] + y * width;
        left[k] = row[k] + 1;
        up[k] = y > 0 ? row[k] - width : row[k];
    }
    s->across[0] = 0;
    compare(left, row, width - 1, s->step, s->across + 1);
    compare(row, up, width, s->step, s->above);
}

static uint32_t root(part *parts, uint32_t at)
{
    while (parts[at].into != at) {
        parts[at].into = parts[parts[at].into].into;
        at = parts[at].into;
    }
    return at;
}

static void join(part *parts, uint32_t a, uint32_t b)
{
    a = root(parts, a);
    b = root(parts, b);
    if (a == b)
        return;
    part *to = &parts[a < b ? a : b], *from = &parts[a < b ? b : a];
    from->into = a < b ? a : b;
    to->n += from->n;
    to->x += from->x;
    to->y += from->y;
    to->xx += from->xx;
    to->xy += from->xy;
    to->yy += from->yy;
}

/* Sums of x over from to before end, and of its square: Faulhaber. */
static double sum(double from, double end)
{
    return (end * (end - 1) - from * (from - 1)) / 2;
}

static double sum_of_squares(double from, double end)
{
    return ((end - 1) * end * (2 * end - 1) - (from - 1) * from * (2 * from - 1)) / 6;
}

static part of_run(uint32_t label, uint32_t from, uint32_t end, uint32_t row)
{
    const double n = end - from, y = row, x = sum(from, end);
    return (part){label, n, x, n * y, sum_of_squares(from, end), x * y, n * y * y};
}

static void add_run(sweep *s, uint32_t from, uint32_t end, uint32_t y)
{
    const uint32_t label = s->count++;
    uint32_t joined = UINT32_MAX; /* the last of the row above, mostly the same for many pixels */
    s->parts[label] = of_run(label, from, end, y);
    for (uint32_t x = from; x < end; x++) {
        s->labels[x] = label;
        if (y > 0 && s->above[x] && s->before[x] != joined) {
            joined = s->before[x];
            join(s->parts, joined, label);
        }
    }
}

static bool is_compact(const tdm_find_area *area)
{
    const double determinant = area->xx * area->yy - area->xy * area->xy;
    const double half = (area->xx + area->yy) / 2;
    const double root_of = sqrt(fmax(half * half - determinant, 0));
    const double compact = area->pixels / sqrt(determinant);
    return compact >= least_compact && compact <= most_compact &&
           half + root_of <= longest * longest * (half - root_of);
}

static bool end_part(sweep *s, const part *p)
{
    const double most = largest_share * s->picture->width * s->picture->height;
    if (p->n < FEWEST_PIXELS || p->n > most || s->areas->count == MOST_AREAS)
        return true;
    const double x = p->x / p->n, y = p->y / p->n;
    /* A pixel is a square, whose own moments are 1/12; its middle is half a pixel from its left. */
    const tdm_find_area area = {x + 0.5,
                                y + 0.5,
                                p->xx / p->n - x * x + 1 / 12.0,
                                p->xy / p->n - x * y,
                                p->yy / p->n - y * y + 1 / 12.0,
                                p->n};
    if (!is_compact(&area))
        return true;
    if (s->areas->count == s->areas->room) {
        const size_t room = s->areas->room ? 2 * s->areas->room : 256;
        tdm_find_area *at = realloc(s->areas->at, room * sizeof *at);
        if (!at)
            return false;
        s->areas->at = at;
        s->areas->room = room;
    }
    s->areas->at[s->areas->count++] = area;
    return true;
}

/* Keeps what reaches this row, under new names, and ends the rest. */
static bool end_row(sweep *s, bool last)
{
    uint32_t kept = 0, run = UINT32_MAX, name = 0;
    memset(s->renamed, 0xff, s->count * sizeof *s->renamed);
    for (uint32_t x = 0; x < s->picture->width && !last; x++) {
        if (s->labels[x] != run) {
            run = s->labels[x];
            const uint32_t at = root(s->parts, run);
            if (s->renamed[at] == UINT32_MAX) {
                s->next[kept] = s->parts[at];
                s->next[kept].into = kept;
                s->renamed[at] = kept++;
            }
            name = s->renamed[at];
        }
        s->labels[x] = name;
    }
    for (uint32_t i = 0; i < s->count; i++) {
        if (s->parts[i].into == i && s->renamed[i] == UINT32_MAX && !end_part(s, &s->parts[i]))
            return false;
    }
    part *const parts = s->parts;
    uint32_t *const labels = s->labels;
    s->parts = s->next;
    s->next = parts;
    s->labels = s->before;
    s->before = labels;
    s->count = kept;
    return true;
}

static bool sweep_rows(sweep *s)
{
    const uint32_t width = s->picture->width;
    for (uint32_t y = 0; y < s->picture->height; y++) {
        compare_row(s, y);
        for (uint32_t from = 0, x = 1; x <= width; x++) {
            if (x < width && s->across[x])
                continue;
            add_run(s, from, x, y);
            from = x;
        }
        if (!end_row(s, y + 1 == s->picture->height))
            return false;
    }
    return true;
}

bool tdm_find_areas_add(const tdm_find_picture *picture, int step, tdm_find_areas *areas)
{
    const size_t width = picture->width;
    sweep s = {.picture = picture, .step = step, .areas = areas};
    s.across = malloc(width);
    s.above = malloc(width);
    s.labels = malloc(width * sizeof *s.labels);
    s.before = malloc(width * sizeof *s.before);
    s.renamed = malloc(2 * width * sizeof *s.renamed);
    s.parts = malloc(2 * width * sizeof *s.parts);
    s.next = malloc(2 * width * sizeof *s.next);
    const bool done =
        s.across && s.above && s.labels && s.before && s.renamed && s.parts && s.next && sweep_rows(&s);
    free(s.across);
    free(s.above);
    free(s.labels);
    free(s.before);
    free(s.renamed);
    free(s.parts);
    free(s.next);
    return done;
}

void tdm_find_areas_free(tdm_find_areas *areas)
{
    free(areas->at);
    *areas = (tdm_find_areas){0};
}
