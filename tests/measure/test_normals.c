/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: EM with one to three parts, starts that miss the likeliest fit, BIC, how many parts are
 * chosen. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "measure/normals.h"
#include "suite.h"

enum { MOST = 512 };

typedef struct set {
    double values[MOST], weights[MOST];
    size_t count;
} set;

static void read_set(const char *name, set *out)
{
    FILE *file = fopen(TEST_DATA "/measure/mixture_values.csv", "r");
    char line[256], key[32];
    double value;
    ck_assert_ptr_nonnull(file);
    out->count = 0;
    while (fgets(line, sizeof line, file)) {
        if (sscanf(line, "%31[a-z_],%lf", key, &value) == 2 && strcmp(key, name) == 0) {
            ck_assert_uint_lt(out->count, MOST);
            out->weights[out->count] = 1;
            out->values[out->count++] = value;
        }
    }
    fclose(file);
    ck_assert_uint_gt(out->count, 100);
}

typedef struct reference {
    char name[32];
    tdm_normals found;
    double bic;
} reference;

static bool read_row(FILE *file, reference *out)
{
    char line[512];
    while (fgets(line, sizeof line, file)) {
        tdm_normals *of = &out->found;
        if (sscanf(line, "%31[a-z_],%zu,%lf,%lf,%lf,%lf,%lf,%lf,%lf,%lf,%lf", out->name, &of->parts, of->mean,
                   of->mean + 1, of->mean + 2, of->share, of->share + 1, of->share + 2, &of->sd,
                   &of->log_likelihood, &out->bic) == 11)
            return true;
    }
    return false;
}

static tdm_weighted weighted(const set *of)
{
    return (tdm_weighted){.values = of->values, .weights = of->weights, .count = of->count, .least_sd = 1e-3};
}

/* As many as the values were drawn from; their names begin with it. */
static size_t drawn_parts(const char *name)
{
    return name[0] == 'o' ? 1 : name[1] == 'w' ? 2 : 3;
}

/* scikit-learn's fits, run to a standstill: 1e-3 of the values' unit is EM's own stopping distance here. More
 * parts than were drawn leave the likelihood so flat that only it can be compared. */
START_TEST(as_scikit_learn_finds_them)
{
    FILE *file = fopen(TEST_DATA "/measure/mixture_reference.csv", "r");
    reference row;
    int rows = 0;
    ck_assert_ptr_nonnull(file);
    for (; read_row(file, &row); rows++) {
        set values;
        tdm_normals found;
        read_set(row.name, &values);
        const tdm_weighted of = weighted(&values);
        const size_t parts = row.found.parts;
        ck_assert(tdm_normals_fit(&of, parts, &found));
        const bool flat = parts > drawn_parts(row.name);
        ck_assert_double_ge(found.log_likelihood, row.found.log_likelihood - (flat ? 1e-3 : 1e-5));
        if (flat)
            continue;
        for (size_t k = 0; k < parts; k++) {
            ck_assert_double_eq_tol(found.mean[k], row.found.mean[k], 1e-3);
            ck_assert_double_eq_tol(found.share[k], row.found.share[k], 1e-3);
        }
        ck_assert_double_eq_tol(found.sd, row.found.sd, 1e-3);
        ck_assert_double_eq_tol(tdm_normals_bic(&found, &of, (double)values.count), row.bic, 1e-3);
    }
    fclose(file);
    ck_assert_int_eq(rows, 18);
}
END_TEST

/* By scikit-learn's figures too BIC is less by over 10 with as many parts as were drawn than with any other.
 */
START_TEST(as_many_as_there_are)
{
    static const char *const names[] = {"one", "two", "two_close", "three", "three_close", "three_rare"};
    for (size_t i = 0; i < 6; i++) {
        set values;
        tdm_normals found;
        read_set(names[i], &values);
        const tdm_weighted of = weighted(&values);
        tdm_normals_limits limits = {.effective = (double)values.count,
                                     .margin = 10,
                                     .separation = 2,
                                     .share = 0.02,
                                     .most = TDM_NORMALS_MOST};
        ck_assert(tdm_normals_choose(&of, &limits, &found));
        ck_assert_uint_eq(found.parts, drawn_parts(names[i]));
        limits.effective = 4; /* as if the values all said the same few things */
        ck_assert(tdm_normals_choose(&of, &limits, &found));
        ck_assert_uint_eq(found.parts, 1);
    }
}
END_TEST

START_TEST(limits_forbid)
{
    set values;
    tdm_normals found;
    read_set("three_rare", &values); /* 4 % in its last part */
    const tdm_weighted of = weighted(&values);
    tdm_normals_limits limits = {.effective = (double)values.count,
                                 .margin = 10,
                                 .separation = 2,
                                 .share = 0.1,
                                 .most = TDM_NORMALS_MOST};
    ck_assert(tdm_normals_choose(&of, &limits, &found));
    ck_assert_uint_eq(found.parts, 2);
    limits.separation = 20;
    ck_assert(tdm_normals_choose(&of, &limits, &found));
    ck_assert_uint_eq(found.parts, 1);
}
END_TEST

START_TEST(posteriors_by_hand)
{
    const tdm_normals three = {
        .parts = 3, .mean = {-4, 0, 4}, .share = {0.25, 0.5, 0.25}, .sd = 1, .log_likelihood = 0};
    double share[TDM_NORMALS_MOST];
    tdm_normals_posterior(&three, 0, share); /* exp(-8) / 4 : 1 / 2 : exp(-8) / 4 */
    ck_assert_double_eq_tol(share[1], 1 / (1 + exp(-8)), 1e-12);
    ck_assert_double_eq_tol(share[0], share[2], 1e-15);
    tdm_normals_posterior(&three, 1e6, share); /* far off the sum must not be 0 / 0 */
    ck_assert_double_eq_tol(share[2], 1, 1e-12);
    ck_assert_double_eq_tol(tdm_normals_separation(&three, 1), 4, 1e-12);
}
END_TEST

START_TEST(too_few_different_values)
{
    const double values[] = {3, 3, 5, 9}, weights[] = {1, 2, 1, 0};
    const tdm_weighted of = {.values = values, .weights = weights, .count = 4, .least_sd = 0.1};
    tdm_normals found;
    ck_assert(tdm_normals_start(&of, 1, &found));
    ck_assert_double_eq_tol(found.mean[0], 3.5, 1e-12);
    ck_assert(tdm_normals_start(&of, 2, &found));
    ck_assert(!tdm_normals_start(&of, 3, &found));
    const tdm_weighted none = {.values = values + 3, .weights = weights + 3, .count = 1, .least_sd = 0.1};
    const tdm_normals_limits limits = {
        .effective = 1, .margin = 10, .separation = 2, .share = 0.02, .most = TDM_NORMALS_MOST};
    ck_assert(!tdm_normals_choose(&none, &limits, &found));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {as_scikit_learn_finds_them, as_many_as_there_are,     limits_forbid,
                                  posteriors_by_hand,         too_few_different_values, NULL};
    return run_suite("normals", tests);
}
