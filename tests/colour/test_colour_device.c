/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: the tables and matrix that stand in for lcms2, the scale of XYZ, rendering intent. */
#include <lcms2.h>
#include <math.h>
#include <stdlib.h>

#include "colour/drawn.h"
#include "colour/lab.h"
#include "colour/profiles.h"
#include "suite.h"

/* lcms2 from the profile's bytes straight to CIELAB in double precision, its own white and formula. */
static cmsHTRANSFORM their_lab(icc profile, cmsUInt32Number input)
{
    cmsHPROFILE from = cmsOpenProfileFromMem(profile.bytes, (cmsUInt32Number)profile.size);
    cmsHPROFILE to = cmsCreateLab4Profile(NULL);
    cmsHTRANSFORM transform = cmsCreateTransform(from, input, to, TYPE_Lab_DBL, INTENT_RELATIVE_COLORIMETRIC,
                                                 cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE);
    ck_assert_ptr_nonnull(transform);
    cmsCloseProfile(from);
    cmsCloseProfile(to);
    return transform;
}

static double apart(const double a[3], const double b[3])
{
    return sqrt((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]) +
                (a[2] - b[2]) * (a[2] - b[2]));
}

static double one_colour(const tdm_device *device, cmsHTRANSFORM theirs, const float rgb[3])
{
    float xyz[3];
    double wanted[3], got[3];
    tdm_device_to_xyz(device, rgb, xyz, 1);
    const double in[3] = {(double)xyz[0], (double)xyz[1], (double)xyz[2]};
    tdm_xyz_to_lab(in, got);
    cmsDoTransform(theirs, rgb, wanted, 1);
    return apart(got, wanted);
}

/* Largest CIELAB distance over a grid of 52 8-bit codes a side, every fifth, and all greys. */
static double worst_over_grid(icc profile, bool grey)
{
    enum { SIDE = 52 };
    tdm_device *device = device_of(profile, grey);
    cmsHTRANSFORM theirs = their_lab(profile, grey ? TYPE_GRAY_FLT : TYPE_RGB_FLT);
    double worst = 0;
    for (int i = 0; !grey && i < SIDE * SIDE * SIDE; i++) {
        const float rgb[3] = {(float)(5 * (i % SIDE)) / 255, (float)(5 * (i / SIDE % SIDE)) / 255,
                              (float)(5 * (i / (SIDE * SIDE))) / 255};
        worst = worse(worst, one_colour(device, theirs, rgb));
    }
    for (int code = 0; code < 4096; code++) {
        const float value = (float)code / 4095, rgb[3] = {value, value, value};
        worst = worse(worst, one_colour(device, theirs, rgb));
    }
    cmsDeleteTransform(theirs);
    tdm_device_free(device);
    free(profile.bytes);
    return worst;
}

/* Single precision of XYZ on either side leaves 1e-4 of a CIELAB unit (reached: 4e-5). */
START_TEST(matrix_profiles_agree_with_lcms2)
{
    ck_assert_double_lt(worst_over_grid(icc_srgb(), false), 1e-4);
    ck_assert_double_lt(worst_over_grid(icc_display_p3(), false), 1e-4);
    ck_assert_double_lt(worst_over_grid(icc_gamma(2.2), false), 1e-4);
    ck_assert_double_lt(worst_over_grid(icc_gamma(1.0), false), 1e-4);
}
END_TEST

/* Sampled curves are 16-bit inside lcms2, and codes between ours fall on other steps of it: half a step of
 * 1/65535 near black, where CIELAB's slope is 903, is 0.007 in L* (reached: 0.006). */
START_TEST(sampled_curves_agree_with_lcms2)
{
    ck_assert_double_lt(worst_over_grid(icc_table_curves(), false), 0.01);
}
END_TEST

/* lcms2 does the work itself, once to XYZ and once to CIELAB: single precision. */
START_TEST(lut_profile_agrees_with_lcms2)
{
    ck_assert_double_lt(worst_over_grid(icc_lut(), false), 1e-4);
}
END_TEST

START_TEST(grey_profile_agrees_with_lcms2)
{
    ck_assert_double_lt(worst_over_grid(icc_grey(), true), 1e-4);
}
END_TEST

/* Published-constant check values of 28 colours. 0.02 covers their D50 (0.96422, 0.82521) against the ICC's
 * (0.9642, 0.8249), as the file says. */
START_TEST(srgb_check_values)
{
    double cells[32][12];
    const size_t rows = read_table("srgb_lab_check.csv", &cells[0][0], 12, 32);
    ck_assert_uint_eq(rows, 28);
    tdm_device *built = srgb_device();
    const icc bytes = icc_srgb();
    tdm_device *embedded = device_of(bytes, false);
    for (size_t i = 0; i < 2 * rows; i++) {
        const double *row = cells[i / 2];
        const float rgb[3] = {(float)row[0] / 255, (float)row[1] / 255, (float)row[2] / 255};
        float xyz[3];
        double lab[3];
        tdm_device_to_xyz(i % 2 ? built : embedded, rgb, xyz, 1);
        const double in[3] = {(double)xyz[0], (double)xyz[1], (double)xyz[2]};
        tdm_xyz_to_lab(in, lab);
        for (int k = 0; k < 3; k++)
            ck_assert_double_eq_tol(lab[k], row[9 + k], 0.02);
    }
    tdm_device_free(built);
    tdm_device_free(embedded);
    free(bytes.bytes);
}
END_TEST

/* Device white is Y = 1 and the profile connection space's white; equal working RGB is neutral. */
START_TEST(white_and_primaries)
{
    tdm_device *device = srgb_device();
    const float white[3] = {1, 1, 1};
    float xyz[3];
    tdm_device_to_xyz(device, white, xyz, 1);
    const double *m = tdm_device_primaries(device);
    for (int i = 0; i < 3; i++) {
        ck_assert_double_eq_tol((double)xyz[i], tdm_white_d50[i], 1e-6);
        ck_assert_double_eq_tol(m[3 * i] + m[3 * i + 1] + m[3 * i + 2], tdm_white_d50[i], 1e-12);
    }
    /* IEC 61966-2-1 adapted to D50 by Bradford, four decimals as commonly printed */
    ck_assert_double_eq_tol(m[3], 0.2225, 1e-4);
    ck_assert_double_eq_tol(m[4], 0.7169, 1e-4);
    ck_assert_double_eq_tol(m[5], 0.0606, 1e-4);
    tdm_device_free(device);
}
END_TEST

/* A device without a matrix of its own works in sRGB's primaries; neutral there too. */
START_TEST(lut_primaries_are_neutral)
{
    const icc bytes = icc_lut();
    tdm_device *device = device_of(bytes, false);
    const double *m = tdm_device_primaries(device);
    for (int i = 0; i < 3; i++)
        ck_assert_double_eq_tol(m[3 * i] + m[3 * i + 1] + m[3 * i + 2], tdm_white_d50[i], 1e-6);
    tdm_device_free(device);
    free(bytes.bytes);
}
END_TEST

/* Whatever goes in, finite numbers come out. */
START_TEST(nothing_but_numbers_comes_out)
{
    static const float odd[] = {NAN, INFINITY, -INFINITY, -1, 2, 1e30F, -0.0F, 0.5F};
    const icc kinds[3] = {icc_srgb(), icc_lut(), icc_grey()};
    for (int kind = 0; kind < 3; kind++) {
        tdm_device *device = device_of(kinds[kind], kind == 2);
        for (int i = 0; i < 512; i++) {
            const float rgb[3] = {odd[i % 8], odd[i / 8 % 8], odd[i / 64]};
            float xyz[3];
            tdm_device_to_xyz(device, rgb, xyz, 1);
            for (int k = 0; k < 3; k++)
                ck_assert(xyz[k] >= -1 && xyz[k] <= 4);
        }
        tdm_device_free(device);
        free(kinds[kind].bytes);
    }
}
END_TEST

START_TEST(names_its_library)
{
    ck_assert_int_eq(LCMS_VERSION / 1000, tdm_lcms_version()[0] - '0');
    ck_assert_int_eq(LCMS_VERSION / 10 % 100, atoi(tdm_lcms_version() + 2));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {matrix_profiles_agree_with_lcms2,
                                  sampled_curves_agree_with_lcms2,
                                  lut_profile_agrees_with_lcms2,
                                  grey_profile_agrees_with_lcms2,
                                  srgb_check_values,
                                  white_and_primaries,
                                  lut_primaries_are_neutral,
                                  nothing_but_numbers_comes_out,
                                  names_its_library,
                                  NULL};
    return run_suite("device", tests);
}
