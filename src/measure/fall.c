/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/fall.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"

static const double least_fill = 0.2;
static const double root_share = 0.1, root_most = 20; /* fixed by the reading's definition of root and ends */

size_t tdm_root_bins(const tdm_columns *columns, double length)
{
    const double part = fmin(root_share * length, root_most);
    size_t bins = (size_t)(part / columns->bin + 0.5);
    if (bins < 1)
        bins = 1;
    return bins < columns->bins ? bins : columns->bins;
}

static void bin_lab(const tdm_columns *columns, size_t bin, const uint16_t *times, double lab[3])
{
    double xyz[3];
    if (tdm_columns_mean(columns, bin, bin + 1, times, xyz))
        tdm_xyz_to_lab(xyz, lab);
}

static bool region_lab(const tdm_columns *columns, size_t from, size_t to, double lab[3])
{
    double xyz[3];
    if (!tdm_columns_mean(columns, from, to, NULL, xyz))
        return false;
    tdm_xyz_to_lab(xyz, lab);
    return true;
}

static double distance(const double a[3], const double b[3])
{
    return sqrt((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]) +
                (a[2] - b[2]) * (a[2] - b[2]));
}

/* The colour furthest from the root's, over windows as long as the root part. */
static double furthest(const tdm_columns *columns, size_t window, const double root[3], double lab[3])
{
    double most = 0;
    for (size_t from = 0; from + window <= columns->bins; from += window / 2 + 1) {
        double here[3];
        if (region_lab(columns, from, from + window, here) && distance(here, root) > most) {
            most = distance(here, root);
            memcpy(lab, here, sizeof here);
        }
    }
    return most;
}

/* From root to ends; where those are alike, as on a banded head, from root to whatever differs most. */
static bool colour_line(const tdm_columns *columns, tdm_fall *fall)
{
    const size_t part = tdm_root_bins(columns, fall->length);
    double ends[3], far[3];
    bool have_root = false, have_ends = false;
    /* Unused stretches at either end are skipped over. */
    for (size_t from = 0; !have_root && from + part <= columns->bins; from++)
        have_root = region_lab(columns, from, from + part, fall->root_lab);
    for (size_t to = columns->bins; !have_ends && to >= part; to--)
        have_ends = region_lab(columns, to - part, to, ends);
    if (!have_root || !have_ends)
        return false;
    const double most = furthest(columns, part, fall->root_lab, far);
    const double *target = distance(ends, fall->root_lab) < 0.5 * most ? far : ends;
    const double length = distance(target, fall->root_lab);
    if (length < 1e-6) {
        fall->direction[0] = 1; /* no difference at all: lightness will do */
        return true;
    }
    for (int i = 0; i < 3; i++)
        fall->direction[i] = (target[i] - fall->root_lab[i]) / length;
    return true;
}

double tdm_fall_project(const tdm_fall *fall, const double lab[3])
{
    double value = 0;
    for (int i = 0; i < 3; i++)
        value += (lab[i] - fall->root_lab[i]) * fall->direction[i];
    return value;
}

tdm_course tdm_fall_course(const tdm_fall *fall, const double *values)
{
    return (tdm_course){.along = fall->along,
                        .value = values ? values : fall->value,
                        .weight = fall->weight,
                        .count = fall->bins,
                        .length = fall->length};
}

static bool allocate(size_t bins, tdm_fall *fall)
{
    fall->bins = bins;
    fall->along = calloc(bins, sizeof *fall->along);
    fall->lab = calloc(3 * bins, sizeof *fall->lab);
    fall->value = calloc(bins, sizeof *fall->value);
    fall->weight = calloc(bins, sizeof *fall->weight);
    return fall->along && fall->lab && fall->value && fall->weight;
}

static void fill_bins(const tdm_columns *columns, tdm_fall *fall)
{
    for (size_t i = 0; i < fall->bins; i++) {
        const double fill = tdm_columns_fill(columns, i);
        fall->along[i] = ((double)i + 0.5) * columns->bin;
        fall->weight[i] = fill >= least_fill ? fill : 0;
        bin_lab(columns, i, NULL, fall->lab + 3 * i);
        fall->value[i] = tdm_fall_project(fall, fall->lab + 3 * i);
    }
}

tdm_code tdm_fall_make(const tdm_columns *columns, double length, tdm_fall *out, tdm_error *error)
{
    tdm_fall fall = {.length = length};
    if (!allocate(columns->bins, &fall)) {
        tdm_fall_free(&fall);
        return tdm_fail_memory(error, NULL);
    }
    if (!colour_line(columns, &fall)) {
        tdm_fall_free(&fall);
        return tdm_fail(error, TDM_ERR_UNUSABLE, NULL, NULL, "nothing of the zone can be used");
    }
    fill_bins(columns, &fall);
    const tdm_course course = tdm_fall_course(&fall, NULL);
    const tdm_code code = tdm_shape_choose(&course, TDM_JND_LAB, &fall.fit, error);
    if (code != TDM_OK) {
        tdm_fall_free(&fall);
        return code;
    }
    *out = fall;
    return TDM_OK;
}

void tdm_fall_free(tdm_fall *fall)
{
    free(fall->along);
    free(fall->lab);
    free(fall->value);
    free(fall->weight);
    *fall = (tdm_fall){0};
}

void tdm_fall_resample(const tdm_fall *fall, const tdm_columns *columns, const uint16_t *times, double *lab,
                       double *values)
{
    for (size_t i = 0; i < fall->bins; i++) {
        double here[3];
        memcpy(here, fall->lab + 3 * i, sizeof here);
        bin_lab(columns, i, times, here);
        if (lab)
            memcpy(lab + 3 * i, here, sizeof here);
        if (values)
            values[i] = tdm_fall_project(fall, here);
    }
}

int tdm_fall_main_step(const tdm_shape_fit *fit)
{
    /* In a band the eye takes the line to be the side nearer the root. */
    return fit->shape == TDM_SHAPE_BAND && fit->centre[1] < fit->centre[0] ? 1 : 0;
}

double tdm_fall_width(const tdm_fall *fall)
{
    return TDM_RISE_PER_SIGMA * fall->fit.sigma[tdm_fall_main_step(&fall->fit)];
}
