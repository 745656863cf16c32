/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs of light columns and their periods against outside packages. Would break: where runs begin and end,
 * the spread of their spacings, the share of the variance that a period holds. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "measure/periodogram.h"
#include "measure/ribbon_figures.h"
#include "measure/ribbon_period.h"
#include "measure/synthetic.h"
#include "suite.h"

enum { MOST = 512 };
static const double cell = 0.25;

/* Columns of light by their signs: 1, 0 and x for not known. Returns their number. */
static size_t read_columns(const char *text, double light[MOST])
{
    const size_t count = strlen(text);
    ck_assert_uint_le(count, MOST);
    for (size_t i = 0; i < count; i++)
        light[i] = text[i] == 'x' ? NAN : text[i] == '1';
    return count;
}

static void plain(double s, double t, const void *about, double lab[3])
{
    (void)about;
    lab[0] = 40 + synthetic_noise((unsigned)(s * 4), (unsigned)(t * 4));
    lab[1] = lab[2] = 10;
}

/* What the library makes of the row, as the one window of a zone that wide. */
static tdm_ribbon_figures figures(double *light, size_t cols)
{
    double slope[MOST] = {0};
    tdm_strand_grid grid = {.windows = 1, .cols = cols, .window = 2, .slope = slope, .light = light};
    tdm_ribbon_figures out;
    tdm_error error = {0};
    synthetic_zone zone;
    synthetic_zone_make(synthetic_strip(20, (double)cols * cell, plain, NULL), &zone);
    ck_assert_int_eq(tdm_ribbon_runs(&zone.input, &grid, &out, &error), TDM_OK);
    synthetic_zone_free(&zone);
    return out;
}

static double period(double *light, size_t cols)
{
    const tdm_ribbon_profile profile = {.cols = cols, .cell = cell, .light = light, .kept = 1, .cosine = 1};
    tdm_ribbon_period out;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_ribbon_period_find(&profile, &out, &error), TDM_OK);
    return out.period;
}

/* statsmodels' runs, scipy's variation and the peak of its periodogram. Six digits of the first are stored;
 * the peak is sought here in steps of a quarter of its width, and a parabola laid through them: 1 %. */
START_TEST(runs_as_statsmodels_has_them)
{
    FILE *file = fopen(TEST_DATA "/measure/runs_reference.csv", "r");
    char line[1024], text[MOST + 1];
    double light[MOST], width, spacing, cv, strongest;
    tdm_run found[MOST];
    size_t runs;
    int rows = 0;
    ck_assert_ptr_nonnull(file);
    while (fgets(line, sizeof line, file)) {
        if (sscanf(line, "%*[a-z],%512[01],%zu,%lf,%lf,%lf,%lf", text, &runs, &width, &spacing, &cv,
                   &strongest) != 6)
            continue;
        const size_t cols = read_columns(text, light);
        ck_assert_uint_eq(tdm_runs_find(light, NULL, cols, cell, 0.5 * cell, found), runs);
        double widths = 0;
        for (size_t i = 0; i < runs; i++)
            widths += tdm_run_width(found + i);
        ck_assert_double_eq_tol(widths / (double)runs, width, 1e-6);
        const double from = found[0].left + found[0].right, to = found[runs - 1].left + found[runs - 1].right;
        ck_assert_double_eq_tol(0.5 * (to - from) / (double)(runs - 1), spacing, 1e-6);
        ck_assert_double_eq_tol(figures(light, cols).spacing_cv, cv, 1e-6);
        ck_assert_double_eq_tol(period(light, cols), strongest, 0.01 * strongest);
        rows++;
    }
    fclose(file);
    ck_assert_int_eq(rows, 4);
}
END_TEST

/* scipy's periodogram of Lomb and Scargle, normalised; six digits are stored. */
START_TEST(waves_as_scipy_has_them)
{
    FILE *file = fopen(TEST_DATA "/measure/periodogram_reference.csv", "r");
    char line[1024], text[MOST + 1];
    double light[MOST], across[MOST], value[MOST], frequency, share;
    int rows = 0;
    ck_assert_ptr_nonnull(file);
    while (fgets(line, sizeof line, file)) {
        if (sscanf(line, "%*[a-z],%512[01x],%lf,%lf", text, &frequency, &share) != 3)
            continue;
        const size_t cols = read_columns(text, light);
        size_t count = 0;
        double sum = 0;
        for (size_t col = 0; col < cols; col++) {
            if (isnan(light[col]))
                continue;
            across[count] = ((double)col + 0.5) * cell;
            value[count++] = light[col];
            sum += light[col];
        }
        const double found = tdm_wave_share(across, value, count, sum / (double)count, frequency, NULL);
        ck_assert_double_eq_tol(found, share, 1e-6);
        rows++;
    }
    fclose(file);
    ck_assert_int_eq(rows, 24);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {runs_as_statsmodels_has_them, waves_as_scipy_has_them, NULL};
    return run_suite("runs_reference", tests);
}
