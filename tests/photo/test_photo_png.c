/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a PNG's samples weren't delivered exactly, in any depth, kind or order of rows. */
#include <string.h>

#include "made.h"
#include "suite.h"

/* Every value of the depth, and every bit of it, somewhere. */
static unsigned any_sample(unsigned x, unsigned y, int channel)
{
    return x * 2654435761u + y * 40503u + (unsigned)channel * 977u;
}

static unsigned bits1(unsigned x, unsigned y, int channel)
{
    return any_sample(x, y, channel) >> 7 & 1;
}

static unsigned bits2(unsigned x, unsigned y, int channel)
{
    return any_sample(x, y, channel) >> 7 & 3;
}

static unsigned bits4(unsigned x, unsigned y, int channel)
{
    return any_sample(x, y, channel) >> 7 & 15;
}

static unsigned bits8(unsigned x, unsigned y, int channel)
{
    return any_sample(x, y, channel) >> 7 & 255;
}

static unsigned bits16(unsigned x, unsigned y, int channel)
{
    return any_sample(x, y, channel) >> 7 & 65535;
}

static made_sample *sample_of(int depth)
{
    return depth == 1 ? bits1 : depth == 2 ? bits2 : depth == 4 ? bits4 : depth == 8 ? bits8 : bits16;
}

enum { GREY = 0, RGB = 2, PALETTE = 3, GREY_ALPHA = 4, RGB_ALPHA = 6, WIDTH = 23, HEIGHT = 19 };

static uint8_t palette[256 * 3];

/* The value that the PNG specification (section 13.12) asks for: low depths are scaled to 0 … 255. */
static unsigned expected(const made_png_plan *plan, unsigned x, unsigned y, unsigned k)
{
    static const unsigned scale[] = {0, 255, 85, 0, 17, 0, 0, 0, 1};
    if (plan->type == PALETTE)
        return palette[3 * plan->sample(x, y, 0) + k];
    const bool grey = plan->type == GREY || plan->type == GREY_ALPHA;
    const unsigned value = plan->sample(x, y, grey ? 0 : (int)k);
    return plan->depth == 16 ? value : value * scale[plan->depth];
}

static void check_pixels(const made_png_plan *plan, const tdm_pixels *pixels)
{
    const unsigned full = plan->depth == 16 ? 65535 : 255;
    const int alpha_at = plan->type == GREY_ALPHA ? 1 : 3;
    const bool has_alpha = plan->type == GREY_ALPHA || plan->type == RGB_ALPHA;
    ck_assert((pixels->opaque != NULL) == has_alpha);
    const tdm_rect rect = pixels->rect;
    for (unsigned y = 0; y < rect.height; y++) {
        for (unsigned x = 0; x < rect.width; x++) {
            const size_t at = (size_t)y * rect.width + x;
            for (unsigned k = 0; k < 3; k++) {
                const unsigned have = pixels->rgb16 ? pixels->rgb16[3 * at + k] : pixels->rgb8[3 * at + k];
                ck_assert_uint_eq(have, expected(plan, rect.x + x, rect.y + y, k));
            }
            if (has_alpha)
                ck_assert_int_eq(pixels->opaque[at], plan->sample(rect.x + x, rect.y + y, alpha_at) == full);
        }
    }
}

static void check_plan(const made_png_plan *plan)
{
    const made file = made_png(plan);
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_photo *photo = NULL;
    tdm_error error = {0};
    tdm_pixels pixels;
    tdm_code code = tdm_photo_open_memory(file.data, file.size, "made", &limits, &warnings, &photo, &error);
    ck_assert_msg(code == TDM_OK, "type %d depth %d: %s", plan->type, plan->depth, error.text);
    const tdm_photo_info *info = tdm_photo_about(photo);
    ck_assert_str_eq(info->format, "PNG");
    ck_assert_int_eq(info->bits, plan->depth == 16 ? 16 : 8);
    ck_assert_int_eq(info->grey, plan->type == GREY || plan->type == GREY_ALPHA);
    const tdm_rect rects[] = {{0, 0, WIDTH, HEIGHT}, {5, 3, 9, 8}, {WIDTH - 1, HEIGHT - 1, 1, 1}};
    for (size_t i = 0; i < 3; i++) {
        code = tdm_photo_read(photo, rects[i], &pixels, &error);
        ck_assert_msg(code == TDM_OK, "type %d depth %d: %s", plan->type, plan->depth, error.text);
        check_pixels(plan, &pixels);
        tdm_pixels_free(&pixels);
    }
    tdm_photo_close(photo);
    tdm_warnings_free(&warnings);
    free(file.data);
}

START_TEST(every_kind_and_depth)
{
    static const struct {
        int type, depth;
    } rows[] = {{GREY, 1},    {GREY, 2},      {GREY, 4},       {GREY, 8},       {GREY, 16},
                {RGB, 8},     {RGB, 16},      {PALETTE, 1},    {PALETTE, 2},    {PALETTE, 4},
                {PALETTE, 8}, {RGB_ALPHA, 8}, {RGB_ALPHA, 16}, {GREY_ALPHA, 8}, {GREY_ALPHA, 16}};
    for (size_t i = 0; i < sizeof palette; i++)
        palette[i] = (uint8_t)(i * 37 + 11);
    for (size_t i = 0; i < 2 * sizeof rows / sizeof *rows; i++) {
        const int type = rows[i / 2].type, depth = rows[i / 2].depth;
        check_plan(&(made_png_plan){.width = WIDTH,
                                    .height = HEIGHT,
                                    .type = type,
                                    .depth = depth,
                                    .interlaced = i % 2 == 1,
                                    .palette = type == PALETTE ? palette : NULL,
                                    .palette_count = 1 << (depth > 8 ? 8 : depth),
                                    .sample = sample_of(depth)});
    }
}
END_TEST

/* The second of the four palette entries is half transparent; the rest of tRNS is opaque. */
START_TEST(transparent_palette)
{
    const uint8_t colours[] = {9, 8, 7, 6, 5, 4, 3, 2, 1, 0, 1, 2};
    const uint8_t alphas[] = {255, 128};
    const made_part part = {.name = "tRNS", .data = alphas, .size = 2};
    const made_png_plan plan = {.width = WIDTH,
                                .height = HEIGHT,
                                .type = PALETTE,
                                .depth = 2,
                                .palette = colours,
                                .palette_count = 4,
                                .sample = bits2,
                                .parts = &part,
                                .part_count = 1};
    const made file = made_png(&plan);
    made_read read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_OK);
    ck_assert(read.info.has_alpha);
    ck_assert_ptr_nonnull(read.pixels.opaque);
    for (unsigned p = 0; p < WIDTH * HEIGHT; p++)
        ck_assert_int_eq(read.pixels.opaque[p], bits2(p % WIDTH, p / WIDTH, 0) != 1);
    made_read_free(&read);
    /* A damaged tRNS must not make the transparent opaque. */
    for (size_t i = 0; i + 6 < file.size; i++) {
        if (memcmp(file.data + i, "tRNS", 4) == 0)
            file.data[i + 5] ^= 1;
    }
    read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_ERR_FORMAT);
    made_read_free(&read);
    free(file.data);
}
END_TEST

/* One grey of a 16-bit picture is see-through; its neighbour one step away isn't. */
static unsigned near_key(unsigned x, unsigned y, int channel)
{
    (void)channel;
    return 0x1234 + (x + y) % 2;
}

START_TEST(transparent_key)
{
    const uint8_t key[] = {0x12, 0x34};
    const made_part part = {.name = "tRNS", .data = key, .size = 2};
    const made file = made_png(&(made_png_plan){.width = 4,
                                                .height = 3,
                                                .type = GREY,
                                                .depth = 16,
                                                .sample = near_key,
                                                .parts = &part,
                                                .part_count = 1});
    made_read read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_OK);
    ck_assert(read.info.has_alpha && read.info.grey);
    for (unsigned p = 0; p < 12; p++)
        ck_assert_int_eq(read.pixels.opaque[p], (p % 4 + p / 4) % 2);
    made_read_free(&read);
    free(file.data);
}
END_TEST

static unsigned all_full(unsigned x, unsigned y, int channel)
{
    (void)x;
    (void)y;
    (void)channel;
    return 255;
}

START_TEST(no_mask_where_all_is_opaque)
{
    const made file = made_png(
        &(made_png_plan){.width = 4, .height = 3, .type = RGB_ALPHA, .depth = 8, .sample = all_full});
    made_read read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_OK);
    ck_assert(read.info.has_alpha);
    ck_assert_ptr_null(read.pixels.opaque);
    made_read_free(&read);
    free(file.data);
}
END_TEST

START_TEST(limits_from_both_sides)
{
    const made file =
        made_png(&(made_png_plan){.width = 30, .height = 20, .type = RGB, .depth = 8, .sample = bits8});
    tdm_limits limits = tdm_limits_default();
    const struct {
        uint64_t pixels, bytes;
        tdm_code want;
    } rows[] = {
        {600, file.size, TDM_OK}, {599, file.size, TDM_ERR_LIMIT}, {600, file.size - 1, TDM_ERR_LIMIT}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        limits.pixels = rows[i].pixels;
        limits.file_bytes = rows[i].bytes;
        made_read read = made_read_limited(file, &limits);
        ck_assert_int_eq(read.code, rows[i].want);
        made_read_free(&read);
    }
    free(file.data);
}
END_TEST

/* Sides past libpng's own million are fine: the limit is on pixels. */
START_TEST(a_long_row)
{
    const made file =
        made_png(&(made_png_plan){.width = 1100000, .height = 1, .type = GREY, .depth = 8, .sample = bits8});
    made_read read = made_read_all(file);
    ck_assert_msg(read.code == TDM_OK, "%s", read.error.text);
    ck_assert_uint_eq(read.pixels.rgb8[3 * 1099999], bits8(1099999, 0, 0));
    made_read_free(&read);
    free(file.data);
}
END_TEST

/* A gigapixel header on a file of a hundred bytes ends at the header. */
START_TEST(a_promise_of_pixels)
{
    const uint8_t file[] = "\x89PNG\r\n\x1a\n"
                           "\0\0\0\x0dIHDR\x00\x0f\xff\xff\x00\x0f\xff\xff\x10\x06\0\0\0\x93\x73\x0d\x8f"
                           "\0\0\0\0IEND\xae\x42\x60\x82";
    made_read read = made_read_all((made){(uint8_t *)file, sizeof file - 1});
    ck_assert_int_ne(read.code, TDM_OK);
    made_read_free(&read);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        every_kind_and_depth,   transparent_palette, transparent_key,     no_mask_where_all_is_opaque,
        limits_from_both_sides, a_long_row,          a_promise_of_pixels, NULL};
    return run_suite("photo PNG", tests);
}
