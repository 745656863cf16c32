/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Exposure, white balance, tone and uneven light from neutral references of known lightness: what comes of
 * the fit, and how far it is to be trusted. */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/greys_parts.h"

static const double disagreement = 2; /* L*: from here on a warning */

/* Standard uncertainty: a camera's own contrast (choice: exponent 1 +- 0.15) moves hair of L* 30 against the
 * card; mixing of channels and a card that isn't quite neutral leave about 3 in a* and b* (choice). */
static const double contrast_u = 0.15, hair_lstar = 30, u_ab_grey = 3;

static void set_drift(tdm_grey_fit *work)
{
    const double one = 1 / work->half;
    for (int k = 0; k < 2; k++) {
        for (int c = 0; work->calibration.light.degree == 0 && c < 3; c++)
            work->calibration.drift[k] += work->plane.terms[c][1 + k] * one / 3;
    }
    work->calibration.drift_var[0] = work->plane.variance[4] * one * one;
    work->calibration.drift_var[1] = work->plane.variance[5] * one * one;
    work->calibration.drift_var[2] = work->plane.variance[8] * one * one;
}

/* What the camera's contrast may still do to hair. */
static double contrast_left(const tdm_grey_fit *work, const tdm_step_check *steps)
{
    double nearest = work->greys[0].lstar;
    if (work->curved)
        return tdm_contrast_error(hair_lstar, steps->below, steps->above, contrast_u);
    for (size_t i = 1; i < work->count; i++) {
        if (fabs(work->greys[i].lstar - hair_lstar) < fabs(nearest - hair_lstar))
            nearest = work->greys[i].lstar;
    }
    return tdm_contrast_error(hair_lstar, nearest <= hair_lstar ? nearest : NAN,
                              nearest > hair_lstar ? nearest : NAN, contrast_u);
}

static tdm_code warn_disagreement(double spread, const tdm_step_check *steps, tdm_warnings *warnings,
                                  tdm_error *error)
{
    if (spread > disagreement)
        return tdm_warn(
            warnings, error, "grey-disagrees", NULL,
            "the grey references disagree by %ld in L* after the correction: the light is uneven in a way "
            "that they don't show, or a stated lstar is wrong; check them, or mark greys of one lightness at "
            "several places",
            lround(spread));
    if (steps->worst > 0)
        return tdm_warn(
            warnings, error, "grey-disagrees", NULL,
            "the grey references around L* %ld don't go together: one is further off the others' curve "
            "than a camera's tone is; check its lstar, and that no shadow or glare lies on it",
            lround(steps->worst_lstar));
    return TDM_OK;
}

static tdm_code judge(tdm_grey_fit *work, double spread, tdm_warnings *warnings, tdm_error *error)
{
    tdm_calibration *out = &work->calibration;
    const tdm_step_check steps =
        work->curved ? tdm_greys_check_steps(out, hair_lstar) : (tdm_step_check){.near = 0};
    out->method = TDM_CALIBRATION_GREY;
    /* A step is only half as far off as a curve that leaps over it. */
    out->u_lstar = hypot(hypot(contrast_left(work, &steps), spread), steps.near / 2);
    out->u_ab = u_ab_grey;
    out->middle[0] = work->at[0];
    out->middle[1] = work->at[1];
    if (work->pairs && !work->known)
        set_drift(work);
    tdm_code code = warn_disagreement(spread, &steps, warnings, error);
    if (code == TDM_OK && out->light.degree > 0 && !work->known)
        code = tdm_warn_uneven(&out->light, work->greys, work->count, warnings, error);
    return code;
}

tdm_code tdm_calibrate_grey(const tdm_device *device, const tdm_pixels *pixels, const tdm_grey *greys,
                            size_t count, uint32_t width, uint32_t height, const tdm_light *light,
                            const char *file, tdm_warnings *warnings, tdm_calibration *out, tdm_error *error)
{
    if (count == 0)
        return tdm_fail(error, TDM_ERR_USAGE, file, "grey", "no grey reference was given");
    tdm_grey_fit work;
    tdm_code code = tdm_grey_fit_start(&work, count, width, height) ? TDM_OK : tdm_fail_memory(error, file);
    if (code == TDM_OK)
        code = tdm_greys_measure(device, pixels, greys, count, file, work.greys, error);
    if (code == TDM_OK) {
        work.calibration = tdm_calibration_none(device);
        work.known = light;
        const double spread = tdm_grey_fit_run(&work);
        code = judge(&work, spread, warnings, error);
    }
    if (code == TDM_OK)
        *out = work.calibration;
    tdm_grey_fit_end(&work);
    return code;
}
