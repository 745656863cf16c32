/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: what the target does for real cameras, whose sensitivities aren't a matrix away from the
 * eye's. The truth is computed from published spectra, apart from the code under test. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "colour/calibration.h"
#include "colour/lab.h"
#include "colour/profiles.h"
#include "colour/spectra.h"
#include "suite.h"

static const double exposure = 0.8;

/* Spectra, observer and daylight give the colours that were computed from the same spectra elsewhere at 5 nm:
 * 0.1 CIEDE2000, of which sampling at 10 nm makes 0.08. */
START_TEST(spectra_give_their_colours)
{
    static spectra from;
    double cells[PATCHES + 1][9];
    spectra_load(&from);
    ck_assert_uint_eq(read_table("target24_lab_from_spectra.csv", &cells[0][0], 9, PATCHES + 1), PATCHES);
    for (int i = 0; i < PATCHES; i++) {
        double lab[3];
        spectrum_lab(&from, from.patch[i], lab);
        ck_assert_double_lt(tdm_de00(cells[i] + 2, lab), 0.1);
    }
}
END_TEST

static tdm_calibration calibrate(const tdm_device *device, const spectra *from, int camera_index, int light)
{
    double codes[PATCHES][3], corners[8];
    tdm_reference reference = {.measured = true};
    tdm_error error = {0};
    tdm_warnings warnings = {0};
    tdm_calibration out;
    for (int i = 0; i < PATCHES; i++) {
        double rgb[3];
        spectrum_lab(from, from->patch[i], reference.lab[i]);
        spectrum_rgb(from, camera_index, light, from->patch[i], rgb);
        for (int c = 0; c < 3; c++)
            codes[i][c] = encode_srgb(exposure * rgb[c]);
    }
    tdm_pixels pixels = draw_codes(16, codes, 24, corners);
    ck_assert_msg(tdm_calibrate_target(device, &pixels, corners, &reference, NULL, "photo.jpg", &warnings,
                                       &out, NULL, &error) == TDM_OK,
                  "%s", error.text);
    ck_assert_uint_eq(warnings.count, 0);
    free(pixels.rgb16);
    return out;
}

typedef struct hair_error {
    double mean, worst, lstar;
} hair_error;

/* Pale to black, without and with pheomelanin. */
static hair_error look_at_hair(const tdm_device *device, const spectra *from, int camera_index, int light,
                               const tdm_calibration *calibration)
{
    hair_error out = {0};
    int count = 0;
    for (int i = 0; i < 45; i++) {
        double reflectance[BANDS], wanted[3], rgb[3], lab[3];
        float encoded[3], xyz[3];
        hair_spectrum(0.01 * pow(1.5, i % 15), 0.25 * (i / 15), reflectance);
        spectrum_lab(from, reflectance, wanted);
        spectrum_rgb(from, camera_index, light, reflectance, rgb);
        for (int c = 0; c < 3; c++)
            encoded[c] = (float)encode_srgb(exposure * rgb[c]);
        tdm_device_to_xyz(device, encoded, xyz, 1);
        tdm_calibration_apply(calibration, xyz, 1);
        const double in[3] = {(double)xyz[0], (double)xyz[1], (double)xyz[2]};
        tdm_xyz_to_lab(in, lab);
        out.mean += tdm_de00(wanted, lab);
        out.worst = worse(out.worst, tdm_de00(wanted, lab));
        out.lstar = worse(out.lstar, fabs(lab[0] - wanted[0]));
        count++;
    }
    out.mean /= count;
    return out;
}

/* Three cameras under three lights: the left-one-out mean stays within 2, hair within 1 on average and 1.5 at
 * worst, in L* within 0.5. */
START_TEST(cameras_and_lights)
{
    static spectra from;
    spectra_load(&from);
    tdm_device *device = srgb_device();
    for (int camera_index = 0; camera_index < CAMERAS; camera_index++) {
        for (int light = 0; light < LIGHTS; light++) {
            const tdm_calibration fitted = calibrate(device, &from, camera_index, light);
            const hair_error hair = look_at_hair(device, &from, camera_index, light, &fitted);
            const char *name = light_names[light];
            ck_assert_msg(fitted.before_mean > 5, "%d %s", camera_index, name);
            ck_assert_msg(fitted.left_out_mean < 2, "%d %s: %g", camera_index, name, fitted.left_out_mean);
            ck_assert_msg(hair.mean < 1, "%d %s: %g", camera_index, name, hair.mean);
            ck_assert_msg(hair.worst < 1.5, "%d %s: %g", camera_index, name, hair.worst);
            ck_assert_msg(hair.lstar < 0.5, "%d %s: %g", camera_index, name, hair.lstar);
        }
    }
    tdm_device_free(device);
}
END_TEST

/* Root terms are taken under a lamp, where they help most; neutrals stay neutral, and exposure doesn't turn
 * colours. */
START_TEST(root_terms_keep_neutrals_and_exposure)
{
    static spectra from;
    spectra_load(&from);
    tdm_device *device = srgb_device();
    const tdm_calibration fitted = calibrate(device, &from, 2, 2);
    ck_assert(fitted.rooted);
    const double grey[3] = {0.2, 0.2, 0.2}, brown[3] = {0.2, 0.1, 0.05}, half[3] = {0.1, 0.05, 0.025};
    double xyz[3], whole[3];
    tdm_calibration_mix(&fitted, grey, xyz);
    for (int i = 0; i < 3; i++)
        ck_assert_double_eq_tol(xyz[i], 0.2 * tdm_white_d50[i], 1e-9);
    tdm_calibration_mix(&fitted, brown, whole);
    tdm_calibration_mix(&fitted, half, xyz);
    for (int i = 0; i < 3; i++)
        ck_assert_double_eq_tol(2 * xyz[i], whole[i], 1e-9);
    tdm_device_free(device);
}
END_TEST

/* Where a channel goes to zero, and below, mixing goes on without a jump and without a slope past 5.1, half
 * the root of a hundred and the matrix's own. */
START_TEST(mixing_near_black_is_sane)
{
    const tdm_calibration one = {.rooted = true, .from_roots = {1, 0, 0, 0, 1, 0, 0, 0, 1}};
    double last = NAN;
    for (double blue = -0.01; blue < 0.02; blue += 1e-5) {
        const double in[3] = {0.3, 0.2, blue};
        double out[3];
        tdm_calibration_mix(&one, in, out);
        ck_assert(isfinite(out[1]) && out[1] >= 0);
        if (!isnan(last)) {
            ck_assert_double_ge(out[1], last);
            ck_assert_double_le(out[1] - last, 5.1e-5);
        }
        last = out[1];
    }
    const double black[3] = {0, 0, 0}, below[3] = {-0.01, -0.02, -0.01};
    double out[3];
    tdm_calibration_mix(&one, black, out);
    ck_assert_double_eq_tol(out[0] + out[1] + out[2], 0, 1e-15);
    tdm_calibration_mix(&one, below, out);
    ck_assert_double_eq_tol(out[0] + out[1] + out[2], 0, 1e-15);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {spectra_give_their_colours, cameras_and_lights,
                                  root_terms_keep_neutrals_and_exposure, mixing_near_black_is_sane, NULL};
    return run_suite("camera", tests);
}
