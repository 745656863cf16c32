/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a profile that another program reads otherwise than this library. Needs transicc (Debian's
 * liblcms2-utils); without it the test fails. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "colour/drawn.h"
#include "colour/icc_export.h"
#include "colour/lab.h"
#include "colour/made_calibration.h"
#include "colour/profiles.h"
#include "suite.h"

enum { SIDE = 9, COUNT = SIDE * SIDE * SIDE, PATH = 256 };

static void codes(uint8_t rgb[3 * COUNT])
{
    for (int i = 0; i < COUNT; i++) {
        const int at[3] = {i / (SIDE * SIDE), i / SIDE % SIDE, i % SIDE};
        for (int c = 0; c < 3; c++)
            rgb[3 * i + c] = (uint8_t)(at[c] * 255 / (SIDE - 1));
    }
}

static void write_file(const char *path, const void *data, size_t size)
{
    FILE *file = fopen(path, "wb");
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(data, 1, size, file), size);
    ck_assert_int_eq(fclose(file), 0);
}

static void write_codes(const char *path, const uint8_t *rgb)
{
    FILE *file = fopen(path, "w");
    ck_assert_ptr_nonnull(file);
    for (int i = 0; i < COUNT; i++)
        ck_assert_int_gt(fprintf(file, "%d %d %d\n", rgb[3 * i], rgb[3 * i + 1], rgb[3 * i + 2]), 0);
    ck_assert_int_eq(fclose(file), 0);
}

/* Relative colorimetric to CIELAB, as the program prints it. */
static void their_lab(const char *folder, icc profile, const uint8_t *rgb, double (*lab)[3])
{
    char path[PATH], list[PATH], command[4 * PATH];
    (void)snprintf(path, sizeof path, "%s/made.icc", folder);
    (void)snprintf(list, sizeof list, "%s/codes", folder);
    write_file(path, profile.bytes, profile.size);
    write_codes(list, rgb);
    (void)snprintf(command, sizeof command, "transicc -n -t1 -i '%s' -o '*Lab' <'%s' 2>'%s/said'", path, list,
                   folder);
    ck_assert_ptr_null(strchr(folder, '\''));
    FILE *said = popen(command, "r");
    ck_assert_ptr_nonnull(said);
    int read = 0;
    while (read < COUNT && fscanf(said, "%lf %lf %lf", &lab[read][0], &lab[read][1], &lab[read][2]) == 3)
        read++;
    ck_assert_msg(pclose(said) == 0 && read == COUNT, "transicc gave %d colours", read);
    (void)unlink(path);
    (void)unlink(list);
    (void)snprintf(path, sizeof path, "%s/said", folder);
    (void)unlink(path);
}

static void check(const char *folder, icc device_profile, int kind)
{
    static uint8_t rgb[3 * COUNT], flags[COUNT];
    static float xyz[3 * COUNT];
    static double theirs[COUNT][3];
    tdm_device *device = device_of(device_profile, false);
    const tdm_calibration calibration = made_calibration(device, kind);
    icc profile = {0};
    codes(rgb);
    ck_assert_int_eq(tdm_icc_export(device, &calibration, "made", &profile.bytes, &profile.size, NULL),
                     TDM_OK);
    their_lab(folder, profile, rgb, theirs);
    const tdm_pixels pixels = {.rect = {0, 0, COUNT, 1}, .bits = 8, .rgb8 = rgb};
    ck_assert_int_eq(tdm_colour_convert(device, &calibration, &pixels, pixels.rect, xyz, flags, NULL),
                     TDM_OK);
    double worst = 0;
    for (size_t i = 0; i < COUNT; i++) {
        const double in[3] = {(double)xyz[3 * i], (double)xyz[3 * i + 1], (double)xyz[3 * i + 2]};
        double ours[3];
        tdm_xyz_to_lab(in, ours);
        worst = worse(worst, tdm_de00(ours, theirs[i]));
    }
    ck_assert_msg(worst < 0.15, "kind %d: CIEDE2000 %g", kind, worst);
    tdm_device_free(device);
    free(profile.bytes);
    free(device_profile.bytes);
}

/* 729 colours each, prepared by the program in its own way (reached: 0.10). */
START_TEST(transicc_gives_the_same_colours)
{
    const char *above = getenv("TMPDIR");
    char folder[PATH / 2];
    const int length =
        snprintf(folder, sizeof folder, "%s/tidemark-transicc-XXXXXX", above && above[0] ? above : "/tmp");
    ck_assert(length > 0 && (size_t)length < sizeof folder);
    ck_assert_ptr_nonnull(mkdtemp(folder));
    for (int kind = MADE_GAINS; kind <= MADE_ROOTS; kind++) {
        check(folder, icc_srgb(), kind);
        check(folder, icc_display_p3(), kind);
        check(folder, icc_lut(), kind);
    }
    ck_assert_int_eq(rmdir(folder), 0);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {transicc_gives_the_same_colours, NULL};
    return run_suite("transicc", tests);
}
