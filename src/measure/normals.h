/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One, two or three normal populations with one common standard deviation in weighted values, by
 * expectation-maximisation (Dempster, Laird and Rubin 1977), and how many there are, by BIC (Schwarz 1978).
 */
#ifndef TDM_MEASURE_NORMALS_H
#define TDM_MEASURE_NORMALS_H

#include <stdbool.h>
#include <stddef.h>

enum { TDM_NORMALS_MOST = 3 };

typedef struct tdm_normals {
    size_t parts;                   /* 1 to TDM_NORMALS_MOST */
    double mean[TDM_NORMALS_MOST];  /* rising */
    double share[TDM_NORMALS_MOST]; /* sum 1 */
    double sd;                      /* of each */
    double log_likelihood;          /* of all values, each as often as its weight */
} tdm_normals;

/* Values need not be sorted; those without weight above 0 don't count; at least one must. */
typedef struct tdm_weighted {
    const double *values, *weights; /* count of each */
    size_t count;
    double least_sd; /* fits hold their sd above it */
} tdm_weighted;

/* The cuts that leave least variance within the parts: Otsu (1979), whose section on several thresholds also
 * has the three parts. False for fewer different values than parts. */
bool tdm_normals_start(const tdm_weighted *of, size_t parts, tdm_normals *out);

/* From a start to where the likelihood no longer grows (or `rounds`). False where a part dies out. */
bool tdm_normals_climb(const tdm_weighted *of, size_t rounds, const tdm_normals *start, tdm_normals *out);

/* The likeliest from several starts. False where none keeps all its parts. */
bool tdm_normals_fit(const tdm_weighted *of, size_t parts, tdm_normals *out);

/* Bayesian information criterion, less is better, of values that stand for `effective` independent ones. */
double tdm_normals_bic(const tdm_normals *normals, const tdm_weighted *of, double effective);

/* What parts must have to count. */
typedef struct tdm_normals_limits {
    double effective;  /* independent values that the weights stand for */
    double margin;     /* by which more parts must lower the BIC; 10 is very strong (Kass and Raftery 1995) */
    double separation; /* of neighbours, at least */
    double share;      /* of each, at least */
    size_t most;       /* parts, at most; 1 to TDM_NORMALS_MOST */
} tdm_normals_limits;

/* As few parts as explain the values. False for no values. */
bool tdm_normals_choose(const tdm_weighted *of, const tdm_normals_limits *limits, tdm_normals *out);

/* Probability that a value belongs to each part; sum 1. */
void tdm_normals_posterior(const tdm_normals *normals, double value, double out[TDM_NORMALS_MOST]);

/* Ashman, Bird and Zepf (1994): distance of part `lower` and the next in units of their sd; above 2 for a
 * clean separation. */
double tdm_normals_separation(const tdm_normals *normals, size_t lower);

#endif
