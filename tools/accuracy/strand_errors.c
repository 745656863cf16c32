/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "strand_errors.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

typedef struct check {
    const char *label, *figure, *truth;
    double share, least; /* an error beyond the larger of share x truth and least counts */
    bool narrow;         /* not told where it is narrower than least_px */
    const char *contrast;
} check;

static const double least_px = 3;
/* Where a part was drawn with less contrast than this, as above the line, nothing can be told of it. */
static const double least_contrast = 2;
/* Spacings vary by less than this share of their mean where ribbons are regular: for a reading without a
 * word. */
static const double regular_cv = 0.35;
/* Shares that may lie beyond, as the aims have them; 0.05 where they ask for all: single zones with a share
 * of 0.05 or a step of 3 L* hold few strands. */
/* Lights of such a contrast and share can't be overlooked. */
static const double clear_contrast = 6, clear_share = 0.1;
static const double most_beyond = 0.05, most_patterns = 0.05, most_apart = 0.02, most_missed = 0.05;

#define SHARE 0, 0.05, false
#define CONTRAST 0.1, 1, false
#define WIDTH 0.15, 0.4, true
static const check checks[STRAND_FIGURES] = {
    {"light share", "strands.light_share", "strands.light_share", SHARE, "strands.contrast_lstar"},
    {"contrast against unmixed", "strands.contrast_lstar", "strands.contrast_lstar", CONTRAST,
     "strands.contrast_lstar"},
    {"contrast against seen", "strands.contrast_lstar", "strands.seen_contrast_lstar", CONTRAST,
     "strands.contrast_lstar"},
    {"ribbon width", "strands.ribbon_mm.median", "strands.seen_ribbon_mm.median", WIDTH,
     "strands.contrast_lstar"},
    {"share, root", "strands.root.light_share", "strands.root.light_share", SHARE,
     "strands.root.contrast_lstar"},
    {"share, mid", "strands.mid.light_share", "strands.mid.light_share", SHARE, "strands.mid.contrast_lstar"},
    {"share, ends", "strands.ends.light_share", "strands.ends.light_share", SHARE,
     "strands.ends.contrast_lstar"},
    {"contrast, root", "strands.root.contrast_lstar", "strands.root.contrast_lstar", CONTRAST,
     "strands.root.contrast_lstar"},
    {"contrast, mid", "strands.mid.contrast_lstar", "strands.mid.contrast_lstar", CONTRAST,
     "strands.mid.contrast_lstar"},
    {"contrast, ends", "strands.ends.contrast_lstar", "strands.ends.contrast_lstar", CONTRAST,
     "strands.ends.contrast_lstar"},
    {"ribbon width, root", "strands.root.ribbon_mm", "strands.root.seen_ribbon_mm.median", WIDTH,
     "strands.root.contrast_lstar"},
    {"ribbon width, mid", "strands.mid.ribbon_mm", "strands.mid.seen_ribbon_mm.median", WIDTH,
     "strands.mid.contrast_lstar"},
    {"ribbon width, ends", "strands.ends.ribbon_mm", "strands.ends.seen_ribbon_mm.median", WIDTH,
     "strands.ends.contrast_lstar"},
};

const char *strand_label(size_t figure)
{
    return checks[figure].label;
}

/* NaN where the path of keys leads to no number. */
static double truth_of(json_t *zone, const char *path)
{
    char key[64];
    while (zone && *path) {
        const size_t length = strcspn(path, ".");
        (void)snprintf(key, sizeof key, "%.*s", (int)length, path);
        zone = json_object_get(zone, key);
        path += path[length] ? length + 1 : length;
    }
    return json_is_number(zone) ? json_number_value(zone) : NAN;
}

static double figure_of(const tdm_zone_reading *zone, const char *path)
{
    const tdm_figure *figure = tdm_figure_find(path);
    tdm_value found = {NAN, NAN};
    if (figure)
        (void)tdm_zone_value(zone, figure, &found);
    return found.value;
}

static void add_error(const check *of, double value, double truth, const char *where, strand_tally *into)
{
    const double error = fabs(value - truth);
    if (!isfinite(error)) {
        into->missing++;
        return;
    }
    into->read++;
    into->sum += error;
    into->beyond += error > fmax(of->share * fabs(truth), of->least);
    if (error >= into->worst) {
        into->worst = error;
        (void)snprintf(into->where, sizeof into->where, "%s", where);
    }
}

static void add_figures(const tdm_zone_reading *zone, json_t *truth, const strand_scene *scene,
                        const char *where, strand_tallies *into)
{
    for (size_t i = 0; i < STRAND_FIGURES; i++) {
        const check *of = &checks[i];
        const double drawn = truth_of(truth, of->truth);
        /* Of two kinds of lights the truth tells each one's contrast, a reading perhaps one. */
        if (scene->two && strstr(of->figure, "contrast"))
            continue;
        if (!tdm_figure_find(of->figure) || !isfinite(drawn) ||
            (of->narrow && drawn * scene->px_mm < least_px) ||
            !(fabs(truth_of(truth, of->contrast)) >= least_contrast))
            continue;
        add_error(of, figure_of(zone, of->figure), drawn, where, &into->of[i]);
    }
}

/* "regular", "random", or "" where it isn't told. */
static const char *pattern_of(const tdm_zone_reading *zone)
{
    const tdm_figure *figure = tdm_figure_find("strands.spacing_mm.pattern");
    const double cv = figure_of(zone, "strands.spacing_mm.cv");
    const char *word = figure ? tdm_zone_word(zone, figure) : NULL;
    if (figure)
        return word ? word : "";
    return !isfinite(cv) ? "" : cv < regular_cv ? "regular" : "random";
}

/* What a perfect reading of spacings would tell. */
static void add_drawn(json_t *truth, const strand_scene *scene, strand_tallies *into)
{
    const double cv = truth_of(truth, "strands.seen_spacing_mm.cv");
    if (scene->two || !isfinite(cv))
        return;
    into->drawn++;
    into->drawn_wrong += (cv < regular_cv) != scene->regular;
}

static bool apart_of(const tdm_zone_reading *zone)
{
    bool apart = false;
    (void)tdm_zone_flag(zone, tdm_figure_find("strands.separable"), &apart);
    return apart;
}

static void print_zone(const tdm_zone_reading *zone, json_t *truth, const strand_scene *scene,
                       const char *where)
{
    printf("%-44s %s %-7s ", where, apart_of(zone) ? "apart" : "one  ", pattern_of(zone));
    for (size_t i = 0; scene->lit && i < STRAND_MAIN; i++)
        printf(" %s %.2f read %.2f;", checks[i].label, truth_of(truth, checks[i].truth),
               figure_of(zone, checks[i].figure));
    printf(" spacing %.1f (cv %.2f, %s) read %.1f (cv %.2f)\n",
           truth_of(truth, "strands.seen_spacing_mm.median"), truth_of(truth, "strands.seen_spacing_mm.cv"),
           scene->regular ? "regular" : "random", figure_of(zone, "strands.spacing_mm.median"),
           figure_of(zone, "strands.spacing_mm.cv"));
}

void strand_add(const tdm_zone_reading *zone, json_t *truth, const strand_scene *scene, const char *where,
                bool verbose, strand_tallies *into)
{
    const char *pattern = pattern_of(zone);
    const bool apart = apart_of(zone);
    into->zones++;
    if (scene->lit) {
        into->lit++;
        into->lit_apart += apart;
        if (truth_of(truth, "strands.contrast_lstar") >= clear_contrast &&
            truth_of(truth, "strands.light_share") >= clear_share) {
            into->clear++;
            into->missed += !apart;
        }
        add_figures(zone, truth, scene, where, into);
        add_drawn(truth, scene, into);
        if (pattern[0] && !scene->two) {
            into->patterns++;
            into->wrong_patterns += strcmp(pattern, scene->regular ? "regular" : "random") != 0;
        }
    } else {
        into->plain++;
        into->apart += apart;
    }
    if (verbose)
        print_zone(zone, truth, scene, where);
}

void strand_join(const strand_tallies *from, strand_tallies *to)
{
    to->zones += from->zones;
    to->lit += from->lit;
    to->patterns += from->patterns;
    to->wrong_patterns += from->wrong_patterns;
    to->drawn += from->drawn;
    to->drawn_wrong += from->drawn_wrong;
    to->plain += from->plain;
    to->apart += from->apart;
    to->lit_apart += from->lit_apart;
    to->clear += from->clear;
    to->missed += from->missed;
    for (size_t i = 0; i < STRAND_FIGURES; i++) {
        const strand_tally *a = &from->of[i];
        strand_tally *b = &to->of[i];
        b->read += a->read;
        b->missing += a->missing;
        b->beyond += a->beyond;
        b->sum += a->sum;
        if (a->worst > b->worst) {
            b->worst = a->worst;
            memcpy(b->where, a->where, sizeof b->where);
        }
    }
}

static bool few(size_t off, size_t of, double share)
{
    return (double)off <= share * (double)of;
}

/* The contrast may be the seen or the unmixed one, throughout. */
bool strand_within(const strand_tallies *it)
{
    bool good = few(it->wrong_patterns, it->patterns, most_patterns) &&
                few(it->apart, it->plain, most_apart) && few(it->missed, it->clear, most_missed) &&
                (few(it->of[1].beyond, it->of[1].read, most_beyond) ||
                 few(it->of[2].beyond, it->of[2].read, most_beyond));
    for (size_t i = 0; i < STRAND_FIGURES; i++)
        good = good && (i == 1 || i == 2 || few(it->of[i].beyond, it->of[i].read, most_beyond));
    return good;
}
