/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Exposure and white balance from one or more neutral references of known lightness. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "colour/sample.h"

enum { FEWEST_PIXELS = 25, ROUNDS = 20 };
static const double most_clipped = 0.02; /* share of pixels with a channel at its top */
static const double darkest = 0.001;     /* linear: below about 3 of 255 in sRGB nothing is read off */
static const double most_cast = 4;       /* two stops between channels: no neutral card, or no usable light */
static const double most_gain = 8;       /* three stops of exposure */
static const double tuning = 1.345;      /* Huber 1981: 95 % efficiency on normal errors */
static const double least_scale = 0.005; /* in cube roots: about half a unit of L* */
static const double disagreement = 2;    /* L*: from here on a warning */

/* Standard uncertainty: a camera's own contrast (choice: exponent 1 +- 0.15) moves hair of L* 30 against the
 * card; mixing of channels and a card that isn't quite neutral leave about 3 in a* and b* (choice). */
static const double contrast_u = 0.15, hair_lstar = 30, u_ab_grey = 3;

/* Cube roots, in which errors are about even in lightness. */
typedef struct reference {
    double measured[3];
    double wanted;
} reference;

static double luminance(double lstar)
{
    const double lab[3] = {lstar, 0, 0};
    double xyz[3];
    tdm_lab_to_xyz(lab, xyz);
    return xyz[1];
}

static double lightness(double y)
{
    const double xyz[3] = {y * tdm_white_d50[0], y, y * tdm_white_d50[2]};
    double lab[3];
    tdm_xyz_to_lab(xyz, lab);
    return lab[0];
}

static const char *fault(const tdm_sample *sample, double wanted)
{
    double low = INFINITY, high = 0;
    if (sample->used < FEWEST_PIXELS)
        return "the grey reference is too small: mark at least 5 by 5 pixels";
    if (sample->clipped_share > most_clipped)
        return "the grey reference is clipped: retake with less exposure or a darker card";
    for (int c = 0; c < 3; c++) {
        low = fmin(low, sample->rgb[c]);
        high = fmax(high, sample->rgb[c]);
    }
    if (low < darkest)
        return "the grey reference is black: retake with more light";
    if (high / low > most_cast)
        return "the grey reference is strongly coloured: mark a neutral card, or retake in white light";
    if (wanted / low > most_gain || high / wanted > most_gain)
        return "the grey reference is more than three stops from its stated lightness: check its lstar";
    return NULL;
}

static tdm_code measure(const tdm_device *device, const tdm_pixels *pixels, const tdm_grey *grey,
                        size_t index, const char *file, reference *out, tdm_error *error)
{
    char place[32];
    (void)snprintf(place, sizeof place, "grey[%zu]", index);
    if (!(grey->lstar >= 5 && grey->lstar <= 100) || grey->count < 3)
        return tdm_fail(error, TDM_ERR_UNUSABLE, file, place,
                        "a grey reference needs three points or more and an lstar of 5 to 100");
    tdm_sample sample;
    const tdm_code code = tdm_sample_polygon(device, pixels, grey->polygon, grey->count, &sample, error);
    if (code != TDM_OK)
        return code;
    const double wanted = luminance(grey->lstar);
    const char *wrong = fault(&sample, wanted);
    if (wrong)
        return tdm_fail(error, TDM_ERR_UNUSABLE, file, place, "%s", wrong);
    for (int c = 0; c < 3; c++)
        out->measured[c] = cbrt(sample.rgb[c]);
    out->wanted = cbrt(wanted);
    return TDM_OK;
}

/* Per channel the factor on cube roots that fits the weighted references best. */
static void fit_roots(const reference *list, const double *weights, size_t count, double root[3])
{
    for (int c = 0; c < 3; c++) {
        double product = 0, square = 0;
        for (size_t i = 0; i < count; i++) {
            product += weights[i] * list[i].measured[c] * list[i].wanted;
            square += weights[i] * list[i].measured[c] * list[i].measured[c];
        }
        root[c] = product / square;
    }
}

static double misfit(const reference *one, const double root[3])
{
    double square = 0;
    for (int c = 0; c < 3; c++) {
        const double miss = root[c] * one->measured[c] - one->wanted;
        square += miss * miss;
    }
    return sqrt(square / 3);
}

static int compare_doubles(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Huber weights on a scale from the median misfit. scratch: room for count. */
static void weigh(const reference *list, size_t count, const double root[3], double *weights, double *scratch)
{
    for (size_t i = 0; i < count; i++)
        scratch[i] = misfit(&list[i], root);
    qsort(scratch, count, sizeof *scratch, compare_doubles);
    const double limit = tuning * fmax(1.4826 * scratch[count / 2], least_scale);
    for (size_t i = 0; i < count; i++) {
        const double miss = misfit(&list[i], root);
        weights[i] = miss > limit ? limit / miss : 1;
    }
}

/* What the camera's unknown contrast may do to hair, seen from the card nearest to it in lightness. */
static double contrast_error(const tdm_grey *greys, size_t count)
{
    double nearest = greys[0].lstar;
    for (size_t i = 1; i < count; i++) {
        if (fabs(greys[i].lstar - hair_lstar) < fabs(nearest - hair_lstar))
            nearest = greys[i].lstar;
    }
    const double ratio = luminance(hair_lstar) / luminance(nearest);
    return fabs(lightness(luminance(nearest) * pow(ratio, 1 + contrast_u)) - hair_lstar);
}

static tdm_code warn_disagreement(double spread, tdm_warnings *warnings, tdm_error *error)
{
    if (spread <= disagreement)
        return TDM_OK;
    return tdm_warn(
        warnings, error, "grey-disagrees", NULL,
        "the grey references disagree by %d in L* after the correction: the light is uneven, or a "
        "stated lstar is wrong",
        (int)lround(spread));
}

static double fit(const reference *list, size_t count, double *weights, double *scratch, double root[3])
{
    double square = 0;
    for (size_t i = 0; i < count; i++)
        weights[i] = 1;
    for (int round = 0; round < ROUNDS; round++) {
        fit_roots(list, weights, count, root);
        weigh(list, count, root, weights, scratch);
    }
    for (size_t i = 0; i < count; i++)
        square += misfit(&list[i], root) * misfit(&list[i], root);
    return 116 * sqrt(square / (double)count); /* L* is 116 cube roots of Y, less 16 */
}

tdm_code tdm_calibrate_grey(const tdm_device *device, const tdm_pixels *pixels, const tdm_grey *greys,
                            size_t count, const char *file, tdm_warnings *warnings, tdm_calibration *out,
                            tdm_error *error)
{
    if (count == 0)
        return tdm_fail(error, TDM_ERR_USAGE, file, "grey", "no grey reference was given");
    reference *list = malloc(count * sizeof *list);
    double *weights = malloc(2 * count * sizeof *weights);
    tdm_code code = list && weights ? TDM_OK : tdm_fail_memory(error, file);
    for (size_t i = 0; code == TDM_OK && i < count; i++)
        code = measure(device, pixels, &greys[i], i, file, &list[i], error);
    if (code == TDM_OK) {
        double root[3];
        const double spread = fit(list, count, weights, weights + count, root);
        tdm_calibration fitted = tdm_calibration_none(device);
        fitted.method = TDM_CALIBRATION_GREY;
        for (int c = 0; c < 3; c++)
            fitted.gain[c] = root[c] * root[c] * root[c];
        fitted.u_lstar = hypot(contrast_error(greys, count), spread);
        fitted.u_ab = u_ab_grey;
        code = warn_disagreement(spread, warnings, error);
        if (code == TDM_OK)
            *out = fitted;
    }
    free(weights);
    free(list);
    return code;
}
