/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a damaged file were returned as a whole picture, or brought the program down. */
#include <string.h>

#include "made.h"
#include "suite.h"

static bool same_pixels(const made_read *read, const made_read *whole)
{
    const size_t count = 3 * (size_t)whole->info.width * whole->info.height;
    if (read->info.width != whole->info.width || read->info.height != whole->info.height ||
        read->pixels.bits != whole->pixels.bits)
        return false;
    if (read->pixels.bits == 16)
        return memcmp(read->pixels.rgb16, whole->pixels.rgb16, 2 * count) == 0;
    return memcmp(read->pixels.rgb8, whole->pixels.rgb8, count) == 0;
}

/* Every length short of the whole, as it is and, by `tail`, with an end marker put after the cut. A copy of
 * its own size lets the address sanitizer see a read past the end. Returns how many cuts were still a whole.
 */
static size_t check_cuts(made file, const char *tail)
{
    made_read whole = made_read_all(file);
    ck_assert_msg(whole.code == TDM_OK, "%s", whole.error.text);
    const size_t tail_size = strlen(tail);
    size_t still_whole = 0;
    for (size_t size = 0; size < file.size; size++) {
        const made cut = {malloc(size + tail_size + (size + tail_size == 0)), size + tail_size};
        ck_assert_ptr_nonnull(cut.data);
        memcpy(cut.data, file.data, size);
        memcpy(cut.data + size, tail, tail_size);
        made_read read = made_read_all(cut);
        ck_assert_msg(read.code != TDM_OK || same_pixels(&read, &whole), "lost data after %zu of %zu bytes",
                      size, file.size);
        still_whole += read.code == TDM_OK;
        made_read_free(&read);
        free(cut.data);
    }
    made_read_free(&whole);
    return still_whole;
}

static const made_jpeg_plan jpegs[] = {
    {.width = 40, .height = 30, .colours = MADE_YCC, .across = 2, .down = 2, .sample = made_busy},
    {.width = 40, .height = 30, .colours = MADE_YCC, .progressive = true, .sample = made_busy},
    {.width = 40, .height = 30, .colours = MADE_YCC, .restart = 2, .sample = made_busy},
    {.width = 40, .height = 30, .colours = MADE_YCC, .separate = true, .sample = made_busy},
    {.width = 40, .height = 30, .colours = MADE_GREY, .sample = made_busy},
};
enum { JPEGS = sizeof jpegs / sizeof *jpegs };

static const made_png_plan pngs[] = {
    {.width = 20, .height = 15, .depth = 8, .type = 2, .sample = made_busy},
    {.width = 20, .height = 15, .depth = 8, .type = 2, .interlaced = true, .sample = made_busy},
    {.width = 20, .height = 15, .depth = 16, .type = 0, .sample = made_busy},
};
enum { PNGS = sizeof pngs / sizeof *pngs };

/* The two bytes of the end marker carry no pixel, nor need the last byte of the scan. */
START_TEST(cut_jpeg)
{
    for (size_t i = 0; i < JPEGS; i++) {
        const made file = made_jpeg(&jpegs[i]);
        ck_assert_uint_le(check_cuts(file, ""), 3);
        ck_assert_uint_le(check_cuts(file, "\xff\xd9"), 3);
        free(file.data);
    }
}
END_TEST

START_TEST(cut_png)
{
    for (size_t i = 0; i < PNGS; i++) {
        const made file = made_png(&pngs[i]);
        ck_assert_uint_eq(check_cuts(file, ""), 0);
        free(file.data);
    }
}
END_TEST

/* What lies above the loss is whole and may be read; what touches it may not. */
START_TEST(cut_below_the_rectangle)
{
    const made file = made_jpeg(&(made_jpeg_plan){
        .width = 64, .height = 256, .colours = MADE_YCC, .across = 2, .down = 2, .sample = made_busy});
    uint8_t *whole = made_jpeg_reference(file);
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_photo *photo = NULL;
    tdm_error error = {0};
    tdm_pixels pixels;
    ck_assert_int_eq(
        tdm_photo_open_memory(file.data, file.size * 3 / 4, "made", &limits, &warnings, &photo, &error),
        TDM_OK);
    ck_assert_int_eq(tdm_photo_read(photo, (tdm_rect){0, 0, 64, 64}, &pixels, &error), TDM_OK);
    ck_assert_mem_eq(pixels.rgb8, whole, 3 * 64 * 64);
    tdm_pixels_free(&pixels);
    ck_assert_int_eq(tdm_photo_read(photo, (tdm_rect){0, 255, 1, 1}, &pixels, &error), TDM_ERR_FORMAT);
    ck_assert_int_eq(tdm_photo_read(photo, (tdm_rect){0, 0, 64, 256}, &pixels, &error), TDM_ERR_FORMAT);
    tdm_photo_close(photo);
    tdm_warnings_free(&warnings);
    free(whole);
    free(file.data);
}
END_TEST

/* A flipped bit of a JPEG's coefficients can be another valid picture, so only the end is asked for: an error
 * or a whole block of pixels, and no fault. */
START_TEST(flipped_jpeg)
{
    tdm_limits limits = tdm_limits_default();
    limits.pixels = 1000000;
    for (size_t i = 0; i < JPEGS; i++) {
        const made file = made_jpeg(&jpegs[i]);
        size_t errors = 0;
        for (size_t bit = 0; bit < 8 * file.size; bit += 3) {
            file.data[bit / 8] ^= (uint8_t)(1u << bit % 8);
            made_read read = made_read_limited(file, &limits);
            ck_assert(read.code == TDM_OK || read.code == TDM_ERR_FORMAT || read.code == TDM_ERR_LIMIT ||
                      read.code == TDM_ERR_UNSUPPORTED);
            ck_assert((read.code == TDM_OK) == (read.pixels.rgb8 != NULL));
            errors += read.code != TDM_OK;
            made_read_free(&read);
            file.data[bit / 8] ^= (uint8_t)(1u << bit % 8);
        }
        ck_assert_uint_gt(errors, 0);
        free(file.data);
    }
}
END_TEST

/* A PNG has checksums: a flipped bit is found, or it is where it can't touch a pixel. */
START_TEST(flipped_png)
{
    for (size_t i = 0; i < PNGS; i++) {
        const made file = made_png(&pngs[i]);
        made_read whole = made_read_all(file);
        ck_assert_int_eq(whole.code, TDM_OK);
        for (size_t bit = 0; bit < 8 * file.size; bit++) {
            file.data[bit / 8] ^= (uint8_t)(1u << bit % 8);
            made_read read = made_read_all(file);
            ck_assert_msg(read.code != TDM_OK || same_pixels(&read, &whole), "bit %zu", bit);
            made_read_free(&read);
            file.data[bit / 8] ^= (uint8_t)(1u << bit % 8);
        }
        made_read_free(&whole);
        free(file.data);
    }
}
END_TEST

/* A rectangle at the top of a PNG isn't handed out before the rest has been checked. */
START_TEST(damaged_png_below_the_rectangle)
{
    const made file = made_png(
        &(made_png_plan){.width = 50, .height = 200, .depth = 8, .type = 2, .level = 1, .sample = made_busy});
    file.data[file.size - 40] ^= 1; /* in the last rows, which are stored uncompressed */
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_photo *photo = NULL;
    tdm_error error = {0};
    tdm_pixels pixels;
    ck_assert_int_eq(tdm_photo_open_memory(file.data, file.size, "made", &limits, &warnings, &photo, &error),
                     TDM_OK);
    ck_assert_int_eq(tdm_photo_read(photo, (tdm_rect){0, 0, 5, 5}, &pixels, &error), TDM_ERR_FORMAT);
    tdm_photo_close(photo);
    tdm_warnings_free(&warnings);
    free(file.data);
}
END_TEST

/* A palette of two and pixels that say three: libpng alone would make them black. */
static unsigned always_three(unsigned x, unsigned y, int channel)
{
    (void)channel;
    return x == 2 && y == 1 ? 3 : 1;
}

START_TEST(index_past_the_palette)
{
    const uint8_t palette[] = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12};
    made_png_plan plan = {.width = 5,
                          .height = 3,
                          .depth = 2,
                          .type = 3,
                          .palette = palette,
                          .palette_count = 4,
                          .sample = always_three};
    made file = made_png(&plan);
    made_read read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_OK);
    made_read_free(&read);
    free(file.data);
    plan.palette_count = 2;
    file = made_png(&plan);
    read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_ERR_FORMAT);
    ck_assert_ptr_nonnull(strstr(read.error.text, "palette"));
    made_read_free(&read);
    free(file.data);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {cut_jpeg,
                                  cut_png,
                                  cut_below_the_rectangle,
                                  flipped_jpeg,
                                  flipped_png,
                                  damaged_png_below_the_rectangle,
                                  index_past_the_palette,
                                  NULL};
    return run_suite("photo damage", tests);
}
