/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_axis.h"

#include <gsl/gsl_linalg.h>
#include <gsl/gsl_sort.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "measure/strand_tint.h"

enum { MOST_ROUNDS = 100, TRIAL_ROUNDS = 12, TRIAL_PLACES = 2048 };
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

/* What a start may sort colours by: each coordinate; and what shade leaves alone, a* and b* over L* + 16,
 * where lightened hair gains yellow and loses red. */
enum { FEATURES = 5 };

static double feature_of(const double *lab, int feature)
{
    const double yellow = (lab[2] - lab[1]) / (lab[0] + 16);
    return feature < 3 ? lab[feature] : feature == 3 ? yellow : lab[0] / 100 + yellow;
}

/* The lighter part is small in few lights, large in many; a cut near the middle finds neither. */
static const double cuts[] = {0.5, 0.88, 0.12};
enum { CUTS = sizeof cuts / sizeof cuts[0] };

static bool start(const double *lab, size_t count, int feature, double at, parts *out)
{
    sums gathered;
    memset(&gathered, 0, sizeof gathered);
    for (size_t k = 0; k < count; k++)
        add(&gathered, lab + 3 * k, feature_of(lab + 3 * k, feature) > at);
    return settle(&gathered, out);
}

static bool climb(const double *lab, size_t count, int rounds, parts *of)
{
    double before = -INFINITY;
    for (int round = 0; round < rounds; round++) {
        if (!one_round(lab, count, of))
            return false;
        if (of->log_likelihood - before < 1e-7)
            break;
        before = of->log_likelihood;
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

static double scored(const double *lab, const double axis[3])
{
    return axis[0] * lab[0] + axis[1] * lab[1] + axis[2] * lab[2];
}

static double bimodality_along(const double *lab, size_t count, const double axis[3])
{
    double mean = 0, moment[3] = {0, 0, 0};
    for (size_t k = 0; k < count; k++)
        mean += scored(lab + 3 * k, axis) / (double)count;
    for (size_t k = 0; k < count; k++) {
        const double d = scored(lab + 3 * k, axis) - mean;
        moment[0] += d * d / (double)count;
        moment[1] += d * d * d / (double)count;
        moment[2] += d * d * d * d / (double)count;
    }
    return tdm_bimodality(moment[0], moment[1], moment[2]);
}

/* A split that shade could have made counts less than any that it couldn't. */
static double merit(const double *lab, size_t count, const parts *of)
{
    double axis[3];
    const int light = of->mean[1][0] >= of->mean[0][0];
    if (!discriminant(of, axis))
        return -INFINITY;
    const double bimodal = bimodality_along(lab, count, axis);
    return tdm_is_shade(of->mean[light], of->mean[!light]) ? bimodal - 1 : bimodal;
}

static bool try_starts(const double *lab, size_t count, double *sorted, parts *out)
{
    double best = -INFINITY;
    for (int feature = 0; feature < FEATURES; feature++) {
        for (size_t k = 0; k < count; k++)
            sorted[k] = feature_of(lab + 3 * k, feature);
        gsl_sort(sorted, 1, count);
        for (size_t i = 0; i < CUTS; i++) {
            parts trial;
            const double at = sorted[(size_t)(cuts[i] * (double)(count - 1))];
            if (!start(lab, count, feature, at, &trial) || !climb(lab, count, TRIAL_ROUNDS, &trial))
                continue;
            const double here = merit(lab, count, &trial);
            if (here > best) {
                best = here;
                *out = trial;
            }
        }
    }
    return isfinite(best);
}

tdm_code tdm_strand_axis(const double *lab, size_t count, double axis[3], bool *found, tdm_error *error)
{
    const size_t step = count / TRIAL_PLACES + 1, few = count / step;
    double *thinned = malloc((4 * few + 1) * sizeof *thinned);
    if (!thinned)
        return tdm_fail_memory(error, NULL);
    for (size_t k = 0; k < few; k++)
        memcpy(thinned + 3 * k, lab + 3 * k * step, 3 * sizeof *thinned);
    parts best;
    *found = few > 1 && try_starts(thinned, few, thinned + 3 * few, &best) &&
             climb(lab, count, MOST_ROUNDS, &best) && discriminant(&best, axis);
    free(thinned);
    return TDM_OK;
}
