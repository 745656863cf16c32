/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a PNG's colours were taken from a chunk that another outweighs, or high dynamic range were
 * measured as if it were ordinary. The order is that of PNG third edition, section 4.3. */
#include <string.h>

#include "made.h"
#include "suite.h"

static unsigned any(unsigned x, unsigned y, int channel)
{
    return x + y + (unsigned)channel;
}

static const uint8_t cicp_srgb[] = {1, 13, 0, 1}, cicp_p3[] = {12, 13, 0, 1}, cicp_pq[] = {9, 16, 0, 1};
static const uint8_t cicp_hlg[] = {9, 18, 0, 1}, cicp_2020[] = {9, 1, 0, 1}, cicp_narrow[] = {1, 13, 0, 0};
static const uint8_t cicp_ycc[] = {1, 13, 1, 1}, srgb[] = {0}, srgb_bad[] = {9};
static const uint8_t gama_22[] = {0, 0, 0xb1, 0x8f}; /* 45455 */
static const uint8_t gama_zero[] = {0, 0, 0, 0};
/* Display P3: white 0.3127 0.3290, red 0.680 0.320, green 0.265 0.690, blue 0.150 0.060 */
static const uint8_t chrm_p3[] = {0, 0, 0x7a, 0x26, 0, 0,    0x80, 0x84, 0, 1, 0x09, 0xa0, 0, 0, 0x7d, 0x00,
                                  0, 0, 0x67, 0x84, 0, 0x01, 0x0d, 0x88, 0, 0, 0x3a, 0x98, 0, 0, 0x17, 0x70};
static const uint8_t chrm_flat[32] = {0};

/* A profile that libpng's checks let pass, deflated by hand in one stored block: header of 128 bytes, no
 * tags.
 */
enum { PROFILE = 132, STORED = 5, ZLIB = 2 + STORED + PROFILE + 4, NAME = 4 + 2 };

static void put32(uint8_t *to, uint32_t value)
{
    for (int i = 0; i < 4; i++)
        to[i] = (uint8_t)(value >> (24 - 8 * i));
}

static void make_profile(uint8_t profile[PROFILE])
{
    memset(profile, 0, PROFILE);
    put32(profile, PROFILE);
    profile[8] = 4;
    memcpy(profile + 12, "mntrRGB XYZ ", 12);
    memcpy(profile + 36, "acsp", 4);
    put32(profile + 68, 0xf6d6); /* D50 */
    put32(profile + 72, 0x10000);
    put32(profile + 76, 0xd32d);
}

static uint32_t adler(const uint8_t *data, size_t size)
{
    uint32_t a = 1, b = 0;
    for (size_t i = 0; i < size; i++) {
        a = (a + data[i]) % 65521;
        b = (b + a) % 65521;
    }
    return b << 16 | a;
}

static uint8_t iccp[NAME + ZLIB];

static void make_iccp(void)
{
    uint8_t *at = iccp;
    memcpy(at, "made\0", NAME);
    at += NAME;
    memcpy(at, "\x78\x01\x01", 3);
    at[3] = PROFILE;
    at[4] = 0;
    at[5] = (uint8_t)~PROFILE;
    at[6] = 0xff;
    make_profile(at + 7);
    put32(at + 7 + PROFILE, adler(at + 7, PROFILE));
}

#define PART(name, bytes)                                                                                    \
    {                                                                                                        \
        0, name, bytes, sizeof bytes, false                                                                  \
    }
#define NONE                                                                                                 \
    {                                                                                                        \
        0, NULL, NULL, 0, false                                                                              \
    }

static made png_with(const made_part *parts)
{
    made_png_plan plan = {.width = 4, .height = 3, .depth = 8, .type = 2, .sample = any, .parts = parts};
    while (plan.part_count < 5 && parts[plan.part_count].name)
        plan.part_count++;
    return made_png(&plan);
}

/* Chunks in the order in which they stand in the file, and what comes of opening it: an error, or a fault
 * that is kept for whoever reads the colours. */
static const struct {
    made_part parts[5];
    tdm_code code;
    tdm_colour_source want;
} rows[] = {
    {{NONE}, TDM_OK, TDM_COLOUR_UNSTATED},
    {{PART("gAMA", gama_22)}, TDM_OK, TDM_COLOUR_GAMMA},
    {{PART("cHRM", chrm_p3)}, TDM_OK, TDM_COLOUR_UNSTATED},
    {{PART("gAMA", gama_22), PART("cHRM", chrm_p3)}, TDM_OK, TDM_COLOUR_GAMMA},
    {{PART("gAMA", gama_22), PART("cHRM", chrm_p3), PART("sRGB", srgb)}, TDM_OK, TDM_COLOUR_SRGB},
    {{PART("sRGB", srgb)}, TDM_OK, TDM_COLOUR_SRGB},
    {{PART("iCCP", iccp)}, TDM_OK, TDM_COLOUR_ICC},
    {{PART("gAMA", gama_22), PART("iCCP", iccp)}, TDM_OK, TDM_COLOUR_ICC},
    {{PART("sRGB", srgb), PART("iCCP", iccp)}, TDM_OK, TDM_COLOUR_ICC},
    {{PART("iCCP", iccp), PART("sRGB", srgb)}, TDM_OK, TDM_COLOUR_ICC},
    {{PART("iCCP", iccp), PART("cICP", cicp_srgb)}, TDM_OK, TDM_COLOUR_SRGB},
    {{PART("sRGB", srgb), PART("iCCP", iccp), PART("gAMA", gama_22), PART("cICP", cicp_p3)},
     TDM_OK,
     TDM_COLOUR_DISPLAY_P3},
    {{PART("cICP", cicp_srgb)}, TDM_OK, TDM_COLOUR_SRGB},
    {{PART("cICP", cicp_pq)}, TDM_ERR_UNSUPPORTED, 0},
    {{PART("cICP", cicp_hlg)}, TDM_ERR_UNSUPPORTED, 0},
    {{PART("iCCP", iccp), PART("cICP", cicp_pq)}, TDM_ERR_UNSUPPORTED, 0},
    {{PART("cICP", cicp_2020)}, TDM_ERR_UNSUPPORTED, 0},
    {{PART("cICP", cicp_narrow)}, TDM_ERR_UNSUPPORTED, 0},
    {{PART("cICP", cicp_ycc)}, TDM_ERR_UNSUPPORTED, 0},
    {{PART("sRGB", srgb_bad)}, TDM_ERR_FORMAT, 0},
    {{PART("gAMA", gama_zero)}, TDM_ERR_FORMAT, 0},
    {{PART("gAMA", srgb)}, TDM_ERR_FORMAT, 0},
    {{PART("gAMA", gama_22), PART("cHRM", chrm_flat)}, TDM_ERR_FORMAT, 0},
    {{PART("cICP", srgb)}, TDM_ERR_FORMAT, 0},
    {{PART("iCCP", srgb)}, TDM_ERR_FORMAT, 0},
};

START_TEST(precedence)
{
    make_iccp();
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const made file = png_with(rows[i].parts);
        made_read read = made_read_all(file);
        const tdm_code fault = rows[i].code == TDM_ERR_FORMAT ? TDM_ERR_FORMAT : TDM_OK;
        ck_assert_msg(read.code == (fault ? TDM_OK : rows[i].code), "row %zu: %d %s", i, read.code,
                      read.error.text);
        if (read.code == TDM_OK) {
            ck_assert_msg(read.info.colour_fault.code == fault, "row %zu: %d", i,
                          read.info.colour_fault.code);
            ck_assert_msg(read.info.colour == rows[i].want, "row %zu: %d", i, read.info.colour);
        }
        if (read.code == TDM_ERR_UNSUPPORTED)
            ck_assert_ptr_nonnull(strstr(read.error.text, "export"));
        made_read_free(&read);
        free(file.data);
    }
}
END_TEST

/* Such a chunk must stand before the pixels; one after them was put there by something that knew no better.
 */
START_TEST(after_the_pixels)
{
    made_part parts[] = {PART("cICP", cicp_pq), NONE};
    parts[0].after_pixels = true;
    const made file = png_with(parts);
    made_read read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_OK);
    ck_assert_int_eq(read.info.colour, TDM_COLOUR_UNSTATED);
    made_read_free(&read);
    free(file.data);
}
END_TEST

/* Tolerance: the chunks hold 1/100000. */
START_TEST(gamma_values)
{
    const made_part parts[] = {PART("gAMA", gama_22), PART("cHRM", chrm_p3), NONE};
    const double want[] = {0.3127, 0.3290, 0.680, 0.320, 0.265, 0.690, 0.150, 0.060};
    const made file = png_with(parts);
    made_read read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_OK);
    ck_assert_double_eq_tol(read.info.gamma, 1 / 0.45455, 1e-9);
    for (int i = 0; i < 8; i++)
        ck_assert_double_eq_tol(read.info.chromaticity[i], want[i], 1e-9);
    made_read_free(&read);
    free(file.data);
}
END_TEST

START_TEST(profile_bytes)
{
    make_iccp();
    const made_part parts[] = {PART("iCCP", iccp), NONE};
    const made file = png_with(parts);
    tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_photo *photo = NULL;
    tdm_error error = {0};
    uint8_t profile[PROFILE];
    make_profile(profile);
    limits.icc_bytes = PROFILE;
    ck_assert_int_eq(tdm_photo_open_memory(file.data, file.size, "made", &limits, &warnings, &photo, &error),
                     TDM_OK);
    ck_assert_uint_eq(tdm_photo_about(photo)->icc_size, PROFILE);
    ck_assert_mem_eq(tdm_photo_about(photo)->icc, profile, PROFILE);
    tdm_photo_close(photo);
    limits.icc_bytes = PROFILE - 1;
    ck_assert_int_eq(tdm_photo_open_memory(file.data, file.size, "made", &limits, &warnings, &photo, &error),
                     TDM_OK);
    ck_assert_int_eq(tdm_photo_about(photo)->colour_fault.code, TDM_ERR_LIMIT);
    ck_assert_ptr_null(tdm_photo_about(photo)->icc);
    tdm_photo_close(photo);
    tdm_warnings_free(&warnings);
    free(file.data);
}
END_TEST

static void flip_in(made file, const char *name, size_t offset)
{
    for (size_t i = 0; i + 4 + offset < file.size; i++) {
        if (memcmp(file.data + i, name, 4) == 0)
            file.data[i + 4 + offset] ^= 1;
    }
}

/* Damage to the chunk that counts is a fault, to another a warning. */
START_TEST(damaged_chunks)
{
    make_iccp();
    const made_part parts[] = {PART("cICP", cicp_srgb), PART("iCCP", iccp), PART("sRGB", srgb), NONE};
    const char *names[] = {"cICP", "iCCP", "sRGB"};
    for (size_t first = 0; first < 3; first++) {
        for (size_t hit = first; hit < 3; hit++) {
            const made file = png_with(parts + first);
            flip_in(file, names[hit], 0);
            made_read read = made_read_all(file);
            const tdm_error *fault = &read.info.colour_fault;
            ck_assert_msg(read.code == TDM_OK, "%s hit: %s", names[hit], read.error.text);
            ck_assert_msg(fault->code == (hit == first ? TDM_ERR_FORMAT : TDM_OK), "%s hit, %s counts: %s",
                          names[hit], names[first], fault->text);
            if (hit == first)
                ck_assert_str_eq(fault->place, names[hit]);
            else
                ck_assert(tdm_warnings_have(&read.warnings, "photo-png"));
            made_read_free(&read);
            free(file.data);
        }
    }
}
END_TEST

/* The chunk's checksum is right, but the profile in it is cut or isn't one. */
START_TEST(damaged_profile)
{
    for (int i = 0; i < 3; i++) {
        make_iccp();
        if (i == 0)
            iccp[NAME + 7 + 36] = 'x'; /* "acsp" */
        else if (i == 1)
            iccp[NAME + 7 + 2] = 1; /* it says that it has 256 bytes more */
        else
            iccp[NAME] = 0; /* not zlib */
        const made_part parts[] = {PART("iCCP", iccp), NONE};
        const made file = png_with(parts);
        made_read read = made_read_all(file);
        ck_assert_int_eq(read.code, TDM_OK);
        ck_assert_int_eq(read.info.colour_fault.code, TDM_ERR_FORMAT);
        ck_assert_ptr_nonnull(strstr(read.info.colour_fault.text, "profile"));
        ck_assert_int_eq(read.info.colour, TDM_COLOUR_UNSTATED);
        made_read_free(&read);
        free(file.data);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {precedence,     after_the_pixels, gamma_values, profile_bytes,
                                  damaged_chunks, damaged_profile,  NULL};
    return run_suite("photo PNG colour", tests);
}
