/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shape, place, width and size of the fall from root to ends. */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/measure.h"
#include "measure/smooth.h"
#include "measure/spread.h"

/* What one resample gives. */
typedef struct drawn {
    double *centre, *width, *de00, *slope; /* resamples each */
    size_t count;
    double *lstar; /* points * resamples: smoothed profile */
} drawn;

/* Mean colours on both sides of the change: outside its 10 % and 90 % points, at least the root and ends
 * parts. */
static double side_difference(const tdm_measure_input *input, const tdm_shape_fit *fit, const double *lab)
{
    const tdm_fall *fall = input->fall;
    const int step = tdm_fall_main_step(fit);
    const double half = 0.5 * TDM_RISE_PER_SIGMA * fit->sigma[step];
    const double part = (double)tdm_root_bins(input->columns, fall->length) * input->columns->bin;
    const double near = fmax(fit->centre[step] - half, part);
    double far = fmin(fit->centre[step] + half, fall->length - part), far_end = fall->length;
    if (fit->shape == TDM_SHAPE_BAND) /* the far side of the first step ends where the second begins */
        far_end = fmax(fit->centre[1 - step] - 0.5 * TDM_RISE_PER_SIGMA * fit->sigma[1 - step], far + part);
    double sums[2][4] = {{0}};
    for (size_t i = 0; i < fall->bins; i++) {
        const double along = fall->along[i];
        const int side = along <= near ? 0 : along >= far && along <= far_end ? 1 : -1;
        if (side < 0 || fall->weight[i] <= 0)
            continue;
        double xyz[3];
        tdm_lab_to_xyz(lab + 3 * i, xyz);
        for (int k = 0; k < 3; k++)
            sums[side][k] += fall->weight[i] * xyz[k];
        sums[side][3] += fall->weight[i];
    }
    double sides[2][3];
    for (int side = 0; side < 2; side++) {
        if (sums[side][3] <= 0)
            return NAN;
        for (int k = 0; k < 3; k++)
            sums[side][k] /= sums[side][3];
        tdm_xyz_to_lab(sums[side], sides[side]);
    }
    return tdm_de00(sides[0], sides[1]);
}

/* Mean slope of L* between the 10 % and 90 % points of a change, of the whole course otherwise; per unit of
 * length. */
static double lightness_slope(const tdm_fall *fall, const tdm_shape_fit *fit)
{
    if (fit->shape == TDM_SHAPE_UNIFORM || fit->shape == TDM_SHAPE_RAMP)
        return fit->slope * fall->direction[0];
    const int step = tdm_fall_main_step(fit);
    return (0.8 * fit->step[step] / (TDM_RISE_PER_SIGMA * fit->sigma[step]) + fit->slope) *
           fall->direction[0];
}

static tdm_shape_fit straight_line(const tdm_fall *fall, const double *values)
{
    tdm_shape_fit fit = {.shape = TDM_SHAPE_RAMP};
    const tdm_course course = tdm_fall_course(fall, values);
    if (!tdm_shape_refit(&course, &fit, &fit))
        fit.slope = NAN;
    return fit;
}

static void keep(const tdm_measure_input *input, const tdm_shape_fit *fit, const double *lab,
                 const double *values, drawn *out)
{
    const size_t i = out->count++;
    const int step = tdm_fall_main_step(fit);
    const bool flat = fit->shape == TDM_SHAPE_UNIFORM || fit->shape == TDM_SHAPE_RAMP;
    const tdm_shape_fit line = flat ? straight_line(input->fall, values) : *fit;
    out->centre[i] = flat ? NAN : fit->centre[step];
    out->width[i] = flat ? NAN : TDM_RISE_PER_SIGMA * fit->sigma[step];
    out->de00[i] = flat ? NAN : side_difference(input, fit, lab);
    out->slope[i] = lightness_slope(input->fall, &line);
}

static bool allocate(size_t resamples, size_t points, drawn *out)
{
    out->centre = malloc(resamples * sizeof(double));
    out->width = malloc(resamples * sizeof(double));
    out->de00 = malloc(resamples * sizeof(double));
    out->slope = malloc(resamples * sizeof(double));
    out->lstar = malloc(points * resamples * sizeof(double));
    return out->centre && out->width && out->de00 && out->slope && out->lstar;
}

static void release(drawn *out)
{
    free(out->centre);
    free(out->width);
    free(out->de00);
    free(out->slope);
    free(out->lstar);
}

static tdm_code draw_all(const tdm_measure_input *input, const tdm_profile *profile, drawn *out,
                         tdm_error *error)
{
    const size_t bins = input->fall->bins, resamples = input->resampling->resamples;
    double *lab = malloc(3 * bins * sizeof *lab), *values = malloc(bins * sizeof *values);
    if (!lab || !values || !allocate(resamples, profile->count, out)) {
        free(lab);
        free(values);
        return tdm_fail_memory(error, NULL);
    }
    for (size_t i = 0; i < resamples; i++) {
        tdm_fall_resample(input->fall, input->columns, input->resampling->times + i * input->columns->blocks,
                          lab, values);
        for (size_t k = 0; k < profile->count; k++) {
            double smooth[3];
            tdm_smooth_lab(input->fall, lab, profile->points[k].along, smooth);
            out->lstar[k * resamples + i] = smooth[0];
        }
        tdm_shape_fit fit;
        const tdm_course course = tdm_fall_course(input->fall, values);
        if (tdm_shape_refit(&course, &input->fall->fit, &fit))
            keep(input, &fit, lab, values, out);
    }
    free(lab);
    free(values);
    return TDM_OK;
}

/* The profile's points, still in the strip's units. */
static tdm_code make_profile(const tdm_measure_input *input, tdm_profile *out, tdm_error *error)
{
    const tdm_fall *fall = input->fall;
    const double step = fmax(fall->length / 100, input->columns->bin);
    const size_t count = (size_t)(fall->length / step + 1e-9);
    out->points = malloc(count * sizeof *out->points);
    if (!out->points)
        return tdm_fail_memory(error, NULL);
    for (size_t i = 0; i < count; i++) {
        tdm_profile_point point = {.along = ((double)i + 0.5) * step, .u = NAN};
        if (tdm_smooth_lab(fall, fall->lab, point.along, point.lab))
            out->points[out->count++] = point;
    }
    return TDM_OK;
}

static void finish_profile(const tdm_measure_input *input, const drawn *draws, tdm_profile *profile)
{
    const double unit = input->strip->scaled ? 1 : 1 / input->strip->length;
    const size_t resamples = input->resampling->resamples;
    for (size_t k = 0; k < profile->count; k++) {
        profile->points[k].u = tdm_half_range(draws->lstar + k * resamples, resamples);
        profile->points[k].along *= unit;
    }
}

static void report(const tdm_measure_input *input, drawn *draws, const drawn *own,
                   struct tdm_zone_reading *out)
{
    const double length = input->strip->length;
    const double calibration = tdm_difference_u(input->calibration, out->overall.lab[0]);
    out->gradient.shape = tdm_shape_word(input->fall->fit.shape);
    const tdm_value centre = {own->centre[0], tdm_half_range(draws->centre, draws->count)};
    const tdm_value width = {own->width[0], tdm_half_range(draws->width, draws->count)};
    out->gradient.centre_share = (tdm_value){centre.value / length, centre.u / length};
    out->gradient.width_share = (tdm_value){width.value / length, width.u / length};
    out->gradient.centre_mm = (tdm_value){tdm_mm(input->strip, centre.value), tdm_mm(input->strip, centre.u)};
    out->gradient.width_mm = (tdm_value){tdm_mm(input->strip, width.value), tdm_mm(input->strip, width.u)};
    out->gradient.de00 = (tdm_value){
        own->de00[0], tdm_quadrature(tdm_half_range(draws->de00, draws->count), calibration * own->de00[0])};
    const tdm_value slope = {own->slope[0], tdm_quadrature(tdm_half_range(draws->slope, draws->count),
                                                           calibration * own->slope[0])};
    out->gradient.slope_lstar_per_cm =
        (tdm_value){10 * tdm_mm(input->strip, 1) * slope.value, 10 * tdm_mm(input->strip, 1) * slope.u};
}

static tdm_code compute(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_warnings *warnings,
                        tdm_error *error)
{
    (void)warnings;
    tdm_profile *profile = &out->gradient.profile;
    tdm_code code = make_profile(input, profile, error);
    if (code != TDM_OK)
        return code;
    drawn draws = {0};
    double place[4];
    drawn own = {.centre = &place[0], .width = &place[1], .de00 = &place[2], .slope = &place[3]};
    code = draw_all(input, profile, &draws, error);
    if (code == TDM_OK) {
        keep(input, &input->fall->fit, input->fall->lab, input->fall->value, &own);
        finish_profile(input, &draws, profile);
        report(input, &draws, &own, out);
    }
    release(&draws);
    return code;
}

const tdm_measure tdm_measure_gradient = {.name = "gradient", .compute = compute};
