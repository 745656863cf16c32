/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_axis.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

enum { MOST_ROUNDS = 100 };
static const double ridge = 0.01; /* CIELAB units squared: no part is tighter than a tenth of a unit */

typedef struct parts {
    double share; /* of the second */
    double mean[2][3];
    double inverse[9]; /* of the common covariance */
    double log_determinant;
    double log_likelihood; /* a colour, but for a constant; of the parts that the last round started from */
} parts;

typedef struct sums {
    double weight[2], first[2][3], second[9];
} sums;

static void add(sums *to, const double *lab, double share)
{
    const double weights[2] = {1 - share, share};
    for (int part = 0; part < 2; part++) {
        to->weight[part] += weights[part];
        for (int i = 0; i < 3; i++)
            to->first[part][i] += weights[part] * lab[i];
    }
    for (int i = 0; i < 3; i++) {
        for (int j = 0; j < 3; j++)
            to->second[3 * i + j] += lab[i] * lab[j];
    }
}

static bool invert(double matrix[9], double *log_determinant)
{
    gsl_matrix_view view = gsl_matrix_view_array(matrix, 3, 3);
    if (gsl_linalg_cholesky_decomp1(&view.matrix) != 0)
        return false;
    *log_determinant = 2 * (log(matrix[0]) + log(matrix[4]) + log(matrix[8]));
    return gsl_linalg_cholesky_invert(&view.matrix) == 0 && isfinite(*log_determinant);
}

/* Means, and the covariance within the parts: that of all less that between the means. */
static bool settle(const sums *from, parts *out)
{
    const double total = from->weight[0] + from->weight[1];
    if (!(from->weight[0] > 1e-3 * total) || !(from->weight[1] > 1e-3 * total))
        return false;
    out->share = from->weight[1] / total;
    for (int part = 0; part < 2; part++) {
        for (int i = 0; i < 3; i++)
            out->mean[part][i] = from->first[part][i] / from->weight[part];
    }
    for (int i = 0; i < 3; i++) {
        for (int j = 0; j < 3; j++) {
            double between = 0;
            for (int part = 0; part < 2; part++)
                between += from->weight[part] / total * out->mean[part][i] * out->mean[part][j];
            out->inverse[3 * i + j] = from->second[3 * i + j] / total - between + (i == j ? ridge : 0);
        }
    }
    return invert(out->inverse, &out->log_determinant);
}

static double mahalanobis(const double *lab, const double mean[3], const double inverse[9])
{
    double sum = 0;
    for (int i = 0; i < 3; i++) {
        for (int j = 0; j < 3; j++)
            sum += (lab[i] - mean[i]) * inverse[3 * i + j] * (lab[j] - mean[j]);
    }
    return sum;
}

static bool one_round(const double *lab, size_t count, parts *of)
{
    sums gathered;
    double likelihood = 0;
    const double few = log(1 - of->share), many = log(of->share);
    memset(&gathered, 0, sizeof gathered);
    for (size_t k = 0; k < count; k++) {
        const double low = few - 0.5 * mahalanobis(lab + 3 * k, of->mean[0], of->inverse);
        const double high = many - 0.5 * mahalanobis(lab + 3 * k, of->mean[1], of->inverse);
        const double top = fmax(low, high), both = top + log(exp(low - top) + exp(high - top));
        likelihood += both;
        add(&gathered, lab + 3 * k, exp(high - both));
    }
    const double determinant = of->log_determinant;
    if (!settle(&gathered, of))
        return false;
    of->log_likelihood = likelihood / (double)count - 0.5 * determinant;
    return isfinite(of->log_likelihood);
}

/* Start: colours above the mean of one coordinate against those below. */
static bool fit(const double *lab, size_t count, size_t coordinate, parts *out)
{
    double mean = 0, before = -INFINITY;
    sums gathered;
    memset(&gathered, 0, sizeof gathered);
    for (size_t k = 0; k < count; k++)
        mean += lab[3 * k + coordinate] / (double)count;
    for (size_t k = 0; k < count; k++)
        add(&gathered, lab + 3 * k, lab[3 * k + coordinate] > mean);
    if (!settle(&gathered, out))
        return false;
    for (int round = 0; round < MOST_ROUNDS; round++) {
        if (!one_round(lab, count, out))
            return false;
        if (out->log_likelihood - before < 1e-7)
            break;
        before = out->log_likelihood;
    }
    return true;
}

/* Fisher's discriminant: inverse covariance times the difference of the means. */
static bool discriminant(const parts *of, double axis[3])
{
    double found[3] = {0, 0, 0}, square = 0;
    const double sign = of->mean[1][0] >= of->mean[0][0] ? 1 : -1;
    for (int i = 0; i < 3; i++) {
        for (int j = 0; j < 3; j++)
            found[i] += sign * of->inverse[3 * i + j] * (of->mean[1][j] - of->mean[0][j]);
        square += found[i] * found[i];
    }
    if (!(square > 0) || !isfinite(square))
        return false;
    for (int i = 0; i < 3; i++)
        axis[i] = found[i] / sqrt(square);
    return true;
}

bool tdm_strand_axis(const double *lab, size_t count, double axis[3])
{
    parts best = {.log_likelihood = -INFINITY}, trial;
    bool have = false;
    for (size_t coordinate = 0; count > 1 && coordinate < 3; coordinate++) {
        if (fit(lab, count, coordinate, &trial) && trial.log_likelihood > best.log_likelihood) {
            best = trial;
            have = true;
        }
    }
    return have && discriminant(&best, axis);
}
