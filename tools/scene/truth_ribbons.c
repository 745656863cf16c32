/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The truth of ribbons as they were drawn and show: cuts across the hair, runs of mostly light hair in them.
 */
#include <math.h>
#include <stdlib.h>

#include "truth.h"

/* Cuts and samples apart by these; light hair is averaged over such a length along the strands; a gap or run
   that is narrower isn't one. */
static const double cut_mm = 1, sample_mm = 0.1, along_mm = 2, least_mm = 0.5;

enum { least_spacings = 3 }; /* in a cut, on the mean */

/* Light hair and cover of a place between pixels' middles, added by a weight. */
static void add_place(const scn_canvas *canvas, scn_point at, double weight, double *light, double *cover)
{
    const double x = at.x - (double)canvas->left - 0.5, y = at.y - (double)canvas->top - 0.5;
    if (!(x >= 0 && y >= 0 && x < (double)canvas->width - 1 && y < (double)canvas->height - 1))
        return;
    const size_t i = (size_t)x, j = (size_t)y;
    const double a = x - (double)i, b = y - (double)j;
    const double parts[4] = {(1 - a) * (1 - b), a * (1 - b), (1 - a) * b, a * b};
    for (size_t k = 0; k < 4; k++) {
        const size_t pixel = scn_canvas_at(canvas, i + k % 2, j + k / 2);
        *light += weight * parts[k] * (double)canvas->pixels[pixel].v[SCN_LIGHT];
        *cover += weight * parts[k] * (double)canvas->cover[pixel];
    }
}

/* Share of light hair along the strand that passes there; 0 where there is none. */
static double light_at(const scn_canvas *canvas, const scn_path *path, double s, double across, double slope)
{
    static const double weights[] = {0.5, 1, 1, 1, 0.5};
    double light = 0, cover = 0;
    for (int k = 0; k < 5; k++) {
        const double run = along_mm * (k - 2) / 4 / hypot(1, slope);
        add_place(canvas, scn_path_at(path, s + run, across + run * slope), weights[k], &light, &cover);
    }
    return cover > 0.2 ? light / cover : 0;
}

/* The edges of runs above one half, between samples; returns how many runs there are. */
static size_t find_runs(const double *light, size_t count, double half_mm, scn_run *runs)
{
    size_t found = 0;
    for (size_t i = 0; i < count; i++) {
        const bool in = light[i] > 0.5, was = i > 0 && light[i - 1] > 0.5;
        const double step = i > 0 && in != was ? (light[i] - 0.5) / (light[i] - light[i - 1]) : 0;
        const double edge = ((double)i - step) * sample_mm - half_mm;
        if (in && !was)
            runs[found++] = (scn_run){.low = edge, .cut = i == 0};
        if (was && !in)
            runs[found - 1].high = edge;
        if (in && i + 1 == count) {
            runs[found - 1].high = half_mm;
            runs[found - 1].cut = true;
        }
    }
    return found;
}

static double across_strands(const scn_way_sums *ways, double s, double across)
{
    return 1 / hypot(1, scn_slope_at(ways, s, across));
}

/* Narrow gaps are closed, then narrow runs dropped; widths are across the strands. */
static size_t tidy_runs(const scn_way_sums *ways, double s, scn_run *runs, size_t count)
{
    size_t closed = 0, kept = 0;
    for (size_t i = 0; i < count; i++) {
        const double cosine = across_strands(ways, s, runs[i].low);
        if (closed > 0 && (runs[i].low - runs[closed - 1].high) * cosine < least_mm) {
            runs[closed - 1].high = runs[i].high;
            runs[closed - 1].cut = runs[closed - 1].cut || runs[i].cut;
        } else
            runs[closed++] = runs[i];
    }
    for (size_t i = 0; i < closed; i++) {
        scn_run run = runs[i];
        run.s = s;
        run.cosine = across_strands(ways, s, 0.5 * (run.low + run.high));
        run.first = kept == 0;
        if ((run.high - run.low) * run.cosine >= least_mm)
            runs[kept++] = run;
    }
    return kept;
}

static void cut_at(scn_runs *runs, const scn_path *path, const scn_way_sums *ways, const scn_canvas *canvas,
                   size_t cut, double *light, size_t samples)
{
    const double s = ((double)cut + 0.5) * cut_mm;
    double cosines = 0;
    for (size_t i = 0; i < samples; i++) {
        const double across = (double)i * sample_mm - path->half_mm, slope = scn_slope_at(ways, s, across);
        light[i] = light_at(canvas, path, s, across, slope);
        cosines += 1 / hypot(1, slope);
    }
    const size_t found = find_runs(light, samples, path->half_mm, runs->runs + runs->count);
    runs->count += tidy_runs(ways, s, runs->runs + runs->count, found);
    runs->cosines[cut] = cosines / (double)samples;
}

bool scn_runs_make(scn_runs *runs, const scn_zone *zone, const scn_path *path, const scn_way_sums *ways,
                   const scn_canvas *canvas)
{
    const size_t samples = (size_t)lround(zone->width / sample_mm) + 1;
    *runs = (scn_runs){.cuts = (size_t)floor(zone->length / cut_mm), .width_mm = zone->width};
    double *light = calloc(samples, sizeof *light);
    /* Before narrow ones go, every other sample may start a run. */
    runs->runs = calloc(runs->cuts * (size_t)ceil(zone->width / least_mm + 2) + samples, sizeof *runs->runs);
    runs->cosines = calloc(runs->cuts, sizeof *runs->cosines);
    const bool good = light && runs->runs && runs->cosines;
    for (size_t cut = 0; good && cut < runs->cuts; cut++)
        cut_at(runs, path, ways, canvas, cut, light, samples);
    free(light);
    return good || scn_fail(zone->name, "out of memory");
}

void scn_runs_free(scn_runs *runs)
{
    free(runs->runs);
    free(runs->cosines);
    *runs = (scn_runs){0};
}

static int ascending(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The least value up to which the values, each weighted by itself or all alike, reach a share. */
static double quantile(const double *sorted, size_t count, double share, bool by_width)
{
    double all = 0, sum = 0;
    for (size_t i = 0; i < count; i++)
        all += by_width ? sorted[i] : 1;
    for (size_t i = 0; i < count; i++) {
        sum += by_width ? sorted[i] : 1;
        if (sum >= share * all)
            return sorted[i];
    }
    return NAN;
}

static json_t *widths_json(double *widths, size_t count)
{
    if (count == 0)
        return json_null();
    qsort(widths, count, sizeof *widths, ascending);
    return json_pack("{s:f, s:f, s:f}", "median", quantile(widths, count, 0.5, true), "p25",
                     quantile(widths, count, 0.25, true), "p75", quantile(widths, count, 0.75, true));
}

/* Few spacings, the same from cut to cut, say nothing of how uneven they are. */
static json_t *spacings_json(double *spacings, size_t count, size_t cuts)
{
    double sum = 0, squares = 0;
    if (count < 2)
        return json_null();
    qsort(spacings, count, sizeof *spacings, ascending);
    for (size_t i = 0; i < count; i++)
        sum += spacings[i];
    const double mean = sum / (double)count;
    for (size_t i = 0; i < count; i++)
        squares += (spacings[i] - mean) * (spacings[i] - mean);
    const double cv = count < least_spacings * cuts ? NAN : sqrt(squares / (double)(count - 1)) / mean;
    return json_pack("{s:f, s:o}", "median", quantile(spacings, count, 0.5, false), "cv",
                     scn_number_json(cv));
}

/* A run cut by the zone's edge counts half. */
static double runs_in(const scn_runs *runs, scn_stretch stretch)
{
    double number = 0, width = 0;
    for (size_t i = 0; i < runs->count; i++) {
        const scn_run *run = &runs->runs[i];
        if (run->s >= stretch.from && run->s < stretch.to)
            number += run->cut ? 0.5 : 1;
    }
    for (size_t cut = 0; cut < runs->cuts; cut++) {
        const double s = ((double)cut + 0.5) * cut_mm;
        if (s >= stretch.from && s < stretch.to)
            width += runs->width_mm * runs->cosines[cut];
    }
    return width > 0 ? 100 * number / width : NAN;
}

bool scn_tell_runs(json_t *to, const scn_runs *runs, scn_stretch stretch)
{
    double *widths = calloc(runs->count + 1, sizeof *widths),
           *spacings = calloc(runs->count + 1, sizeof *spacings);
    size_t width_count = 0, spacing_count = 0, cuts = 0;
    bool good = widths && spacings;
    for (size_t cut = 0; cut < runs->cuts; cut++) {
        const double s = ((double)cut + 0.5) * cut_mm;
        cuts += s >= stretch.from && s < stretch.to;
    }
    for (size_t i = 0; good && i < runs->count; i++) {
        const scn_run *run = &runs->runs[i], *last = run - (i > 0);
        if (run->s < stretch.from || run->s >= stretch.to || run->cut)
            continue;
        widths[width_count++] = (run->high - run->low) * run->cosine;
        if (!run->first && !last->cut)
            spacings[spacing_count++] =
                0.5 * (run->low + run->high - last->low - last->high) * 0.5 * (run->cosine + last->cosine);
    }
    good = good && json_object_set_new(to, "seen_ribbon_mm", widths_json(widths, width_count)) == 0 &&
           json_object_set_new(to, "seen_spacing_mm", spacings_json(spacings, spacing_count, cuts)) == 0 &&
           json_object_set_new(to, "seen_count_per_100mm", scn_number_json(runs_in(runs, stretch))) == 0;
    free(widths);
    free(spacings);
    return good;
}
