/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a smaller picture were shifted against the whole, not turned upright, averaged over the
 * wrong pixels, or made of a damaged file. The truth is averaged here from the function that drew the
 * picture. */
#include <math.h>

#include "made.h"
#include "suite.h"

typedef struct small {
    tdm_pixels pixels;
    double factor;
    tdm_photo_info info;
    tdm_code code;
    tdm_error error;
} small;

static small read_small(made file, uint32_t longest)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_photo *photo = NULL;
    small read = {0};
    read.code = tdm_photo_open_memory(file.data, file.size, "made", &limits, &warnings, &photo, &read.error);
    ck_assert_msg(read.code == TDM_OK, "%s", read.error.text);
    read.info = *tdm_photo_about(photo);
    read.code = tdm_photo_read_small(photo, longest, &read.pixels, &read.factor, &read.error);
    tdm_photo_close(photo);
    tdm_warnings_free(&warnings);
    return read;
}

/* Where an upright pixel is stored (CIPA DC-008, Orientation), written out code by code. */
static void stored_at(int orientation, unsigned width, unsigned height, unsigned x, unsigned y, unsigned *sx,
                      unsigned *sy)
{
    const unsigned far_x = width - 1 - x, far_y = height - 1 - y;
    switch (orientation) {
    case 2:
        *sx = far_x, *sy = y;
        break;
    case 3:
        *sx = far_x, *sy = far_y;
        break;
    case 4:
        *sx = x, *sy = far_y;
        break;
    case 5:
        *sx = y, *sy = x;
        break;
    case 6:
        *sx = y, *sy = far_x;
        break;
    case 7:
        *sx = far_y, *sy = far_x;
        break;
    case 8:
        *sx = far_y, *sy = x;
        break;
    default:
        *sx = x, *sy = y;
        break;
    }
}

static double mean_at(const small *read, made_sample *sample, unsigned x, unsigned y, int channel)
{
    const unsigned by = (unsigned)read->factor;
    double sum = 0;
    unsigned count = 0, sx, sy;
    for (unsigned v = y * by; v < (y + 1) * by && v < read->info.height; v++) {
        for (unsigned u = x * by; u < (x + 1) * by && u < read->info.width; u++, count++) {
            stored_at(read->info.orientation, read->info.width, read->info.height, u, v, &sx, &sy);
            sum += sample(sx, sy, channel);
        }
    }
    return sum / count;
}

/* unit: of a sample in the file for one of 8 bits; tolerance in 8-bit codes. */
static void check(const small *read, made_sample *sample, double unit, double tolerance, unsigned factor)
{
    ck_assert_msg(read->code == TDM_OK, "%s", read->error.text);
    ck_assert_double_eq(read->factor, factor);
    ck_assert_uint_eq(read->pixels.rect.width, (read->info.width + factor - 1) / factor);
    ck_assert_uint_eq(read->pixels.rect.height, (read->info.height + factor - 1) / factor);
    ck_assert_int_eq(read->pixels.bits, 8);
    for (unsigned y = 0; y < read->pixels.rect.height; y++) {
        for (unsigned x = 0; x < read->pixels.rect.width; x++) {
            for (int k = 0; k < 3; k++) {
                const double want = mean_at(read, sample, x, y, k) / unit;
                const double have =
                    read->pixels.rgb8[3 * ((size_t)y * read->pixels.rect.width + x) + (size_t)k];
                ck_assert_msg(fabs(have - want) <= tolerance,
                              "pixel %u, %u of %u x %u, code %d, channel %d, factor %u: %g not %g", x, y,
                              read->info.width, read->info.height, read->info.orientation, k, factor, have,
                              want);
            }
        }
    }
}

static unsigned wide_busy(unsigned x, unsigned y, int channel)
{
    return made_busy(x, y, channel) * 257 + (x * 31 + y * 17) % 128;
}

/* Slow ramps, which JPEG keeps to within a code or so. */
static unsigned ramp(unsigned x, unsigned y, int channel)
{
    return channel == 0 ? 20 + x : channel == 1 ? 220 - y : 60 + (x + y) / 2;
}

START_TEST(png)
{
    static const unsigned longest[] = {200, 101, 100, 51, 50, 34, 7, 1};
    static const unsigned factors[] = {1, 1, 2, 2, 3, 3, 15, 101};
    for (size_t i = 0; i < sizeof longest / sizeof *longest; i++) {
        for (int depth = 8; depth <= 16; depth += 8) {
            for (int interlaced = 0; interlaced < 2; interlaced++) {
                made_sample *sample = depth == 16 ? wide_busy : made_busy;
                const made file = made_png(&(made_png_plan){.width = 101,
                                                            .height = 67,
                                                            .depth = depth,
                                                            .type = 2,
                                                            .interlaced = interlaced,
                                                            .sample = sample});
                small read = read_small(file, longest[i]);
                /* The mean is rounded to a whole code. */
                check(&read, sample, depth == 16 ? 257 : 1, 0.5 + 1e-9, factors[i]);
                tdm_pixels_free(&read.pixels);
                free(file.data);
            }
        }
    }
}
END_TEST

static void check_jpeg(int orientation, unsigned width, unsigned height, unsigned factor)
{
    const made exif = made_exif(&(made_exif_plan){.orientation = orientation}, true);
    const made_part part = {.code = 0xe1, .data = exif.data, .size = exif.size};
    const made file = made_jpeg(&(made_jpeg_plan){.width = width,
                                                  .height = height,
                                                  .colours = MADE_RGB,
                                                  .across = 1,
                                                  .down = 1,
                                                  .quality = 100,
                                                  .sample = ramp,
                                                  .parts = &part,
                                                  .part_count = 1});
    small read = read_small(file, (width > height ? width : height) / factor + 1);
    ck_assert_int_eq(read.info.orientation, orientation);
    /* RGB, since blue out of YCbCr rounds by 2. Coding, and what a JPEG makes up past the edge for its last
     * squares; a shift by one small pixel is a whole factor in red and green. */
    check(&read, ramp, 1, 1.5, factor);
    tdm_pixels_free(&read.pixels);
    free(file.data);
    free(exif.data);
}

/* Multiples of the blocks and odd sizes, factors that a JPEG has itself and others. */
START_TEST(jpeg)
{
    static const unsigned factors[] = {2, 3, 4, 6, 8};
    for (int orientation = 1; orientation <= 8; orientation++) {
        for (size_t i = 0; i < sizeof factors / sizeof *factors; i++) {
            check_jpeg(orientation, 192, 144, factors[i]);
            check_jpeg(orientation, 163, 149, factors[i]);
        }
    }
}
END_TEST

static unsigned grey(unsigned x, unsigned y, int channel)
{
    (void)channel;
    return made_busy(x, y, 0);
}

START_TEST(grey_png)
{
    const made file =
        made_png(&(made_png_plan){.width = 40, .height = 33, .depth = 8, .type = 0, .sample = grey});
    small read = read_small(file, 10);
    check(&read, grey, 1, 0.5 + 1e-9, 4);
    tdm_pixels_free(&read.pixels);
    free(file.data);
}
END_TEST

/* Opaque but for one pixel. */
static unsigned one_hole(unsigned x, unsigned y, int channel)
{
    return channel == 3 ? (x == 9 && y == 5 ? 254 : 255) : 100;
}

START_TEST(opaque_where_all_are)
{
    const made file =
        made_png(&(made_png_plan){.width = 20, .height = 12, .depth = 8, .type = 6, .sample = one_hole});
    small read = read_small(file, 5);
    ck_assert_msg(read.code == TDM_OK, "%s", read.error.text);
    ck_assert_ptr_nonnull(read.pixels.opaque);
    for (unsigned i = 0; i < 15; i++)
        ck_assert_int_eq(read.pixels.opaque[i], i != 5 + 2);
    tdm_pixels_free(&read.pixels);
    free(file.data);
}
END_TEST

START_TEST(damage)
{
    made file =
        made_jpeg(&(made_jpeg_plan){.width = 200, .height = 160, .colours = MADE_YCC, .sample = made_busy});
    small read = read_small((made){file.data, file.size * 2 / 3}, 60);
    ck_assert_int_eq(read.code, TDM_ERR_FORMAT);
    free(file.data);
    file =
        made_png(&(made_png_plan){.width = 200, .height = 160, .depth = 8, .type = 2, .sample = made_busy});
    file.data[file.size / 2] ^= 0x55;
    read = read_small(file, 60);
    ck_assert_int_eq(read.code, TDM_ERR_FORMAT);
    read = read_small(file, 0);
    ck_assert_int_eq(read.code, TDM_ERR_USAGE);
    free(file.data);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {png, jpeg, grey_png, opaque_where_all_are, damage, NULL};
    return run_suite("photo small", tests);
}
