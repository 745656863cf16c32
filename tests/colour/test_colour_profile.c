/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: which statement about colour counts, and that a bad profile is refused with advice. */
#include <stdlib.h>
#include <string.h>

#include "colour/drawn.h"
#include "colour/lab.h"
#include "colour/profiles.h"
#include "suite.h"

static tdm_device *device_for(const tdm_photo_info *info, tdm_warnings *warnings)
{
    tdm_device *device = NULL;
    ck_assert_int_eq(tdm_device_create(info, false, "photo.png", warnings, &device, NULL), TDM_OK);
    return device;
}

START_TEST(metadata_chooses)
{
    static const struct {
        tdm_photo_info info;
        const char *name, *source;
        size_t warnings;
    } cases[] = {
        {{.colour = TDM_COLOUR_UNSTATED}, "sRGB", "assumed", 1},
        {{.colour = TDM_COLOUR_SRGB}, "sRGB", "implied", 0},
        {{.colour = TDM_COLOUR_DISPLAY_P3}, "Display P3", "implied", 0},
        {{.colour = TDM_COLOUR_GAMMA, .gamma = 2.2}, "gamma 2.20 with sRGB primaries", "implied", 0},
        {{.colour = TDM_COLOUR_GAMMA,
          .gamma = 1.8,
          .chromaticity = {0.3127, 0.329, 0.625, 0.34, 0.28, 0.595, 0.155, 0.07}},
         "gamma 1.80 with the file's own primaries",
         "implied",
         0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        tdm_warnings warnings = {0};
        tdm_device *device = device_for(&cases[i].info, &warnings);
        ck_assert_str_eq(tdm_device_profile(device), cases[i].name);
        ck_assert_str_eq(tdm_profile_source_word(tdm_device_source(device)), cases[i].source);
        ck_assert_uint_eq(warnings.count, cases[i].warnings);
        ck_assert(cases[i].warnings == 0 || tdm_warnings_have(&warnings, "profile-assumed"));
        tdm_warnings_free(&warnings);
        tdm_device_free(device);
    }
}
END_TEST

START_TEST(embedded_profile_counts)
{
    const icc p3 = icc_display_p3();
    tdm_device *device = device_of(p3, false), *declared = NULL;
    float xyz[3];
    const float red[3] = {1, 0, 0};
    ck_assert_int_eq(tdm_device_source(device), TDM_PROFILE_EMBEDDED);
    ck_assert_uint_gt(strlen(tdm_device_profile(device)), 0);
    /* Display P3's red, adapted to D50 by Bradford: 0.5151 0.2412 -0.0011, as commonly printed to four digits
     */
    tdm_device_to_xyz(device, red, xyz, 1);
    ck_assert_double_eq_tol((double)xyz[0], 0.5151, 2e-4);
    ck_assert_double_eq_tol((double)xyz[1], 0.2412, 2e-4);
    ck_assert_double_eq_tol((double)xyz[2], -0.0011, 2e-4);
    /* ignored by the caller: sRGB's red, 0.4361 0.2225 0.0139 */
    ck_assert_int_eq(try_device(p3, false, true, &declared, NULL), TDM_OK);
    tdm_device_to_xyz(declared, red, xyz, 1);
    ck_assert_double_eq_tol((double)xyz[0], 0.4361, 2e-4);
    ck_assert_int_eq(tdm_device_source(declared), TDM_PROFILE_DECLARED);
    ck_assert_str_eq(tdm_device_profile(declared), "sRGB");
    tdm_device_free(device);
    tdm_device_free(declared);
    free(p3.bytes);
}
END_TEST

/* gAMA with wide primaries goes to the same XYZ as an ICC profile of them: linear 0.5^1.8 of white. */
START_TEST(gamma_is_the_files_own)
{
    const tdm_photo_info info = {.colour = TDM_COLOUR_GAMMA, .gamma = 1.8};
    tdm_device *device = device_for(&info, NULL);
    const float grey[3] = {0.5F, 0.5F, 0.5F};
    float xyz[3];
    tdm_device_to_xyz(device, grey, xyz, 1);
    ck_assert_double_eq_tol((double)xyz[1], 0.2871745887, 1e-6); /* 0.5^1.8 */
    ck_assert_double_eq_tol((double)xyz[0], 0.2871745887 * 0.9642, 1e-6);
    tdm_device_free(device);
}
END_TEST

/* The profile is refused, the message advises, nothing is made, and the caller may still ignore it. */
static void refused(icc profile, bool grey, const char *says)
{
    tdm_device *device = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(try_device(profile, grey, false, &device, &error), TDM_ERR_FORMAT);
    ck_assert_ptr_null(device);
    ck_assert_msg(strstr(error.text, says) != NULL, "%s", error.text);
    ck_assert_msg(strstr(error.text, "--ignore-profile") != NULL, "%s", error.text);
    ck_assert_str_eq(error.file, "photo.jpg");
    ck_assert_int_eq(try_device(profile, grey, true, &device, &error), TDM_OK);
    tdm_device_free(device);
}

START_TEST(wrong_kinds_are_refused)
{
    const icc cmyk = icc_cmyk(), lab = icc_lab(), grey = icc_grey();
    refused(cmyk, false, "isn't for pictures");
    refused(lab, false, "colour profile isn't for");
    refused(grey, false, "is for grey pictures");
    free(cmyk.bytes);
    free(lab.bytes);
    free(grey.bytes);
}
END_TEST

/* An RGB profile of print, or one whose colour space is CMYK, by changing the header of a good one. */
START_TEST(wrong_headers_are_refused)
{
    icc profile = icc_srgb();
    memcpy(profile.bytes + 12, "prtr", 4);
    refused(profile, false, "isn't for pictures");
    memcpy(profile.bytes + 12, "mntr", 4);
    memcpy(profile.bytes + 16, "CMYK", 4);
    refused(profile, false, "isn't for RGB");
    memcpy(profile.bytes + 16, "RGB ", 4);
    profile.bytes[36] = 'x';
    refused(profile, false, "damaged");
    free(profile.bytes);
}
END_TEST

/* Cut anywhere: its own length tells. */
START_TEST(cut_profiles_are_refused)
{
    icc profile = icc_display_p3();
    const size_t whole = profile.size;
    for (profile.size = 1; profile.size < whole; profile.size += 7)
        refused(profile, false, "cut short");
    profile.size = whole;
    free(profile.bytes);
    refused((icc){0}, false, "empty");
}
END_TEST

/* A profile without one of its curves can't be used and says so. */
START_TEST(missing_curve_is_refused)
{
    icc profile = icc_srgb();
    for (size_t i = 132; i + 12 <= profile.size; i += 12) {
        if (memcmp(profile.bytes + i, "gTRC", 4) == 0) {
            memcpy(profile.bytes + i, "xxxx", 4);
            break;
        }
    }
    refused(profile, false, "can't be used");
    free(profile.bytes);
}
END_TEST

/* Colorants of zero: everything would be black. */
START_TEST(senseless_colours_are_refused)
{
    icc profile = icc_srgb();
    for (size_t i = 132; i + 12 <= 132 + 12 * 20; i += 12) {
        if (memcmp(profile.bytes + i + 1, "XYZ", 3) == 0) {
            const uint8_t *at = profile.bytes + i + 4;
            const size_t offset = (size_t)at[0] << 24 | (size_t)at[1] << 16 | (size_t)at[2] << 8 | at[3];
            memset(profile.bytes + offset + 8, 0, 12);
        }
    }
    refused(profile, false, "no colours");
    free(profile.bytes);
}
END_TEST

START_TEST(senseless_gamma_is_refused)
{
    tdm_photo_info info = {.colour = TDM_COLOUR_GAMMA, .gamma = 0};
    tdm_device *device = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_device_create(&info, false, "photo.png", NULL, &device, &error), TDM_ERR_FORMAT);
    info.gamma = 2.2;
    for (int i = 0; i < 8; i++)
        info.chromaticity[i] = 0.3;
    ck_assert_int_eq(tdm_device_create(&info, false, "photo.png", NULL, &device, &error), TDM_ERR_FORMAT);
    ck_assert_ptr_nonnull(strstr(error.text, "--ignore-profile"));
    ck_assert_ptr_null(device);
}
END_TEST

/* What the file's reader found wrong is passed on with its code and place, and can be ignored. */
START_TEST(found_fault_is_refused)
{
    const tdm_photo_info info = {
        .colour_fault = {.code = TDM_ERR_LIMIT, .file = "other", .place = "iCCP", .text = "is too long"}};
    tdm_device *device = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_device_create(&info, false, "photo.png", NULL, &device, &error), TDM_ERR_LIMIT);
    ck_assert_ptr_null(device);
    ck_assert_str_eq(error.file, "photo.png");
    ck_assert_str_eq(error.place, "iCCP");
    ck_assert_ptr_eq(strstr(error.text, "is too long; "), error.text);
    ck_assert_ptr_nonnull(strstr(error.text, "--ignore-profile"));
    ck_assert_int_eq(tdm_device_create(&info, true, "photo.png", NULL, &device, &error), TDM_OK);
    ck_assert_int_eq(tdm_device_source(device), TDM_PROFILE_DECLARED);
    tdm_device_free(device);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {metadata_chooses,
                                  embedded_profile_counts,
                                  gamma_is_the_files_own,
                                  wrong_kinds_are_refused,
                                  wrong_headers_are_refused,
                                  cut_profiles_are_refused,
                                  missing_curve_is_refused,
                                  senseless_colours_are_refused,
                                  senseless_gamma_is_refused,
                                  found_fault_is_refused,
                                  NULL};
    return run_suite("profile", tests);
}
