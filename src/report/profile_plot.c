/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lightness from root to ends, drawn in characters; before and after on the same axes. */
#include <math.h>

#include "report/page.h"

enum { PLOT_ROWS = 3, PLOT_MOST = 72, STEPS_UNICODE = 8, STEPS_ASCII = 2 };

typedef struct series {
    const tdm_profile_point *points;
    size_t count;
    bool in_mm;
    double root; /* mm from the root to where the path begins */
} series;

typedef struct axes {
    double low, high; /* L* */
    double length;    /* mm, or 1 for shares */
    size_t columns;
    bool in_mm;
} axes;

static series series_of(const tdm_zone_reading *zone, bool in_mm)
{
    series it = {.points = NULL, .count = 0, .in_mm = in_mm};
    size_t tables = 0;
    const tdm_figure *figures = tdm_figures(&tables);
    for (size_t i = 0; i < tables && !it.points; i++)
        it.points = tdm_zone_profile(zone, &figures[i], &it.count);
    if (!it.points)
        it.count = 0;
    tdm_value root = {0};
    if (tdm_zone_value(zone, tdm_figure_find("root_mm"), &root))
        it.root = root.value;
    return it;
}

/* Along in the axes' unit: two profiles share millimetres, or both become shares. */
static double along_of(const series *it, size_t index, bool in_mm)
{
    const double along = it->points[index].along;
    return it->in_mm && !in_mm ? (along - it->root) / (it->points[it->count - 1].along - it->root) : along;
}

static void stretch(axes *it, const series *one)
{
    for (size_t i = 0; i < one->count; i++) {
        const double lstar = one->points[i].lab[0];
        if (!isfinite(lstar))
            continue;
        it->low = fmin(it->low, 10 * floor(lstar / 10));
        it->high = fmax(it->high, 10 * ceil(lstar / 10));
        it->length = fmax(it->length, along_of(one, i, it->in_mm));
    }
}

/* L* and colour at a place by linear interpolation; false outside the profile or where it is null. */
static bool lab_at(const series *it, const axes *on, double along, double lab[3])
{
    for (size_t i = 0; i < it->count; i++) {
        const double here = along_of(it, i, on->in_mm);
        if (here < along && i + 1 < it->count)
            continue;
        /* Half a column past the last point still belongs to it, as does the one above the first. */
        if ((here < along || i == 0) && fabs(along - here) > on->length / (double)on->columns)
            return false;
        const size_t from = i > 0 ? i - 1 : 0;
        const double start = along_of(it, from, on->in_mm);
        const double part = here > start ? fmin(1, fmax(0, (along - start) / (here - start))) : 1;
        for (size_t c = 0; c < 3; c++)
            lab[c] = (1 - part) * it->points[from].lab[c] + part * it->points[i].lab[c];
        return isfinite(lab[0]) && isfinite(lab[1]) && isfinite(lab[2]);
    }
    return false;
}

static double column_place(const axes *on, size_t column)
{
    return ((double)column + 0.5) * on->length / (double)on->columns;
}

/* The character that fills a cell from its foot: 0 … 8 eighths, or 0 … 2 halves. */
static const char *fill_of(const tdm_page *page, int steps)
{
    static const char *const blocks[] = {" ",      "\u2581", "\u2582", "\u2583", "\u2584",
                                         "\u2585", "\u2586", "\u2587", "\u2588"};
    static const char *const ascii[] = {" ", ".", "#"};
    return page->style.unicode ? blocks[steps] : ascii[steps];
}

/* Steps of a column that stand in a row of cells, row 0 at the foot. */
static int steps_in(const series *it, const axes *on, size_t column, int row, int most)
{
    double lab[3];
    if (!lab_at(it, on, column_place(on, column), lab))
        return 0;
    const double height = (lab[0] - on->low) / (on->high - on->low) * PLOT_ROWS * most;
    /* The lowest lightness still shows as a foot. */
    const int steps = (int)fmax(1, round(height)) - row * most;
    return steps < 0 ? 0 : steps > most ? most : steps;
}

static void put_plot_row(tdm_page *page, const series *it, const axes *on, int row)
{
    const int most = page->style.unicode ? STEPS_UNICODE : STEPS_ASCII;
    size_t gap = 2; /* held back, so that no line ends in spaces */
    for (size_t column = 0; column < on->columns; column++) {
        const int steps = steps_in(it, on, column, row, most);
        if (steps == 0) {
            gap++;
            continue;
        }
        tdm_page_spaces(page, gap);
        tdm_text_add(&page->text, fill_of(page, steps));
        gap = 0;
    }
    tdm_page_line(page);
}

/* The hair's own colours from root to ends. */
static void put_strip(tdm_page *page, const series *it, const axes *on)
{
    tdm_page_spaces(page, 2);
    for (size_t column = 0; column < on->columns; column++) {
        double lab[3];
        if (lab_at(it, on, column_place(on, column), lab))
            tdm_page_swatch(page, lab, 1);
        else
            tdm_page_spaces(page, 1);
    }
    tdm_page_line(page);
}

static void put_series(tdm_page *page, const series *it, const axes *on, const char *label)
{
    if (it->count < 2)
        return;
    if (label)
        tdm_page_wrap(page, "  ", 2, label);
    for (int row = PLOT_ROWS - 1; row >= 0; row--)
        put_plot_row(page, it, on, row);
    if (page->style.truecolour)
        put_strip(page, it, on);
}

static void put_caption(tdm_page *page, const axes *on)
{
    tdm_text text = {0};
    tdm_text_add(&text, "lightness from root to ends, L* ");
    tdm_text_number(&text, on->low, 0, "");
    tdm_text_add(&text, " to ");
    tdm_text_number(&text, on->high, 0, "");
    if (on->in_mm) {
        tdm_text_add(&text, ", over ");
        tdm_text_number(&text, on->length, 0, "");
        tdm_text_add(&text, " mm");
    }
    tdm_page_dim(page);
    tdm_page_wrap(page, "  ", 2, text.data ? text.data : "");
    tdm_page_plain(page);
    page->text.failed = page->text.failed || text.failed;
    tdm_text_free(&text);
}

void tdm_page_profiles(tdm_page *page, const tdm_block *block)
{
    const series before = series_of(block->before, block->before_in_mm);
    const series after = block->after ? series_of(block->after, block->after_in_mm)
                                      : (series){.points = NULL, .count = 0, .in_mm = before.in_mm};
    axes on = {.low = 100, .high = 0, .length = 0, .in_mm = before.in_mm && after.in_mm};
    on.columns = page->style.width - 4 < PLOT_MOST ? page->style.width - 4 : PLOT_MOST;
    stretch(&on, &before);
    stretch(&on, &after);
    if (on.high <= on.low || !(on.length > 0) || (before.count < 2 && after.count < 2))
        return;
    tdm_page_line(page);
    put_caption(page, &on);
    put_series(page, &before, &on, block->after ? "before" : NULL);
    put_series(page, &after, &on, "after");
}
