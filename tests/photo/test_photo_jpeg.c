/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if JPEG colours, sizes, limits or refusals were wrong. */
#include <string.h>

#include "made.h"
#include "suite.h"

static made_read read_plan(made_jpeg_plan plan)
{
    const made file = made_jpeg(&plan);
    const made_read read = made_read_all(file);
    free(file.data);
    return read;
}

/* A flat colour at quality 100 has only a DC term: 1 for each of the two roundings (to YCbCr and back),
 * and no more. */
START_TEST(flat_colour)
{
    const made_colours kinds[] = {MADE_YCC, MADE_RGB};
    for (size_t i = 0; i < 4; i++) {
        made_read read = read_plan((made_jpeg_plan){.width = 40,
                                                    .height = 33,
                                                    .colours = kinds[i / 2],
                                                    .progressive = i % 2 == 1,
                                                    .across = 2,
                                                    .down = 2,
                                                    .quality = 100,
                                                    .sample = made_flat});
        ck_assert_int_eq(read.code, TDM_OK);
        ck_assert_str_eq(read.info.format, "JPEG");
        ck_assert_int_eq(read.info.bits, 8);
        ck_assert(!read.info.grey && !read.info.has_alpha);
        ck_assert_int_eq(read.info.colour, TDM_COLOUR_UNSTATED);
        for (unsigned p = 0; p < 40 * 33; p++) {
            for (int k = 0; k < 3; k++)
                ck_assert_int_le(abs((int)read.pixels.rgb8[3 * p + (unsigned)k] - (int)made_flat(0, 0, k)),
                                 2);
        }
        made_read_free(&read);
    }
}
END_TEST

/* 128 is the zero of the transform: exact. */
static unsigned mid_grey(unsigned x, unsigned y, int channel)
{
    (void)x;
    (void)y;
    (void)channel;
    return 128;
}

START_TEST(grey)
{
    made_read read =
        read_plan((made_jpeg_plan){.width = 9, .height = 5, .colours = MADE_GREY, .sample = mid_grey});
    ck_assert_int_eq(read.code, TDM_OK);
    ck_assert(read.info.grey);
    for (unsigned i = 0; i < 3 * 9 * 5; i++)
        ck_assert_int_eq(read.pixels.rgb8[i], 128);
    made_read_free(&read);
}
END_TEST

START_TEST(cmyk_is_refused)
{
    const made_colours kinds[] = {MADE_CMYK, MADE_YCCK};
    for (size_t i = 0; i < 2; i++) {
        made_read read =
            read_plan((made_jpeg_plan){.width = 9, .height = 5, .colours = kinds[i], .sample = made_busy});
        ck_assert_int_eq(read.code, TDM_ERR_UNSUPPORTED);
        ck_assert_ptr_nonnull(strstr(read.error.text, "CMYK"));
        ck_assert_ptr_nonnull(strstr(read.error.text, "export"));
        made_read_free(&read);
    }
}
END_TEST

START_TEST(two_channels_are_refused)
{
    made_read read =
        read_plan((made_jpeg_plan){.width = 9, .height = 5, .colours = MADE_TWO, .sample = made_busy});
    ck_assert_int_eq(read.code, TDM_ERR_UNSUPPORTED);
    made_read_free(&read);
}
END_TEST

START_TEST(one_pixel_and_one_row)
{
    made_read read =
        read_plan((made_jpeg_plan){.width = 1, .height = 1, .colours = MADE_GREY, .sample = mid_grey});
    ck_assert_int_eq(read.code, TDM_OK);
    ck_assert_int_eq(read.pixels.rgb8[2], 128);
    made_read_free(&read);
    read = read_plan((made_jpeg_plan){.width = 65500, .height = 1, .colours = MADE_GREY, .sample = mid_grey});
    ck_assert_int_eq(read.code, TDM_OK);
    ck_assert_int_eq(read.pixels.rgb8[3 * 65499], 128);
    made_read_free(&read);
}
END_TEST

/* libjpeg-turbo reads no side past 65500; a header that says 65535 is a matter of size, not of damage. */
START_TEST(a_side_too_long)
{
    const made file =
        made_jpeg(&(made_jpeg_plan){.width = 8, .height = 1, .colours = MADE_GREY, .sample = mid_grey});
    for (size_t i = 0; i + 9 < file.size; i++) {
        if (file.data[i] == 0xff && file.data[i + 1] == 0xc0)
            memset(file.data + i + 7, 0xff, 2); /* width */
    }
    made_read read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_ERR_LIMIT);
    made_read_free(&read);
    free(file.data);
}
END_TEST

START_TEST(limits_from_both_sides)
{
    const made file = made_jpeg(&(made_jpeg_plan){
        .width = 30, .height = 20, .colours = MADE_YCC, .progressive = true, .sample = made_busy});
    tdm_limits limits = tdm_limits_default();
    const struct {
        uint64_t pixels, bytes;
        uint32_t scans;
        tdm_code want;
    } rows[] = {
        {600, file.size, 10, TDM_OK}, /* the usual script for colour has 10 scans */
        {599, file.size, 10, TDM_ERR_LIMIT},
        {600, file.size - 1, 10, TDM_ERR_LIMIT},
        {600, file.size, 9, TDM_ERR_LIMIT},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        limits.pixels = rows[i].pixels;
        limits.file_bytes = rows[i].bytes;
        limits.scans = rows[i].scans;
        made_read read = made_read_limited(file, &limits);
        ck_assert_msg(read.code == rows[i].want, "row %zu: %d %s", i, read.code, read.error.text);
        made_read_free(&read);
    }
    free(file.data);
}
END_TEST

START_TEST(kinds_of_jpeg_not_read)
{
    const made file =
        made_jpeg(&(made_jpeg_plan){.width = 8, .height = 8, .colours = MADE_GREY, .sample = mid_grey});
    size_t frame = 0;
    while (!(file.data[frame] == 0xff && file.data[frame + 1] == 0xc0))
        frame++;
    file.data[frame + 4] = 12; /* bits a sample */
    made_read read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_ERR_UNSUPPORTED);
    made_read_free(&read);
    file.data[frame + 4] = 8;
    file.data[frame + 1] = 0xc3; /* lossless */
    read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_ERR_UNSUPPORTED);
    made_read_free(&read);
    free(file.data);
}
END_TEST

/* The JFIF version costs no pixel: a warning. */
START_TEST(future_jfif_is_a_warning)
{
    const made file =
        made_jpeg(&(made_jpeg_plan){.width = 8, .height = 8, .colours = MADE_GREY, .sample = mid_grey});
    ck_assert_mem_eq(file.data + 6, "JFIF", 4);
    file.data[11] = 9;
    made_read read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_OK);
    ck_assert(tdm_warnings_have(&read.warnings, "photo-jpeg"));
    made_read_free(&read);
    free(file.data);
}
END_TEST

START_TEST(spectral_selection_is_a_warning)
{
    const made file =
        made_jpeg(&(made_jpeg_plan){.width = 8, .height = 8, .colours = MADE_GREY, .sample = mid_grey});
    size_t scan = 0;
    while (!(file.data[scan] == 0xff && file.data[scan + 1] == 0xda))
        scan++;
    file.data[scan + 8] = 0; /* last coefficient, meant to be 63 */
    made_read read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_OK);
    ck_assert(tdm_warnings_have(&read.warnings, "photo-jpeg"));
    ck_assert_int_eq(read.pixels.rgb8[0], 128);
    made_read_free(&read);
    free(file.data);
}
END_TEST

START_TEST(library_versions)
{
    ck_assert(tdm_photo_library_version("libjpeg-turbo")[0] >= '1');
    ck_assert(tdm_photo_library_version("libpng")[0] == '1');
    ck_assert_ptr_null(tdm_photo_library_version("zlib"));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {flat_colour,
                                  grey,
                                  cmyk_is_refused,
                                  two_channels_are_refused,
                                  one_pixel_and_one_row,
                                  a_side_too_long,
                                  limits_from_both_sides,
                                  kinds_of_jpeg_not_read,
                                  future_jfif_is_a_warning,
                                  spectral_selection_is_a_warning,
                                  library_versions,
                                  NULL};
    return run_suite("photo JPEG", tests);
}
