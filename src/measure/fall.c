/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/fall.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/fall_judge.h"
#include "measure/gloss.h"
#include "measure/matte.h"

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

/* Colour of a bin without gloss and light; false where no cell is used. */
static bool bin_lab(const tdm_fall *fall, const tdm_columns *columns, size_t bin, const uint16_t *times,
                    double lab[3])
{
    double xyz[3];
    if (!tdm_columns_mean(columns, bin, bin + 1, times, xyz))
        return false;
    tdm_matte_colour(xyz, fall->gloss[bin], fall->light[bin], xyz);
    tdm_xyz_to_lab(xyz, lab);
    return true;
}

/* Mean of light over the bins, each by its weight. */
static bool region_lab(const tdm_fall *fall, size_t from, size_t to, double lab[3])
{
    double sum[3] = {0, 0, 0}, weights = 0;
    for (size_t i = from; i < to; i++) {
        double xyz[3];
        tdm_lab_to_xyz(fall->lab + 3 * i, xyz);
        for (int k = 0; k < 3; k++)
            sum[k] += fall->weight[i] * xyz[k];
        weights += fall->weight[i];
    }
    for (int k = 0; k < 3; k++)
        sum[k] /= weights;
    if (weights > 0)
        tdm_xyz_to_lab(sum, lab);
    return weights > 0;
}

static double distance(const double a[3], const double b[3])
{
    return sqrt((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]) +
                (a[2] - b[2]) * (a[2] - b[2]));
}

/* The colour furthest from the root's, over windows as long as the root part. */
static double furthest(const tdm_fall *fall, size_t window, double lab[3])
{
    double most = 0;
    for (size_t from = 0; from + window <= fall->bins; from += window / 2 + 1) {
        double here[3];
        if (region_lab(fall, from, from + window, here) && distance(here, fall->root_lab) > most) {
            most = distance(here, fall->root_lab);
            memcpy(lab, here, sizeof here);
        }
    }
    return most;
}

/* From root to ends; where those are alike, as on a banded head, from root to whatever differs most. */
static bool colour_line(size_t part, tdm_fall *fall)
{
    double ends[3], far[3];
    bool have_root = false, have_ends = false;
    /* Unused stretches at either end are skipped over. */
    for (size_t from = 0; !have_root && from + part <= fall->bins; from++)
        have_root = region_lab(fall, from, from + part, fall->root_lab);
    for (size_t to = fall->bins; !have_ends && to >= part; to--)
        have_ends = region_lab(fall, to - part, to, ends);
    if (!have_root || !have_ends)
        return false;
    const double most = furthest(fall, part, far);
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
    fall->gloss = calloc(bins, sizeof *fall->gloss);
    fall->light = calloc(bins, sizeof *fall->light);
    fall->lab = calloc(3 * bins, sizeof *fall->lab);
    fall->value = calloc(bins, sizeof *fall->value);
    fall->weight = calloc(bins, sizeof *fall->weight);
    return fall->along && fall->gloss && fall->light && fall->lab && fall->value && fall->weight;
}

static void place_bins(const tdm_columns *columns, tdm_fall *fall)
{
    for (size_t i = 0; i < fall->bins; i++) {
        const double fill = tdm_columns_fill(columns, i);
        fall->along[i] = ((double)i + 0.5) * columns->bin;
        fall->weight[i] = fill >= least_fill ? fill : 0;
    }
}

/* What is light on the hair and along it. */
static tdm_code find_light(const tdm_strip *strip, const tdm_columns *columns, tdm_fall *fall,
                           tdm_matte_shape *shape, tdm_error *error)
{
    double *xyz = calloc(3 * fall->bins, sizeof *xyz), *scatter = calloc(fall->bins, sizeof *scatter);
    tdm_code code = xyz && scatter ? tdm_gloss_scatter(strip, fall->along, fall->bins, scatter, error)
                                   : tdm_fail_memory(error, NULL);
    if (code == TDM_OK) {
        for (size_t i = 0; i < fall->bins; i++)
            (void)tdm_columns_mean(columns, i, i + 1, NULL, xyz + 3 * i); /* without cells it has no weight */
        const tdm_seen_course course = {.along = fall->along,
                                        .xyz = xyz,
                                        .weight = fall->weight,
                                        .gloss = scatter,
                                        .count = fall->bins,
                                        .length = fall->length};
        code = tdm_matte_find(&course, fall->gloss, fall->light, shape, error);
    }
    free(xyz);
    free(scatter);
    return code;
}

/* Colours of the bins on the colour line, and the shape of their course. */
static tdm_code shape_along_line(tdm_fall *fall, tdm_error *error)
{
    for (size_t i = 0; i < fall->bins; i++)
        fall->value[i] = tdm_fall_project(fall, fall->lab + 3 * i);
    const tdm_course course = tdm_fall_course(fall, NULL);
    return tdm_shape_choose(&course, TDM_JND_LAB, &fall->fit, error);
}

/* The direction in which a band stands out from what lies on either side of it. */
static bool band_direction(const tdm_matte_shape *shape, double direction[3])
{
    double way[2] = {0, 0}, length = 0;
    for (int i = 0; i < 2; i++)
        for (int k = 0; k < 3; k++)
            way[i] += shape->step[i][k] * shape->step[i][k];
    if (!(way[0] > 0 && way[1] > 0))
        return false;
    for (int k = 0; k < 3; k++) {
        direction[k] = shape->step[0][k] / sqrt(way[0]) - shape->step[1][k] / sqrt(way[1]);
        length += direction[k] * direction[k];
    }
    for (int k = 0; k < 3; k++)
        direction[k] /= sqrt(length);
    return length > 1e-6;
}

/* A band whose colour lies beside the line from root to ends (a hot root as deep as the lengths) doesn't show
 * along it. */
static tdm_code try_band(const tdm_matte_shape *shape, tdm_fall *fall, tdm_error *error)
{
    const tdm_shape_fit before = fall->fit;
    double line[3];
    memcpy(line, fall->direction, sizeof line);
    if (shape->shape != TDM_SHAPE_BAND || before.shape == TDM_SHAPE_BAND ||
        !band_direction(shape, fall->direction))
        return TDM_OK;
    const tdm_code code = shape_along_line(fall, error);
    if (code != TDM_OK || fall->fit.shape == TDM_SHAPE_BAND)
        return code;
    memcpy(fall->direction, line, sizeof line);
    for (size_t i = 0; i < fall->bins; i++)
        fall->value[i] = tdm_fall_project(fall, fall->lab + 3 * i);
    fall->fit = before;
    return TDM_OK;
}

static tdm_code find_shape(const tdm_columns *columns, const tdm_matte_shape *shape, tdm_fall *fall,
                           tdm_error *error)
{
    for (size_t i = 0; i < fall->bins; i++)
        (void)bin_lab(fall, columns, i, NULL, fall->lab + 3 * i);
    if (!colour_line(tdm_root_bins(columns, fall->length), fall))
        return tdm_fail(error, TDM_ERR_UNUSABLE, NULL, NULL, "nothing of the zone can be used");
    tdm_code code = shape_along_line(fall, error);
    if (code == TDM_OK)
        code = try_band(shape, fall, error);
    return code == TDM_OK ? tdm_fall_judge(fall, error) : code;
}

tdm_code tdm_fall_make(const tdm_strip *strip, const tdm_columns *columns, tdm_fall *out, tdm_error *error)
{
    tdm_fall fall = {.length = strip->length};
    tdm_matte_shape shape;
    tdm_code code = allocate(columns->bins, &fall) ? TDM_OK : tdm_fail_memory(error, NULL);
    if (code == TDM_OK) {
        place_bins(columns, &fall);
        code = find_light(strip, columns, &fall, &shape, error);
    }
    if (code == TDM_OK)
        code = find_shape(columns, &shape, &fall, error);
    if (code == TDM_OK)
        *out = fall;
    else
        tdm_fall_free(&fall);
    return code;
}

void tdm_fall_free(tdm_fall *fall)
{
    free(fall->along);
    free(fall->gloss);
    free(fall->light);
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
        (void)bin_lab(fall, columns, i, times, here);
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
