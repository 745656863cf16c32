/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shape, place, width and size of the fall from root to ends. */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/gradient_trust.h"
#include "measure/measure.h"
#include "measure/sensitivity.h"
#include "measure/smooth.h"
#include "measure/spread.h"

/* What the resamples give. */
typedef struct drawn {
    double *figure[TDM_FALL_FIGURES]; /* resamples each */
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

static void figures_of(const tdm_measure_input *input, const tdm_shape_fit *fit, const double *lab,
                       const double *values, double out[TDM_FALL_FIGURES])
{
    const int step = tdm_fall_main_step(fit);
    const bool flat = fit->shape == TDM_SHAPE_UNIFORM || fit->shape == TDM_SHAPE_RAMP;
    const tdm_shape_fit line = flat ? straight_line(input->fall, values) : *fit;
    out[TDM_FALL_CENTRE] = flat ? NAN : fit->centre[step];
    out[TDM_FALL_WIDTH] = flat ? NAN : TDM_RISE_PER_SIGMA * fit->sigma[step];
    out[TDM_FALL_DE00] = flat ? NAN : side_difference(input, fit, lab);
    out[TDM_FALL_SLOPE] = lightness_slope(input->fall, &line);
}

static bool allocate(size_t resamples, size_t points, drawn *out)
{
    bool good = true;
    for (int k = 0; k < TDM_FALL_FIGURES; k++) {
        out->figure[k] = malloc(resamples * sizeof *out->figure[k]);
        good = good && out->figure[k];
    }
    out->lstar = malloc(points * resamples * sizeof *out->lstar);
    return good && out->lstar;
}

static void release(drawn *out)
{
    for (int k = 0; k < TDM_FALL_FIGURES; k++)
        free(out->figure[k]);
    free(out->lstar);
}

static void keep(const double figures[TDM_FALL_FIGURES], drawn *out)
{
    for (int k = 0; k < TDM_FALL_FIGURES; k++)
        out->figure[k][out->count] = figures[k];
    out->count++;
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
        if (tdm_shape_refit(&course, &input->fall->fit, &fit)) {
            double figures[TDM_FALL_FIGURES];
            figures_of(input, &fit, lab, values, figures);
            keep(figures, out);
        }
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

/* A share of the path's length has no scale in it. */
static void put_places(const tdm_measure_input *input, const double own[TDM_FALL_FIGURES],
                       const tdm_budget parts[TDM_FALL_FIGURES], struct tdm_zone_reading *out)
{
    const double length = input->strip->length, mm = tdm_mm(input->strip, 1);
    tdm_value *const in_mm[] = {&out->gradient.centre_mm, &out->gradient.width_mm};
    tdm_value *const in_shares[] = {&out->gradient.centre_share, &out->gradient.width_share};
    for (int k = TDM_FALL_CENTRE; k <= TDM_FALL_WIDTH; k++) {
        tdm_budget share = tdm_budget_times(&parts[k], 1 / length), whole = tdm_budget_times(&parts[k], mm);
        share.part[TDM_PART_SCALE] = share.part[TDM_PART_PLANE] = 0;
        tdm_put(out, in_mm[k], mm * own[k], &whole);
        tdm_put(out, in_shares[k], own[k] / length, &share);
    }
}

static tdm_code report(const tdm_measure_input *input, drawn *draws, struct tdm_zone_reading *out,
                       tdm_error *error)
{
    const tdm_fall *fall = input->fall;
    double own[TDM_FALL_FIGURES], gloss[TDM_FALL_FIGURES], light[TDM_FALL_FIGURES];
    tdm_budget parts[TDM_FALL_FIGURES];
    const tdm_code code = tdm_fall_sensitivity(input, figures_of, gloss, light, error);
    if (code != TDM_OK)
        return code;
    figures_of(input, &fall->fit, fall->lab, fall->value, own);
    for (int k = 0; k < TDM_FALL_FIGURES; k++) {
        const double sampling = tdm_half_range(draws->figure[k], draws->count) / 2;
        const bool length = k == TDM_FALL_CENTRE || k == TDM_FALL_WIDTH;
        parts[k] = length ? tdm_length_budget(input->sources, own[k], sampling)
                          : tdm_difference_budget(input->sources, out->overall.lab[0], own[k], sampling, 0);
        parts[k].part[TDM_PART_GLOSS] = gloss[k];
        parts[k].part[TDM_PART_LIGHT] = light[k];
    }
    out->gradient.shape = tdm_shape_word(fall->fit.shape);
    put_places(input, own, parts, out);
    const double per_cm = 10 * tdm_mm(input->strip, 1);
    const tdm_budget slope = tdm_budget_times(&parts[TDM_FALL_SLOPE], per_cm);
    tdm_put(out, &out->gradient.de00, own[TDM_FALL_DE00], &parts[TDM_FALL_DE00]);
    tdm_put(out, &out->gradient.slope_lstar_per_cm, per_cm * own[TDM_FALL_SLOPE], &slope);
    return TDM_OK;
}

static tdm_code compute(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_warnings *warnings,
                        tdm_error *error)
{
    tdm_profile *profile = &out->gradient.profile;
    tdm_code code = make_profile(input, profile, error);
    if (code != TDM_OK)
        return code;
    drawn draws = {0};
    code = draw_all(input, profile, &draws, error);
    if (code == TDM_OK) {
        finish_profile(input, &draws, profile);
        code = report(input, &draws, out, error);
    }
    release(&draws);
    return code == TDM_OK ? tdm_gradient_trust(input, out, warnings, error) : code;
}

const tdm_measure tdm_measure_gradient = {.name = "gradient", .compute = compute};
