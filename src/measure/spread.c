/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/spread.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>

double tdm_quantile(double *values, size_t count, double q)
{
    if (count == 0)
        return NAN;
    gsl_sort(values, 1, count);
    return gsl_stats_quantile_from_sorted_data(values, 1, count, q);
}

double tdm_half_range(double *values, size_t count)
{
    if (count < 20)
        return NAN;
    gsl_sort(values, 1, count);
    return 0.5 * (gsl_stats_quantile_from_sorted_data(values, 1, count, 0.975) -
                  gsl_stats_quantile_from_sorted_data(values, 1, count, 0.025));
}

double tdm_robust_sd(double *values, size_t count)
{
    const double median = tdm_quantile(values, count, 0.5);
    for (size_t i = 0; i < count; i++)
        values[i] = fabs(values[i] - median);
    return 1.482602 * tdm_quantile(values, count, 0.5);
}

double tdm_quadrature(double a, double b)
{
    return sqrt(a * a + b * b);
}
