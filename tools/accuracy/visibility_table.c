/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How d' falls with a line's width, its stagger and its step: on strips made of formulas, with strands for
 * texture. Prints the table of METHODS.md and writes the plot beside it. */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "colour/lab.h"
#include "measure/visibility.h"

enum { DISTANCES = 3, POINTS = 9, SWEEPS = 3, STRANDS = 32, LOCKS = 16 };
static const double distances[DISTANCES] = {0.6, 1.2, 3};
static const double length = 240, width = 80, cell = 0.25; /* mm */
static const double strand_sd = 3;                         /* L*, strands 2.5 mm wide */

typedef struct line {
    double step, width, stagger; /* L*, mm, mm */
} line;

typedef struct sweep {
    const char *title, *axis;
    double most; /* d' at the plot's top */
    line base;   /* what isn't swept */
    double at[POINTS];
    double dprime[POINTS][DISTANCES];
} sweep;

static const sweep plan[SWEEPS] = {
    {.title = "width of the fall, mm",
     .axis = "width, mm (step 15 L*, no stagger)",
     .most = 8,
     .base = {.step = 15},
     .at = {3, 6, 10, 15, 20, 30, 45, 60, 90}},
    {.title = "stagger, mm",
     .axis = "stagger, mm (step 15 L*, width 5 mm)",
     .most = 8,
     .base = {.step = 15, .width = 5},
     .at = {0, 2, 4, 6, 8, 12, 16, 20, 30}},
    {.title = "step, L*",
     .axis = "step, L* (width 10 mm, no stagger)",
     .most = 16,
     .base = {.width = 10},
     .at = {2, 4, 6, 8, 10, 15, 20, 30, 40}},
};

/* Normal scores of 1 to n in a fixed disorder; their standard deviation is 0.96 for n of 16, 0.98 for 32. */
static double score(size_t i, size_t n, size_t stride)
{
    const double p = ((double)(i * stride % n) + 0.5) / (double)n;
    double low = -5, high = 5;
    for (int k = 0; k < 50; k++) {
        const double middle = 0.5 * (low + high);
        if (0.5 * erfc(-middle / sqrt(2)) < p)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* The same strands and locks every time. */
typedef struct hair {
    double strand[STRANDS], lock[LOCKS];
} hair;

static hair grow(void)
{
    hair out;
    for (size_t i = 0; i < STRANDS; i++)
        out.strand[i] = score(i, STRANDS, 13);
    for (size_t i = 0; i < LOCKS; i++)
        out.lock[i] = score(i, LOCKS, 7);
    return out;
}

static void colour_at(const hair *on, const line *of, double s, double t, double lab[3])
{
    const double lock = on->lock[(size_t)(t / (width / LOCKS))];
    const double strand = on->strand[(size_t)(t / (width / STRANDS))];
    const double sigma = of->width / 2.5631031310892007;
    const double part = 0.5 * erfc(-(s - length / 2 - of->stagger * lock) / sigma / sqrt(2));
    lab[0] = 30 + of->step * part + strand_sd * strand;
    lab[1] = 5 + 0.1 * of->step * part;
    lab[2] = 9 + 0.4 * of->step * part;
}

static bool draw(const line *of, tdm_strip *out)
{
    tdm_strip strip = {.scaled = true, .cell = cell, .length = length, .width = width};
    strip.rows = (size_t)(length / cell);
    strip.cols = (size_t)(width / cell);
    const size_t cells = strip.rows * strip.cols;
    strip.xyz = malloc(3 * cells * sizeof *strip.xyz);
    strip.use = malloc(cells);
    if (!strip.xyz || !strip.use) {
        free(strip.xyz);
        free(strip.use);
        return false;
    }
    const hair on = grow();
    memset(strip.use, 1, cells);
    for (size_t i = 0; i < cells; i++) {
        double lab[3], xyz[3];
        colour_at(&on, of, ((double)(i / strip.cols) + 0.5) * cell, ((double)(i % strip.cols) + 0.5) * cell,
                  lab);
        tdm_lab_to_xyz(lab, xyz);
        for (size_t k = 0; k < 3; k++)
            strip.xyz[3 * i + k] = (float)xyz[k];
    }
    *out = strip;
    return true;
}

static tdm_code look(const line *of, double dprime[DISTANCES], tdm_error *error)
{
    tdm_strip strip;
    tdm_columns columns = {0};
    tdm_fall fall = {0};
    if (!draw(of, &strip)) {
        snprintf(error->text, sizeof error->text, "out of memory");
        return TDM_ERR_MEMORY;
    }
    tdm_code code = tdm_columns_make(&strip, 10, &columns, error);
    if (code == TDM_OK)
        code = tdm_fall_make(&strip, &columns, &fall, error);
    for (size_t k = 0; code == TDM_OK && k < DISTANCES; k++)
        code = tdm_line_dprime(&strip, &fall, distances[k], &dprime[k], error);
    tdm_fall_free(&fall);
    tdm_columns_free(&columns);
    free(strip.xyz);
    free(strip.use);
    return code;
}

static tdm_code run(size_t which, sweep *of, tdm_error *error)
{
    printf("| %s |", of->title);
    for (int i = 0; i < POINTS; i++)
        printf(" %g |", of->at[i]);
    printf("\n|---|---|---|---|---|---|---|---|---|---|\n");
    for (int i = 0; i < POINTS; i++) {
        line here = of->base;
        *(which == 0 ? &here.width : which == 1 ? &here.stagger : &here.step) = of->at[i];
        const tdm_code code = look(&here, of->dprime[i], error);
        if (code != TDM_OK)
            return code;
    }
    for (int k = 0; k < DISTANCES; k++) {
        printf("| d' at %g m |", distances[k]);
        for (int i = 0; i < POINTS; i++)
            printf(" %.2f |", of->dprime[i][k]);
        printf("\n");
    }
    printf("\n");
    return TDM_OK;
}

/* One panel of 240 by 200, its corner at x, y. */
static void plot(FILE *file, const sweep *of, double x, double y)
{
    static const char *const colours[DISTANCES] = {"#888888", "#000000", "#3366aa"};
    static const double limits[] = {1, 2, 3.5};
    const double most = of->most;
    const double right = of->at[POINTS - 1];
    for (int i = 0; i < 3; i++)
        fprintf(file,
                "<path d=\"M%.1f %.1fh240\" stroke=\"#cc9966\" stroke-dasharray=\"4 3\"/>"
                "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"end\">%g</text>\n",
                x, y + 200 * (1 - limits[i] / most), x - 4, y + 204 - 200 * limits[i] / most, limits[i]);
    fprintf(file, "<path d=\"M%.1f %.1fv200h240\" fill=\"none\" stroke=\"#000000\"/>\n", x, y);
    fprintf(file, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"middle\">%s</text>\n", x + 120, y + 234,
            of->axis);
    double last = -INFINITY;
    for (int i = 0; i < POINTS; i++) {
        const double at = x + 240 * of->at[i] / right;
        if (at - last < 14) /* no room for the number */
            continue;
        fprintf(file, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"middle\">%g</text>\n", at, y + 215,
                of->at[i]);
        last = at;
    }
    for (int k = 0; k < DISTANCES; k++) {
        fprintf(file, "<path fill=\"none\" stroke-width=\"2\" stroke=\"%s\" d=\"", colours[k]);
        for (int i = 0; i < POINTS; i++)
            fprintf(file, "%c%.1f %.1f", i ? 'L' : 'M', x + 240 * of->at[i] / right,
                    y + 200 * (1 - fmin(of->dprime[i][k] / most, 1)));
        fprintf(file, "\"/>\n<text x=\"%.1f\" y=\"%.1f\" fill=\"%s\">%g m</text>\n", x + 244,
                y + 204 - 200 * fmin(of->dprime[POINTS - 1][k] / most, 1), colours[k], distances[k]);
    }
}

static bool write_plot(const sweep *sweeps, const char *path)
{
    FILE *file = fopen(path, "w");
    if (!file)
        return false;
    fprintf(file,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"960\" height=\"270\" font-family="
            "\"sans-serif\" font-size=\"11\">\n<rect width=\"960\" height=\"270\" fill=\"#ffffff\"/>\n"
            "<text x=\"8\" y=\"14\">d'; grades soft, visible and hard begin at the broken lines</text>\n");
    for (int i = 0; i < SWEEPS; i++)
        plot(file, &sweeps[i], 35 + 312 * i, 25);
    fprintf(file, "</svg>\n");
    const bool good = !ferror(file);
    return fclose(file) == 0 && good;
}

int main(int argc, char **argv)
{
    tdm_error error = {0};
    sweep sweeps[SWEEPS];
    memcpy(sweeps, plan, sizeof sweeps);
    if (argc > 2) {
        fprintf(stderr, "usage: tidemark-visibility [PLOT.svg]\n");
        return 2;
    }
    for (size_t i = 0; i < SWEEPS; i++) {
        if (run(i, &sweeps[i], &error) != TDM_OK) {
            fprintf(stderr, "tidemark-visibility: %s\n", error.text);
            return 4;
        }
    }
    if (argc == 2 && !write_plot(sweeps, argv[1])) {
        fprintf(stderr, "tidemark-visibility: %s: can't be written\n", argv[1]);
        return 4;
    }
    return 0;
}
