/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a spread or a weight of the eye's kernels, the opponent colours, a mask that bleeds in, a wide
 * kernel taken too coarsely, millimetres to degrees. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "colour/lab.h"
#include "colour/matrix.h"
#include "measure/scielab.h"
#include "measure/scielab_blur.h"
#include "measure/synthetic.h"
#include "suite.h"

static const double pi = 3.14159265358979323846;

static tdm_seen see(const tdm_strip *strip, double distance)
{
    tdm_scielab scielab;
    tdm_seen seen;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_scielab_make(strip, &scielab, &error), TDM_OK);
    ck_assert_int_eq(tdm_scielab_see(&scielab, distance, &seen, &error), TDM_OK);
    tdm_scielab_free(&scielab);
    return seen;
}

static void free_strip(tdm_strip *strip)
{
    free(strip->xyz);
    free(strip->lab);
    free(strip->use);
}

/* Numbers a row of a file under tests/data/measure; comments and headings are passed over. */
static size_t read_rows(const char *path, double (*rows)[6], size_t most)
{
    FILE *file = fopen(path, "r");
    char line[256];
    size_t count = 0;
    ck_assert_ptr_nonnull(file);
    while (count < most && fgets(line, sizeof line, file)) {
        double *row = rows[count];
        if (sscanf(line, "%lf,%lf,%lf,%lf,%lf,%lf", &row[0], &row[1], &row[2], &row[3], &row[4], &row[5]) ==
            6)
            count++;
    }
    fclose(file);
    return count;
}

static double rise(double x)
{
    return 0.5 * erfc(-x / sqrt(2));
}

/* pattern() of scielab_reference.py. */
static void pattern_colour(double s, double t, const void *about, double lab[3])
{
    (void)about;
    lab[0] = 40 + 15 * rise((s - 18) / 2) + 6 * sin(2 * pi * t / 2.6);
    lab[1] = 5 + 8 * cos(2 * pi * s / 9);
    lab[2] = 12 + 10 * sin(2 * pi * (s + t) / 6);
}

static void mask_pattern(tdm_strip *strip)
{
    for (size_t i = 0; i < strip->rows * strip->cols; i++) {
        const double s = ((double)(i / strip->cols) + 0.5) * strip->cell;
        const double t = ((double)(i % strip->cols) + 0.5) * strip->cell;
        if ((s > 8 && s < 14 && t > 5 && t < 9) || t < 1.5) {
            strip->use[i] = 0;
            strip->xyz[3 * i + 1] = 50; /* whatever stands in what isn't used */
        }
    }
}

/* Each cell the mean of 5 by 5 places, as the reference's cells lie in it. */
static tdm_strip draw_pattern(void)
{
    tdm_strip strip = synthetic_strip(40, 20, pattern_colour, NULL);
    for (size_t i = 0; i < strip.rows * strip.cols; i++) {
        double sum[3] = {0, 0, 0};
        for (size_t k = 0; k < 25; k++) {
            double lab[3], xyz[3];
            pattern_colour(((double)(5 * (i / strip.cols) + k / 5) + 0.5) * strip.cell / 5,
                           ((double)(5 * (i % strip.cols) + k % 5) + 0.5) * strip.cell / 5, NULL, lab);
            tdm_lab_to_xyz(lab, xyz);
            for (int n = 0; n < 3; n++)
                sum[n] += xyz[n] / 25;
        }
        for (size_t n = 0; n < 3; n++)
            strip.xyz[3 * i + n] = (float)sum[n];
    }
    mask_pattern(&strip);
    return strip;
}

/* Against a second implementation: dense matrices in double precision on cells a fifth as wide. The pattern
 * spans 45 CIELAB units and changes by up to 15 a mm. 0.1 inside; 0.4 within two cells of the strip's edges
 * and of the mask, which a cell of up to 1.25 mm at 3 m can't follow more closely. */
START_TEST(as_a_second_implementation_sees_it)
{
    double rows[200][6];
    const size_t count = read_rows(TEST_DATA "/measure/scielab_pattern.csv", rows, 200);
    ck_assert_uint_ge(count, 80);
    tdm_strip strip = draw_pattern();
    tdm_seen seen = {0};
    double distance = 0;
    for (size_t i = 0; i < count; i++) {
        if (rows[i][0] != distance) {
            tdm_seen_free(&seen);
            distance = rows[i][0];
            seen = see(&strip, distance);
        }
        const double row = rows[i][1] / seen.cell - 0.5, col = rows[i][2] / seen.cell - 0.5;
        ck_assert_double_eq_tol(row, round(row), 1e-6); /* at the middle of a cell */
        ck_assert_double_eq_tol(col, round(col), 1e-6);
        const size_t cell = (size_t)round(row) * seen.cols + (size_t)round(col);
        ck_assert(seen.use[cell]);
        const double beside =
            fmin(fmin(rows[i][1], 40 - rows[i][1]), fmin(rows[i][2] - 1.5, 20 - rows[i][2]));
        for (size_t k = 0; k < 3; k++)
            ck_assert_double_eq_tol((double)seen.lab[3 * cell + k], rows[i][3 + k],
                                    beside < 2 * seen.cell ? 0.4 : 0.1);
    }
    tdm_seen_free(&seen);
    free_strip(&strip);
}
END_TEST

/* Poirson and Wandell (1993) after Bradfords transform from D50 to D65, multiplied out apart from the
 * library (numpy 1.24). Rows: luminance, red-green, blue-yellow. */
static const double to_opponent[9] = {0.2446058, 0.7247337, -0.1089448, -0.4360775, 0.3014464,
                                      0.0803613, 0.1049997, -0.6081093, 0.6597154};

typedef struct grating {
    double amplitude[3]; /* in the three opponent colours */
    double period;       /* cells */
} grating;

enum { LONG = 3200, NARROW = 12 };

/* Cells of 1 mm, each the grating's mean over its area. */
static tdm_strip draw_grating(const grating *of)
{
    static const double grey[3] = {0.5 * 0.9642, 0.5, 0.5 * 0.8249};
    double from[9], middle[3];
    ck_assert(tdm_matrix_invert(to_opponent, from));
    tdm_matrix_apply(to_opponent, grey, middle);
    tdm_strip strip = {.rows = LONG, .cols = NARROW, .cell = 1, .scaled = true};
    strip.xyz = malloc(3 * LONG * NARROW * sizeof *strip.xyz);
    strip.use = malloc(LONG * NARROW);
    ck_assert(strip.xyz && strip.use);
    memset(strip.use, 1, LONG * NARROW);
    for (size_t i = 0; i < LONG * NARROW; i++) {
        const double step = pi / of->period; /* half a cell's phase */
        const double wave = sin(2 * step * ((double)(i / NARROW) + 0.5)) * sin(step) / step;
        double colour[3], xyz[3];
        for (int k = 0; k < 3; k++)
            colour[k] = middle[k] + of->amplitude[k] * wave;
        tdm_matrix_apply(from, colour, xyz);
        for (size_t k = 0; k < 3; k++)
            strip.xyz[3 * i + k] = (float)xyz[k];
    }
    return strip;
}

/* By the product with the wave over whole periods, far from the ends. */
static double amplitude_seen(const tdm_seen *seen, int opponent, double period)
{
    const size_t span = (size_t)(floor(1000 / period) * period + 0.5), first = LONG / 2 - 500;
    double sine = 0, cosine = 0;
    for (size_t i = first; i < first + span; i++) {
        double lab[3], xyz[3], colour[3];
        for (size_t k = 0; k < 3; k++)
            lab[k] = (double)seen->lab[3 * (i * seen->cols + NARROW / 2) + k];
        tdm_lab_to_xyz(lab, xyz);
        tdm_matrix_apply(to_opponent, xyz, colour);
        const double phase = 2 * pi * ((double)i + 0.5) / period;
        sine += colour[opponent] * sin(phase);
        cosine += colour[opponent] * cos(phase);
    }
    return 2 * hypot(sine, cosine) / (double)span;
}

/* Gratings as the published weights and spreads say they come through. 3 m: 52.4 cells a degree. The wave's
 * amplitude is a tenth of white's luminance; 0.006 is for the truncated tails, for periods that aren't whole
 * cells, and for cells of 0.95 of the finest standard deviation. */
START_TEST(gratings_come_through_as_published)
{
    static const char *const names[] = {"luminance", "red_green", "blue_yellow"};
    FILE *file = fopen(TEST_DATA "/measure/scielab_frequency_response.csv", "r");
    char line[256], name[32];
    double frequency, gain;
    int tried = 0;
    ck_assert_ptr_nonnull(file);
    const double degree = tdm_view_mm(3, 1);
    while (fgets(line, sizeof line, file)) {
        if (sscanf(line, "%31[a-z_],%lf,%lf", name, &frequency, &gain) != 3 || frequency <= 0)
            continue;
        int opponent = 0;
        while (opponent < 2 && strcmp(name, names[opponent]) != 0)
            opponent++;
        ck_assert_str_eq(name, names[opponent]);
        grating of = {.period = degree / frequency};
        of.amplitude[opponent] = opponent == 0 ? 0.1 : 0.02;
        tdm_strip strip = draw_grating(&of);
        tdm_seen seen = see(&strip, 3);
        ck_assert_uint_eq(seen.rows, LONG);
        ck_assert_double_eq_tol(amplitude_seen(&seen, opponent, of.period) / of.amplitude[opponent], gain,
                                0.006);
        tried++;
        tdm_seen_free(&seen);
        free_strip(&strip);
    }
    fclose(file);
    ck_assert_int_eq(tried, 21);
}
END_TEST

static void plain_colour(double s, double t, const void *about, double lab[3])
{
    (void)s;
    (void)t;
    memcpy(lab, about, 3 * sizeof lab[0]);
}

/* Weights that add up to 1, at the edges and beside a mask full of light too: 0.01 is what float costs. */
START_TEST(a_plain_area_stays_as_it_is)
{
    const double colour[3] = {37, 9, 14};
    tdm_strip strip = synthetic_strip(40, 20, plain_colour, colour);
    mask_pattern(&strip);
    for (double distance = 0.3; distance < 12; distance *= 2) {
        tdm_seen seen = see(&strip, distance);
        size_t used = 0;
        for (size_t i = 0; i < seen.rows * seen.cols; i++) {
            for (size_t k = 0; seen.use[i] && k < 3; k++)
                ck_assert_double_eq_tol((double)seen.lab[3 * i + k], colour[k], 0.01);
            used += seen.use[i];
        }
        ck_assert_uint_gt(used, seen.rows * seen.cols / 2);
        tdm_seen_free(&seen);
    }
    free_strip(&strip);
}
END_TEST

enum { ROWS = 90, COLS = 60 };

/* A step, noise and holes. */
static tdm_grid made_grid(void)
{
    tdm_grid grid = {.rows = ROWS, .cols = COLS, .blurred = 1.0 / 12};
    grid.sum = calloc(ROWS * COLS, sizeof *grid.sum);
    grid.share = calloc(ROWS * COLS, sizeof *grid.share);
    ck_assert(grid.sum && grid.share);
    for (unsigned i = 0; i < ROWS; i++) {
        for (unsigned j = 0; j < COLS; j++) {
            const bool hole = (i > 20 && i < 40 && j > 10 && j < 25) || j < i / 8;
            const double noise = 0.15 * synthetic_noise(i, j);
            grid.share[i * COLS + j] = hole ? 0 : 1;
            grid.sum[i * COLS + j] = hole ? 0 : (float)((i > 50 ? 0.7 : 0.2) + fmax(fmin(noise, 0.2), -0.2));
        }
    }
    return grid;
}

/* The plain sum over every cell; a cell's own area counts as blur of variance 1 / 12. */
static double plain_blur(const tdm_grid *grid, double sigma, double row, double col)
{
    const double variance = sigma * sigma - 1.0 / 12;
    double sum = 0, weights = 0;
    for (size_t i = 0; i < ROWS * COLS; i++) {
        const double down = (double)(i / COLS) - row, over = (double)(i % COLS) - col;
        const double weight = exp(-0.5 * (down * down + over * over) / variance);
        sum += weight * (double)grid->sum[i];
        weights += weight * (double)grid->share[i];
    }
    return sum / weights;
}

/* Values span 0.9: 0.4 % of that, as the header says (found: 0.38 % in a corner of the mask, under 0.2 % away
 * from it). */
START_TEST(fast_and_plain_sums_agree)
{
    static const double sigmas[] = {0.75, 1.3, 3, 5.9, 6, 7.4, 9, 17, 60, 400};
    tdm_grid grid = made_grid();
    float out[ROWS * COLS];
    tdm_error error = {0};
    for (size_t k = 0; k < sizeof sigmas / sizeof sigmas[0]; k++) {
        ck_assert_int_eq(tdm_grid_blur(&grid, sigmas[k], out, &error), TDM_OK);
        for (size_t i = 0; i < ROWS * COLS; i += 7) {
            if (grid.share[i] > 0)
                ck_assert_double_eq_tol((double)out[i],
                                        plain_blur(&grid, sigmas[k], (double)(i / COLS), (double)(i % COLS)),
                                        0.004 * 0.9);
        }
    }
    tdm_grid_free(&grid);
}
END_TEST

/* Below three quarters of a cell nothing is sampled finely enough to sum plainly: a spike's variance tells.
 */
START_TEST(a_narrow_spread_keeps_its_variance)
{
    for (double sigma = 0.3; sigma < 3; sigma += 0.1) {
        float sum[41] = {0}, share[41], out[41];
        tdm_error error = {0};
        for (int i = 0; i < 41; i++)
            share[i] = 1;
        sum[20] = 1;
        const tdm_grid grid = {.rows = 1, .cols = 41, .sum = sum, .share = share, .blurred = 1.0 / 12};
        ck_assert_int_eq(tdm_grid_blur(&grid, sigma, out, &error), TDM_OK);
        double variance = 1.0 / 12, total = 0;
        for (int i = 0; i < 41; i++) {
            total += (double)out[i];
            variance += (double)out[i] * (i - 20) * (i - 20);
        }
        ck_assert_double_eq_tol(total, 1, 1e-4);
        ck_assert_double_eq_tol(variance, sigma * sigma, 0.015 * fmax(sigma * sigma, 1)); /* cells squared */
    }
}
END_TEST

/* 1 degree at 1.2 m is 2 x 1200 x tan(0.5 degree) = 20.944 mm. */
START_TEST(degrees_in_millimetres)
{
    ck_assert_double_eq_tol(tdm_view_mm(1.2, 1), 20.944, 1e-3);
    ck_assert_double_eq_tol(tdm_view_mm(0.6, 1), 10.472, 1e-3);
}
END_TEST

/* A coarser grid's means lie at its cells' middles, and blur by as much as it says. */
START_TEST(thinned_planes_keep_places_and_say_their_blur)
{
    enum { FINE = 120 };
    for (size_t factor = 2; factor < 7; factor++) {
        float sum[FINE], share[FINE];
        tdm_error error = {0};
        tdm_grid thin;
        for (int i = 0; i < FINE; i++) {
            sum[i] = (float)i + 0.5F;
            share[i] = 1;
        }
        const tdm_grid slope = {.rows = 1, .cols = FINE, .sum = sum, .share = share, .blurred = 1.0 / 12};
        ck_assert_int_eq(tdm_grid_thin(&slope, factor, &thin, &error), TDM_OK);
        ck_assert_uint_eq(thin.cols, (FINE + factor - 1) / factor);
        for (size_t i = 1; i + 2 < thin.cols; i++)
            ck_assert_double_eq_tol((double)(thin.sum[i] / thin.share[i]), ((double)i + 0.5) * (double)factor,
                                    1e-3);
        tdm_grid_free(&thin);
        /* x^2 averaged is the middle squared and the variance of what is averaged */
        for (int i = 0; i < FINE; i++)
            sum[i] = (float)((i + 0.5) * (i + 0.5) + 1.0 / 12);
        ck_assert_int_eq(tdm_grid_thin(&slope, factor, &thin, &error), TDM_OK);
        const double middle = 10.5 * (double)factor, cell = (double)(factor * factor);
        ck_assert_double_eq_tol(((double)(thin.sum[10] / thin.share[10]) - middle * middle) / cell,
                                thin.blurred, 1e-3);
        tdm_grid_free(&thin);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {as_a_second_implementation_sees_it,
                                  gratings_come_through_as_published,
                                  a_plain_area_stays_as_it_is,
                                  fast_and_plain_sums_agree,
                                  a_narrow_spread_keeps_its_variance,
                                  thinned_planes_keep_places_and_say_their_blur,
                                  degrees_in_millimetres,
                                  NULL};
    return run_suite("scielab", tests);
}
