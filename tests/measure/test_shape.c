/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: the choice of shape, centres and widths of every shape that has them. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "measure/shape.h"
#include "measure/synthetic.h"
#include "suite.h"

enum { PLACES = 400 };
static const double length = 200;

typedef struct samples {
    double along[PLACES], value[PLACES], weight[PLACES];
} samples;

typedef double (*truth)(double along, double a, double b);

static tdm_course draw(samples *out, truth of, double a, double b, double noise, unsigned seed)
{
    for (unsigned i = 0; i < PLACES; i++) {
        out->along[i] = length * (i + 0.5) / PLACES;
        out->value[i] = of(out->along[i], a, b) + noise * synthetic_noise(i, seed);
        out->weight[i] = 1;
    }
    return (tdm_course){out->along, out->value, out->weight, PLACES, length};
}

static double flat(double along, double a, double b)
{
    (void)along, (void)b;
    return a;
}

static double ramp(double along, double a, double b)
{
    return a + b * along / length;
}

/* 20 units high from a, 10-90 % rise b; normal edge by the error function, not by the code's own. */
static double edge(double along, double a, double b)
{
    return 20 * 0.5 * (1 + erf((along - a) / (b / 2.5631031310892007) / sqrt(2)));
}

static double linear_edge(double along, double a, double b)
{
    const double part = (along - a) / b + 0.5; /* full width b */
    return 20 * fmin(fmax(part, 0), 1);
}

static double hot_root(double along, double a, double b)
{
    return edge(along, a, 6) * 0.6 - 0.5 * edge(along, b, 10);
}

static tdm_shape_fit chosen(truth of, double a, double b, double noise, unsigned seed)
{
    samples data;
    tdm_shape_fit fit;
    tdm_error error = {0};
    const tdm_course course = draw(&data, of, a, b, noise, seed);
    ck_assert_int_eq(tdm_shape_choose(&course, 2.3, &fit, &error), TDM_OK);
    return fit;
}

START_TEST(each_truth_gets_its_shape)
{
    for (unsigned seed = 1; seed <= 10; seed++) {
        ck_assert_str_eq(tdm_shape_word(chosen(flat, 5, 0, 0.7, seed).shape), "uniform");
        ck_assert_str_eq(tdm_shape_word(chosen(ramp, 5, 15, 0.7, seed).shape), "ramp");
        ck_assert_str_eq(tdm_shape_word(chosen(edge, 40, 12, 0.7, seed).shape), "transition");
        ck_assert_str_eq(tdm_shape_word(chosen(hot_root, 20, 70, 0.7, seed).shape), "band");
    }
}
END_TEST

START_TEST(no_shape_below_one_noticeable_difference)
{
    /* A ramp of 1.5 CIELAB units is there, but nobody sees it. */
    ck_assert_str_eq(tdm_shape_word(chosen(ramp, 5, 1.5, 0.05, 1).shape), "uniform");
}
END_TEST

/* Widths from 2 to 80 mm. Standard error of the width from 400 samples of noise 0.5 on a step of 20 is below
 * 2 % for the narrowest and 4 % for the widest; 6 % is the bound. */
START_TEST(edges_of_known_width)
{
    static const double widths[] = {2, 5, 10, 20, 41, 60, 80};
    for (size_t i = 0; i < sizeof widths / sizeof widths[0]; i++) {
        const tdm_shape_fit fit = chosen(edge, 80, widths[i], 0.5, 3);
        ck_assert_str_eq(tdm_shape_word(fit.shape), "transition");
        ck_assert_double_eq_tol(fit.centre[0], 80, 0.02 * widths[i] + 0.1);
        ck_assert_double_eq_tol(TDM_RISE_PER_SIGMA * fit.sigma[0], widths[i], 0.06 * widths[i]);
        ck_assert_double_eq_tol(fit.step[0], 20, 0.5);
    }
}
END_TEST

/* Rise distances of ideal edges: tests/data/measure/edge_rise_analytic.csv (normal edge 2.563103 sigma). */
START_TEST(rise_factor_is_the_published_one)
{
    FILE *file = fopen(TEST_DATA "/measure/edge_rise_analytic.csv", "r");
    char row[512];
    int seen = 0;
    ck_assert_ptr_nonnull(file);
    while (fgets(row, sizeof row, file)) {
        double sigma, rise;
        if (sscanf(row, "gaussian edge,%lf,%lf", &sigma, &rise) == 2) {
            ck_assert_double_eq_tol(TDM_RISE_PER_SIGMA * sigma, rise,
                                    1e-5 * rise); /* printed to six decimals */
            seen++;
        }
    }
    fclose(file);
    ck_assert_int_eq(seen, 7);
}
END_TEST

/* An edge that isn't normal: the fit's width must stay near the true 10-90 % distance, 0.8 of a linear edge's
 * full width (same file). A normal curve can't follow its corners, hence 8 %. */
START_TEST(a_linear_edge_comes_close)
{
    const tdm_shape_fit fit = chosen(linear_edge, 90, 40, 0.3, 5);
    ck_assert_double_eq_tol(TDM_RISE_PER_SIGMA * fit.sigma[0], 0.8 * 40, 0.08 * 32);
    ck_assert_double_eq_tol(fit.centre[0], 90, 0.5);
}
END_TEST

START_TEST(missing_samples_do_not_move_the_edge)
{
    samples data;
    tdm_shape_fit fit;
    tdm_error error = {0};
    const tdm_course course = draw(&data, edge, 60, 15, 0.3, 7);
    for (unsigned i = 0; i < PLACES; i++) {
        if (i % 5 == 0 || (i > 130 && i < 150)) {
            data.weight[i] = 0;
            data.value[i] = 1e6; /* must never be looked at */
        }
    }
    ck_assert_int_eq(tdm_shape_choose(&course, 2.3, &fit, &error), TDM_OK);
    ck_assert_double_eq_tol(fit.centre[0], 60, 0.5);
    ck_assert_double_eq_tol(TDM_RISE_PER_SIGMA * fit.sigma[0], 15, 1);
}
END_TEST

START_TEST(too_few_samples_are_refused)
{
    samples data;
    tdm_shape_fit fit;
    tdm_error error = {0};
    const tdm_course course = draw(&data, edge, 60, 15, 0.3, 7);
    for (unsigned i = 15; i < PLACES; i++)
        data.weight[i] = 0;
    ck_assert_int_eq(tdm_shape_choose(&course, 2.3, &fit, &error), TDM_ERR_UNUSABLE);
    ck_assert_str_ne(error.text, "");
}
END_TEST

START_TEST(refit_follows_moved_data)
{
    samples data;
    tdm_shape_fit first, second;
    tdm_course course = draw(&data, edge, 60, 15, 0.3, 7);
    ck_assert(tdm_shape_transition(&course, 0, length, &first));
    course = draw(&data, edge, 63, 18, 0.3, 8);
    ck_assert(tdm_shape_refit(&course, &first, &second));
    ck_assert_double_eq_tol(second.centre[0], 63, 0.5);
    ck_assert_double_eq_tol(TDM_RISE_PER_SIGMA * second.sigma[0], 18, 1);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {each_truth_gets_its_shape,
                                  no_shape_below_one_noticeable_difference,
                                  edges_of_known_width,
                                  rise_factor_is_the_published_one,
                                  a_linear_edge_comes_close,
                                  missing_samples_do_not_move_the_edge,
                                  too_few_samples_are_refused,
                                  refit_follows_moved_data,
                                  NULL};
    return run_suite("shape", tests);
}
