/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/ribbon_track.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "base/fail.h"

/* Choices. */
static const double least_overlap = 0.5; /* of the narrower */
enum { MOST_MISSED = 2 };                /* windows in which a ribbon may hide */

/* A ribbon under way, its edges put forward to the window at hand. */
typedef struct thread {
    double left, right;
    size_t name, missed;
    size_t best; /* run of this window that overlaps most, or SIZE_MAX */
} thread;

typedef struct tracks {
    const tdm_strand_grid *grid;
    const tdm_run_table *table;
    double cell;
    thread *threads;
    size_t *name; /* of each run: the ribbon that it is part of */
    size_t count, names;
} tracks;

static double overlap(const thread *of, const tdm_run *run)
{
    const double common = fmin(of->right, run->right) - fmax(of->left, run->left);
    const double narrower = fmin(of->right - of->left, run->right - run->left);
    return common >= least_overlap * narrower ? common : 0;
}

static void find_best_runs(tracks *of, size_t window)
{
    for (size_t i = 0; i < of->count; i++) {
        thread *at = of->threads + i;
        double most = 0;
        at->best = SIZE_MAX;
        for (size_t run = of->table->first[window]; run < of->table->first[window + 1]; run++) {
            const double common = overlap(at, of->table->runs + run);
            if (common > most) {
                most = common;
                at->best = run;
            }
        }
    }
}

/* The thread whose best run it is and which overlaps it most; SIZE_MAX for none. */
static size_t best_thread(const tracks *of, size_t run)
{
    size_t best = SIZE_MAX;
    double most = 0;
    for (size_t i = 0; i < of->count; i++) {
        const double common = overlap(of->threads + i, of->table->runs + run);
        if (of->threads[i].best == run && common > most) {
            most = common;
            best = i;
        }
    }
    return best;
}

static void take_run(tracks *of, size_t run)
{
    const size_t found = best_thread(of, run);
    thread *to = of->threads + (found == SIZE_MAX ? of->count : found);
    if (found == SIZE_MAX) {
        *to = (thread){.name = of->names++, .best = SIZE_MAX};
        of->count++;
    }
    to->left = of->table->runs[run].left;
    to->right = of->table->runs[run].right;
    to->missed = 0;
    of->name[run] = to->name;
}

/* To the next window; those that were missed too often end. */
static void step_forward(tracks *of, size_t window)
{
    size_t kept = 0;
    for (size_t i = 0; i < of->count; i++) {
        thread at = of->threads[i];
        if (at.missed++ > MOST_MISSED)
            continue;
        at.left = tdm_grid_follow(of->grid, of->cell, window, at.left, 1);
        at.right = tdm_grid_follow(of->grid, of->cell, window, at.right, 1);
        of->threads[kept++] = at;
    }
    of->count = kept;
}

static void link_runs(tracks *of)
{
    for (size_t window = 0; window < of->table->windows; window++) {
        find_best_runs(of, window);
        for (size_t run = of->table->first[window]; run < of->table->first[window + 1]; run++)
            take_run(of, run);
        step_forward(of, window);
    }
}

/* First window and number of windows of each ribbon. */
static void find_spans(const tracks *of, tdm_ribbon *ribbons)
{
    for (size_t window = 0; window < of->table->windows; window++) {
        for (size_t run = of->table->first[window]; run < of->table->first[window + 1]; run++) {
            tdm_ribbon *ribbon = ribbons + of->name[run];
            if (ribbon->windows == 0)
                ribbon->first = window;
            ribbon->windows = window + 1 - ribbon->first;
        }
    }
}

/* Windows in which a ribbon hid get what lies between their neighbours. */
static void close_gaps(tdm_ribbon *ribbon)
{
    size_t seen = 0;
    for (size_t i = 1; i < ribbon->windows; i++) {
        if (!isfinite(ribbon->edges[2 * i]))
            continue;
        for (size_t between = seen + 1; between < i; between++) {
            const double part = (double)(between - seen) / (double)(i - seen);
            for (size_t k = 0; k < 2; k++)
                ribbon->edges[2 * between + k] =
                    ribbon->edges[2 * seen + k] +
                    part * (ribbon->edges[2 * i + k] - ribbon->edges[2 * seen + k]);
        }
        seen = i;
    }
}

static bool fill_edges(const tracks *of, size_t least, tdm_ribbon *ribbons)
{
    for (size_t i = 0; i < of->names; i++) {
        tdm_ribbon *ribbon = ribbons + i;
        ribbon->start = ribbon->onset = NAN;
        if (ribbon->windows < least)
            continue;
        ribbon->edges = malloc(2 * ribbon->windows * sizeof *ribbon->edges);
        if (!ribbon->edges)
            return false;
        for (size_t k = 0; k < 2 * ribbon->windows; k++)
            ribbon->edges[k] = NAN;
    }
    for (size_t window = 0; window < of->table->windows; window++) {
        for (size_t run = of->table->first[window]; run < of->table->first[window + 1]; run++) {
            const tdm_ribbon *ribbon = ribbons + of->name[run];
            if (!ribbon->edges)
                continue;
            ribbon->edges[2 * (window - ribbon->first)] = of->table->runs[run].left;
            ribbon->edges[2 * (window - ribbon->first) + 1] = of->table->runs[run].right;
        }
    }
    for (size_t i = 0; i < of->names; i++) {
        if (ribbons[i].edges)
            close_gaps(ribbons + i);
    }
    return true;
}

tdm_code tdm_ribbon_track(const tdm_strand_grid *grid, const tdm_run_table *table, double cell, size_t least,
                          tdm_ribbon **out, size_t *count, tdm_error *error)
{
    const size_t runs = table->first[table->windows] + 1;
    tracks of = {.grid = grid, .table = table, .cell = cell};
    of.threads = malloc(runs * sizeof *of.threads);
    of.name = calloc(runs, sizeof *of.name);
    tdm_ribbon *ribbons = calloc(runs, sizeof *ribbons);
    bool good = of.threads && of.name && ribbons;
    if (good) {
        link_runs(&of);
        find_spans(&of, ribbons);
        good = fill_edges(&of, least > 1 ? least : 1, ribbons);
    }
    size_t kept = 0;
    for (size_t i = 0; ribbons && i < of.names; i++) {
        if (ribbons[i].edges)
            ribbons[kept++] = ribbons[i];
    }
    free(of.threads);
    free(of.name);
    if (!good) {
        for (size_t i = 0; i < kept; i++)
            free(ribbons[i].edges);
        free(ribbons);
        return tdm_fail_memory(error, NULL);
    }
    *out = ribbons;
    *count = kept;
    return TDM_OK;
}
