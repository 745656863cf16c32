/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a JPEG's profile were joined wrongly, or a damaged one silently dropped. */
#include <string.h>

#include "made.h"
#include "suite.h"

enum { MOST = 6, HEAD = 14 };

/* Chunk k of the profile is filled with the letter 'a' + k, 100 + k bytes of it. */
typedef struct chunks {
    uint8_t bytes[MOST][HEAD + 100 + MOST];
    made_part parts[MOST];
    size_t count;
} chunks;

static void add(chunks *to, int number, int total, size_t letter)
{
    uint8_t *bytes = to->bytes[to->count];
    memcpy(bytes, "ICC_PROFILE", 12);
    bytes[12] = (uint8_t)number;
    bytes[13] = (uint8_t)total;
    memset(bytes + HEAD, 'a' + (int)letter, 100 + letter);
    to->parts[to->count] = (made_part){.code = 0xe2, .data = bytes, .size = HEAD + 100 + letter};
    to->count++;
}

static tdm_code open_chunks(const chunks *with, uint64_t limit, tdm_photo **photo, made *file,
                            tdm_error *error)
{
    tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    limits.icc_bytes = limit;
    *file = made_jpeg(&(made_jpeg_plan){.width = 8,
                                        .height = 8,
                                        .colours = MADE_YCC,
                                        .sample = made_flat,
                                        .parts = with->parts,
                                        .part_count = with->count});
    const tdm_code code =
        tdm_photo_open_memory(file->data, file->size, "made", &limits, &warnings, photo, error);
    tdm_warnings_free(&warnings);
    return code;
}

START_TEST(three_chunks)
{
    chunks with = {0};
    tdm_photo *photo = NULL;
    tdm_error error = {0};
    made file;
    const uint8_t other[] = "MPF\0something else in APP2";
    add(&with, 1, 3, 0);
    with.parts[with.count++] = (made_part){.code = 0xe2, .data = other, .size = sizeof other};
    add(&with, 2, 3, 1);
    add(&with, 3, 3, 2);
    ck_assert_int_eq(open_chunks(&with, 303, &photo, &file, &error), TDM_OK);
    const tdm_photo_info *info = tdm_photo_about(photo);
    ck_assert_int_eq(info->colour, TDM_COLOUR_ICC);
    ck_assert_uint_eq(info->icc_size, 303);
    for (size_t i = 0; i < 303; i++)
        ck_assert_int_eq(info->icc[i], i < 100 ? 'a' : i < 201 ? 'b' : 'c');
    tdm_photo_close(photo);
    free(file.data);
    /* one byte less is past the limit */
    ck_assert_int_eq(open_chunks(&with, 302, &photo, &file, &error), TDM_OK);
    ck_assert_int_eq(tdm_photo_about(photo)->colour_fault.code, TDM_ERR_LIMIT);
    ck_assert_ptr_null(tdm_photo_about(photo)->icc);
    tdm_photo_close(photo);
    free(file.data);
}
END_TEST

/* The picture can be opened, but its colours are unstated and the fault is kept for whoever reads them. */
static void check_damaged(const chunks *with, const char *which)
{
    tdm_photo *photo = NULL;
    tdm_error error = {0};
    made file;
    ck_assert_int_eq(open_chunks(with, 1000, &photo, &file, &error), TDM_OK);
    const tdm_photo_info *info = tdm_photo_about(photo);
    ck_assert_msg(info->colour_fault.code == TDM_ERR_FORMAT, "%s: %d", which, info->colour_fault.code);
    ck_assert_ptr_nonnull(strstr(info->colour_fault.text, "profile is damaged"));
    ck_assert_int_eq(info->colour, TDM_COLOUR_UNSTATED);
    ck_assert_ptr_null(info->icc);
    tdm_photo_close(photo);
    free(file.data);
}

/* Numbers as they stand in the file; total where it isn't `count`. */
static const struct {
    int numbers[4], count, total;
} damaged[] = {
    {{1, 3}, 2, 3},       /* the middle is missing */
    {{1, 2}, 2, 3},       /* the last is missing */
    {{2, 3}, 2, 3},       /* the first is missing */
    {{1, 2, 2, 3}, 4, 3}, /* doubled */
    {{2, 1, 3}, 3, 3},    /* out of order */
    {{1, 2, 3}, 3, 2},    /* more than there should be */
    {{0, 1}, 2, 2},       /* counted from zero */
    {{1}, 1, 0},          /* of none */
};

START_TEST(damaged_chunks)
{
    for (size_t i = 0; i < sizeof damaged / sizeof *damaged; i++) {
        chunks with = {0};
        char which[32];
        for (int k = 0; k < damaged[i].count; k++)
            add(&with, damaged[i].numbers[k], damaged[i].total, 0);
        (void)snprintf(which, sizeof which, "row %zu", i);
        check_damaged(&with, which);
    }
}
END_TEST

START_TEST(short_and_disagreeing_chunks)
{
    chunks with = {0};
    add(&with, 1, 1, 0);
    for (size_t size = 12; size <= HEAD; size++) {
        with.parts[0].size = size; /* no number, no total, no content */
        check_damaged(&with, "short");
    }
    with = (chunks){0};
    add(&with, 1, 2, 0);
    add(&with, 2, 3, 0);
    check_damaged(&with, "disagreeing");
}
END_TEST

/* The profile outweighs what EXIF says. */
START_TEST(profile_before_exif)
{
    chunks with = {0};
    tdm_photo *photo = NULL;
    tdm_error error = {0};
    made file;
    const made exif = made_exif(&(made_exif_plan){.colour_space = 1, .orientation = 1}, true);
    with.parts[with.count++] = (made_part){.code = 0xe1, .data = exif.data, .size = exif.size};
    add(&with, 1, 1, 0);
    ck_assert_int_eq(open_chunks(&with, 1000, &photo, &file, &error), TDM_OK);
    ck_assert_int_eq(tdm_photo_about(photo)->colour, TDM_COLOUR_ICC);
    tdm_photo_close(photo);
    free(file.data);
    free(exif.data);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {three_chunks, damaged_chunks, short_and_disagreeing_chunks,
                                  profile_before_exif, NULL};
    return run_suite("photo ICC", tests);
}
