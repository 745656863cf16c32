/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a picture were turned the wrong way, twice or not at all, or a false time were believed. */
#include <string.h>

#include "made.h"
#include "suite.h"

/* A PNG keeps its pixels exactly. Stored: ABC over DEF. */
static unsigned letters(unsigned x, unsigned y, int channel)
{
    (void)channel;
    return 'A' + x + 3 * y;
}

static made png_with_exif(const uint8_t *exif, size_t size, bool after_pixels)
{
    const made_part part = {.name = "eXIf", .data = exif, .size = size, .after_pixels = after_pixels};
    return made_png(&(made_png_plan){
        .width = 3, .height = 2, .depth = 8, .type = 0, .sample = letters, .parts = &part, .part_count = 1});
}

/* Worked out by hand from the tag's definition (CIPA DC-008-2019, 4.6.4 A): which visual side the stored row
 * 0 and column 0 are. */
static const struct {
    uint32_t width, height;
    const char *rows;
} upright[] = {
    {3, 2, "ABCDEF"}, /* 1: top, left */
    {3, 2, "CBAFED"}, /* 2: top, right */
    {3, 2, "FEDCBA"}, /* 3: bottom, right */
    {3, 2, "DEFABC"}, /* 4: bottom, left */
    {2, 3, "ADBECF"}, /* 5: left, top */
    {2, 3, "DAEBFC"}, /* 6: right, top */
    {2, 3, "FCEBDA"}, /* 7: right, bottom */
    {2, 3, "CFBEAD"}, /* 8: left, bottom */
};

START_TEST(eight_orientations)
{
    for (int i = 0; i < 32; i++) {
        const int code = 1 + i % 8;
        const made exif =
            made_exif(&(made_exif_plan){.orientation = code, .big_endian = (i & 8) != 0}, false);
        const made file = png_with_exif(exif.data, exif.size, (i & 16) != 0);
        made_read read = made_read_all(file);
        ck_assert_int_eq(read.code, TDM_OK);
        ck_assert_int_eq(read.info.orientation, code);
        ck_assert_uint_eq(read.info.width, upright[code - 1].width);
        ck_assert_uint_eq(read.info.height, upright[code - 1].height);
        for (size_t p = 0; p < 6; p++) {
            for (size_t k = 0; k < 3; k++)
                ck_assert_int_eq(read.pixels.rgb8[3 * p + k], upright[code - 1].rows[p]);
        }
        made_read_free(&read);
        free(file.data);
        free(exif.data);
    }
}
END_TEST

static made_read read_exif(const made_exif_plan *plan)
{
    const made exif = made_exif(plan, false);
    const made file = png_with_exif(exif.data, exif.size, false);
    const made_read read = made_read_all(file);
    free(file.data);
    free(exif.data);
    return read;
}

START_TEST(times)
{
    static const struct {
        const char *original, *changed, *want;
    } rows[] = {
        {"2026:03:14 09:26:53", "2026:04:01 10:00:00", "2026-03-14T09:26:53"},
        {NULL, "2026:04:01 10:00:00", "2026-04-01T10:00:00"},
        {"0000:00:00 00:00:00", "2026:04:01 10:00:00", "2026-04-01T10:00:00"},
        {NULL, NULL, ""},
        {"    :  :     :  :  ", NULL, ""},
        {"2026-03-14 09:26:53", NULL, ""},
        {"2026:13:14 09:26:53", NULL, ""},
        {"2026:00:14 09:26:53", NULL, ""},
        {"2026:02:29 09:26:53", NULL, ""},
        {"2024:02:29 09:26:53", NULL, "2024-02-29T09:26:53"},
        {"2026:04:31 09:26:53", NULL, ""},
        {"2026:03:14 24:00:00", NULL, ""},
        {"2026:03:14 09:60:53", NULL, ""},
        {"2026:03:14 09:26:60", NULL, ""},
        {"2026:03:14 23:59:59", NULL, "2026-03-14T23:59:59"},
        {"1904:01:01 00:00:00", NULL, ""},
        {"2026:03:14", NULL, ""},
        {"2026:03:14 09:2x:53", NULL, ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        made_read read =
            read_exif(&(made_exif_plan){.date_original = rows[i].original, .date_time = rows[i].changed});
        ck_assert_int_eq(read.code, TDM_OK);
        ck_assert_str_eq(read.info.taken, rows[i].want);
        made_read_free(&read);
    }
}
END_TEST

START_TEST(colour_space)
{
    static const struct {
        int tag;
        tdm_colour_source want;
    } rows[] = {{1, TDM_COLOUR_SRGB}, {0xffff, TDM_COLOUR_UNSTATED}, {0, TDM_COLOUR_UNSTATED}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        made_read read = read_exif(&(made_exif_plan){.colour_space = rows[i].tag, .orientation = 1});
        ck_assert_int_eq(read.code, TDM_OK);
        ck_assert_int_eq(read.info.colour, rows[i].want);
        made_read_free(&read);
    }
}
END_TEST

/* In mm of 35 mm film: what the tilt of the target is reckoned with. */
START_TEST(focal_length)
{
    static const int tags[] = {0, 1, 26, 65535};
    for (size_t i = 0; i < sizeof tags / sizeof tags[0]; i++) {
        made_read read =
            read_exif(&(made_exif_plan){.focal_35mm = tags[i], .orientation = 1, .big_endian = i % 2 == 0});
        ck_assert_int_eq(read.info.focal_35mm, tags[i]);
        made_read_free(&read);
    }
}
END_TEST

START_TEST(wrong_orientation_is_left_out)
{
    const int wrong[] = {9, 255, 65535};
    for (size_t i = 0; i < 3; i++) {
        made_read read =
            read_exif(&(made_exif_plan){.orientation = wrong[i], .date_time = "2026:04:01 10:00:00"});
        ck_assert_int_eq(read.code, TDM_OK);
        ck_assert_int_eq(read.info.orientation, 1);
        ck_assert_str_eq(read.info.taken, "2026-04-01T10:00:00");
        ck_assert(tdm_warnings_have(&read.warnings, "photo-exif"));
        made_read_free(&read);
    }
}
END_TEST

/* Each length and each flipped bit: never a fault, the picture always comes. */
START_TEST(broken_block)
{
    made exif = made_exif(&(made_exif_plan){.orientation = 6,
                                            .date_time = "2026:04:01 10:00:00",
                                            .date_original = "2026:03:14 09:26:53",
                                            .colour_space = 1},
                          false);
    for (size_t size = 0; size < exif.size; size++) {
        const made file = png_with_exif(exif.data, size, false);
        made_read read = made_read_all(file);
        ck_assert_int_eq(read.code, TDM_OK);
        if (size < 20) { /* before the first entry has ended */
            ck_assert_int_eq(read.info.orientation, 1);
            ck_assert(tdm_warnings_have(&read.warnings, "photo-exif"));
        }
        made_read_free(&read);
        free(file.data);
    }
    for (size_t bit = 0; bit < 8 * exif.size; bit++) {
        exif.data[bit / 8] ^= (uint8_t)(1u << bit % 8);
        const made file = png_with_exif(exif.data, exif.size, false);
        made_read read = made_read_all(file);
        ck_assert_int_eq(read.code, TDM_OK);
        ck_assert(read.info.orientation >= 1 && read.info.orientation <= 8);
        made_read_free(&read);
        free(file.data);
        exif.data[bit / 8] ^= (uint8_t)(1u << bit % 8);
    }
    free(exif.data);
}
END_TEST

/* A wrong CRC on eXIf: a warning and the picture as stored. */
START_TEST(bad_checksum)
{
    const made exif = made_exif(&(made_exif_plan){.orientation = 6}, false);
    const made file = png_with_exif(exif.data, exif.size, false);
    for (size_t i = 0; i + 4 < file.size; i++) {
        if (memcmp(file.data + i, "eXIf", 4) == 0)
            file.data[i + 4 + exif.size] ^= 1;
    }
    made_read read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_OK);
    ck_assert_int_eq(read.info.orientation, 1);
    ck_assert(tdm_warnings_have(&read.warnings, "photo-exif"));
    made_read_free(&read);
    free(file.data);
    free(exif.data);
}
END_TEST

/* JPEG: the first APP1 block that is EXIF counts; others, such as XMP, are passed by. */
START_TEST(in_a_jpeg)
{
    const made exif = made_exif(
        &(made_exif_plan){.orientation = 8, .date_original = "2026:03:14 09:26:53", .colour_space = 1}, true);
    const made second = made_exif(&(made_exif_plan){.orientation = 3}, true);
    const uint8_t xmp[] = "http://ns.adobe.com/xap/1.0/\0<x:xmpmeta/>";
    const made_part parts[] = {{.code = 0xe1, .data = xmp, .size = sizeof xmp - 1},
                               {.code = 0xe1, .data = exif.data, .size = exif.size},
                               {.code = 0xe1, .data = second.data, .size = second.size}};
    const made file = made_jpeg(&(made_jpeg_plan){.width = 30,
                                                  .height = 20,
                                                  .colours = MADE_YCC,
                                                  .sample = made_flat,
                                                  .parts = parts,
                                                  .part_count = 3});
    made_read read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_OK);
    ck_assert_int_eq(read.info.orientation, 8);
    ck_assert_uint_eq(read.info.width, 20);
    ck_assert_uint_eq(read.info.height, 30);
    ck_assert_str_eq(read.info.taken, "2026-03-14T09:26:53");
    ck_assert_int_eq(read.info.colour, TDM_COLOUR_SRGB);
    ck_assert_uint_eq(read.warnings.count, 0);
    made_read_free(&read);
    free(file.data);
    free(second.data);
    free(exif.data);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        eight_orientations, times,        colour_space, focal_length, wrong_orientation_is_left_out,
        broken_block,       bad_checksum, in_a_jpeg,    NULL};
    return run_suite("photo EXIF", tests);
}
