/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: edges between columns, gaps and slivers, what the zone's edge cuts, widths of strands that run
 * aslant or wave, numbers in 100 mm, ribbons followed down, uncertainty and fineness. */
#include <math.h>
#include <stdlib.h>

#include "measure/drawn_grid.h"
#include "measure/ribbon_figures.h"
#include "measure/ribbon_stats.h"
#include "measure/ribbon_track.h"
#include "suite.h"

START_TEST(edges_lie_between_columns)
{
    /* Columns of 0.5 mm. Half is passed a third of the way from the middle of column 1 to that of column 2,
     * and in the middle between those of 3 and 4. */
    const double light[] = {0, 0.3, 0.9, 1, 0, 0, 0.2};
    tdm_run runs[4];
    ck_assert_uint_eq(tdm_runs_find(light, NULL, 7, 0.5, 0.2, runs), 1);
    ck_assert_double_eq_tol(runs[0].left, 0.5 * (1.5 + 1.0 / 3), 1e-12);
    ck_assert_double_eq_tol(runs[0].right, 0.5 * 4, 1e-12);
    ck_assert(!runs[0].cut_left && !runs[0].cut_right);
}
END_TEST

START_TEST(narrow_gaps_close_and_slivers_go)
{
    const double light[] = {0, 1, 1, 0, 1, 1, 0, 0, 0, 1, 0, 0};
    tdm_run runs[7];
    ck_assert_uint_eq(tdm_runs_find(light, NULL, 12, 0.25, 0.3, runs), 1);
    ck_assert_double_eq_tol(runs[0].left, 0.25, 1e-12);
    ck_assert_double_eq_tol(runs[0].right, 1.5, 1e-12);
    ck_assert_uint_eq(tdm_runs_find(light, NULL, 12, 0.25, 0.2, runs), 3);
}
END_TEST

START_TEST(what_the_edge_or_a_hole_cuts_is_told)
{
    const double light[] = {1, 1, 0, 0, 1, 1, NAN, 0, 1, 1, 0, 0, 1, 1};
    tdm_run runs[8];
    ck_assert_uint_eq(tdm_runs_find(light, NULL, 14, 0.5, 0.5, runs), 4);
    ck_assert(runs[0].cut_left && !runs[0].cut_right);
    ck_assert(!runs[1].cut_left && runs[1].cut_right && !runs[1].apart);
    ck_assert(!runs[2].cut_left && !runs[2].cut_right && runs[2].apart);
    ck_assert(!runs[3].cut_left && runs[3].cut_right && !runs[3].apart);
}
END_TEST

static void figures_of(const drawn_ribbons *ribbons, double cell, tdm_ribbon_figures *out)
{
    tdm_strand_grid grid;
    synthetic_zone zone;
    tdm_error error = {0};
    drawn_zone(24, 100, cell, &zone);
    drawn_grid(ribbons, 20, 100, cell, &grid);
    ck_assert_int_eq(tdm_ribbon_runs(&zone.input, &grid, out, &error), TDM_OK);
    tdm_strand_grid_free(&grid);
    synthetic_zone_free(&zone);
}

/* Widths are perpendicular to the strands: ribbons at 30 degrees are cut across wider by 1 / cos 30. */
START_TEST(widths_hold_to_parts_of_a_column_and_aslant)
{
    static const double widths[] = {0.7, 1.13, 2.2, 4.87, 11.9}, slopes[] = {0, 0.57735, -0.57735};
    for (size_t i = 0; i < sizeof widths / sizeof widths[0]; i++) {
        for (size_t k = 0; k < 3; k++) {
            drawn_ribbons ribbons = {.slope = slopes[k]};
            tdm_ribbon_figures found;
            const double across = widths[i] / cos(atan(slopes[k])), pitch = 2.7 * across;
            for (double at = -100; at < 200; at += pitch) {
                ribbons.left[ribbons.count] = at;
                ribbons.right[ribbons.count++] = at + across;
            }
            figures_of(&ribbons, 0.25, &found);
            /* A straight line between columns is within a tenth of one of the true edge. */
            ck_assert_double_eq_tol(found.median, widths[i], 0.05);
            ck_assert_double_eq_tol(found.spacing_median, 2.7 * widths[i], 0.05);
            ck_assert_double_lt(found.spacing_cv, 0.03);
            /* Edges come whole: one more or less is half a ribbon. */
            ck_assert_double_eq_tol(found.per_100mm * cos(atan(slopes[k])), 100 / pitch, 0.55);
            ck_assert(!found.too_fine);
        }
    }
}
END_TEST

/* Ribbons as wide as a third of the strip: whole ones alone would count far too few. */
START_TEST(wide_ribbons_are_counted_right_on_average)
{
    double sum = 0;
    for (unsigned seed = 0; seed < 12; seed++) {
        drawn_ribbons ribbons = {0};
        tdm_ribbon_figures found;
        drawn_lay(&ribbons, -200, 300, 30, 0.6, true, seed);
        figures_of(&ribbons, 0.5, &found);
        sum += found.per_100mm / 12;
    }
    ck_assert_double_eq_tol(sum, 2, 0.25); /* one each 50 mm; 12 strips see 24 of them */
}
END_TEST

START_TEST(the_uncertainty_covers_what_draws_differ_by)
{
    unsigned covered = 0;
    for (unsigned seed = 0; seed < 40; seed++) {
        drawn_ribbons ribbons = {0};
        tdm_ribbon_figures found;
        double weighted = 3 * exp(0.4 * 0.4); /* median by width of log-normal widths of median 3 */
        drawn_lay(&ribbons, -30, 130, 3, 0.4, false, seed);
        figures_of(&ribbons, 0.5, &found);
        covered += fabs(found.median - weighted) <= 2 * found.median_sampling;
    }
    ck_assert_uint_ge(covered, 32); /* 38 of 40 were there many ribbons; a dozen give less */
}
END_TEST

START_TEST(under_three_pixels_is_null)
{
    drawn_ribbons ribbons = {0};
    tdm_strand_grid grid;
    synthetic_zone zone;
    tdm_ribbon_figures found;
    tdm_error error = {0};
    drawn_lay(&ribbons, -20, 120, 1.4, 0.4, true, 1);
    drawn_zone(24, 100, 0.25, &zone);
    drawn_grid(&ribbons, 20, 100, 0.25, &grid);
    for (int fine = 0; fine < 2; fine++) {
        zone.strip.cell_px = fine ? 0.5 : 0.6; /* 2 and 2.4 px a mm */
        ck_assert_int_eq(tdm_ribbon_runs(&zone.input, &grid, &found, &error), TDM_OK);
        ck_assert(found.too_fine == (fine == 1));
        ck_assert(isnan(found.median) == (fine == 1));
    }
    zone.strip.scaled = false;
    zone.strip.cell_px = 2;
    ck_assert_int_eq(tdm_ribbon_runs(&zone.input, &grid, &found, &error), TDM_OK);
    ck_assert(isnan(found.median) && isnan(found.per_100mm) && isfinite(found.spacing_cv));
    tdm_strand_grid_free(&grid);
    synthetic_zone_free(&zone);
}
END_TEST

START_TEST(quantiles_count_by_weight)
{
    tdm_sample samples[] = {{5, 5, 1}, {1, 1, 0}, {2, 2, 0}, {3, 3, 1}};
    const uint16_t times[] = {2, 0};
    tdm_samples_sort(samples, 4);
    ck_assert_double_eq(tdm_samples_quantile(samples, 4, 0.5, NULL), 3); /* 6 of 11 */
    ck_assert_double_eq(tdm_samples_quantile(samples, 4, 0.75, NULL), 5);
    ck_assert_double_eq(tdm_samples_quantile(samples, 4, 0.75, times), 2);
    ck_assert(isnan(tdm_samples_quantile(samples, 0, 0.5, NULL)));
}
END_TEST

/* Three ribbons that wave by more than their own width; the middle one ends half-way and hides for 4 mm. */
START_TEST(ribbons_are_followed_along_their_strands)
{
    drawn_ribbons ribbons = {
        .left = {20, 40, 60}, .right = {23, 43, 63}, .count = 3, .wave = 8, .wavelength = 80};
    tdm_strand_grid grid;
    tdm_run_table table;
    tdm_ribbon *found = NULL;
    size_t count = 0;
    tdm_error error = {0};
    drawn_grid(&ribbons, 120, 100, 0.25, &grid);
    for (size_t i = 0; i < grid.windows * grid.cols; i++) {
        const size_t window = i / grid.cols;
        const double home =
            (double)(i % grid.cols) * 0.25 - 8 * sin(2 * 3.14159265 * 2 * ((double)window + 0.5) / 80);
        if (home > 35 && home < 48 && (window >= 30 || window == 10 || window == 11))
            grid.light[i] = 0;
    }
    ck_assert_int_eq(tdm_run_table_make(&grid, grid.light, 0.25, 0.5, &table, &error), TDM_OK);
    ck_assert_int_eq(tdm_ribbon_track(&grid, &table, 0.25, 5, &found, &count, &error), TDM_OK);
    ck_assert_uint_eq(count, 3);
    for (size_t i = 0; i < 3; i++) {
        ck_assert_uint_eq(found[i].first, 0);
        ck_assert_uint_eq(found[i].windows, i == 1 ? 30 : 60);
        for (size_t k = 0; k < found[i].windows; k++) {
            const double home = 20 * (double)(i + 1) + 8 * sin(2 * 3.14159265 * 2 * ((double)k + 0.5) / 80);
            ck_assert_double_eq_tol(found[i].edges[2 * k], home, 0.3); /* a column; hidden, a straight line */
            ck_assert_double_eq_tol(found[i].edges[2 * k + 1], home + 3, 0.3);
        }
        free(found[i].edges);
    }
    free(found);
    tdm_run_table_free(&table);
    tdm_strand_grid_free(&grid);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {edges_lie_between_columns,
                                  narrow_gaps_close_and_slivers_go,
                                  what_the_edge_or_a_hole_cuts_is_told,
                                  widths_hold_to_parts_of_a_column_and_aslant,
                                  wide_ribbons_are_counted_right_on_average,
                                  the_uncertainty_covers_what_draws_differ_by,
                                  under_three_pixels_is_null,
                                  quantiles_count_by_weight,
                                  ribbons_are_followed_along_their_strands,
                                  NULL};
    return run_suite("ribbon runs", tests);
}
