/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a file were taken for what its name says, or refused without saying what to do. */
#include <string.h>

#include "made.h"
#include "suite.h"

static const struct {
    const char *bytes;
    size_t size;
    const char *word; /* in the message */
} refused[] = {
#define FILE_OF(bytes) bytes "rest of the file", sizeof bytes "rest of the file" - 1
    {FILE_OF("\0\0\0\x18"
             "ftypheic"),
     "HEIF"},
    {FILE_OF("\0\0\0\x18"
             "ftypmif1"),
     "HEIF"},
    {FILE_OF("\0\0\0\x1c"
             "ftypavif"),
     "AVIF"},
    {FILE_OF("\0\0\0\x18"
             "ftypcrx "),
     "raw"},
    {FILE_OF("II*\0\x08\0\0\0"), "TIFF"},
    {FILE_OF("MM\0*\0\0\0\x08"), "TIFF"},
    {FILE_OF("II*\0\x10\0\0\0CR\x02\0"), "raw"},
    {FILE_OF("FUJIFILMCCD-RAW "), "raw"},
    {FILE_OF("RIFF\x10\0\0\0WEBPVP8 "), "WebP"},
    {FILE_OF("GIF89a"), "GIF"},
    {FILE_OF("BM\x36\0\0\0\0\0\0\0\x36\0\0\0"), "BMP"},
    {FILE_OF("%PDF-1.7"), "PDF"},
    {FILE_OF("\xff\x0a"), "JPEG XL"},
    {FILE_OF("\0\0\0\x0cJXL \r\n\x87\n"), "JPEG XL"},
    {FILE_OF("\0\0\0\x0cjP  \r\n\x87\n"), "JPEG 2000"},
    {FILE_OF("\xff\x4f\xff\x51"), "JPEG 2000"},
};

START_TEST(known_kinds_are_refused_with_advice)
{
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        const made file = {(uint8_t *)refused[i].bytes, refused[i].size};
        made_read read = made_read_all(file);
        ck_assert_msg(read.code == TDM_ERR_UNSUPPORTED, "%s: %d", refused[i].word, read.code);
        ck_assert_msg(strstr(read.error.text, refused[i].word), "%s: %s", refused[i].word, read.error.text);
        ck_assert_ptr_nonnull(strstr(read.error.text, "export"));
        ck_assert_str_eq(read.error.file, "made");
        made_read_free(&read);
    }
}
END_TEST

START_TEST(unknown_kinds_name_what_is_read)
{
    const char *unknown[] = {"", "hello", "BM, in a text", "\x89PN", "\xff\xd8", "RIFF....WAVE"};
    for (size_t i = 0; i < sizeof unknown / sizeof *unknown; i++) {
        const made file = {(uint8_t *)unknown[i], strlen(unknown[i])};
        made_read read = made_read_all(file);
        ck_assert_int_eq(read.code, TDM_ERR_FORMAT);
        ck_assert_ptr_nonnull(strstr(read.error.text, "JPEG"));
        ck_assert_ptr_nonnull(strstr(read.error.text, "PNG"));
        made_read_free(&read);
    }
}
END_TEST

START_TEST(bare_signatures_are_damage)
{
    const char *bare[] = {"\xff\xd8\xff", "\xff\xd8\xff\xd9", "\x89PNG\r\n\x1a\n"};
    for (size_t i = 0; i < sizeof bare / sizeof *bare; i++) {
        const made file = {(uint8_t *)bare[i], strlen(bare[i])};
        made_read read = made_read_all(file);
        ck_assert_int_eq(read.code, TDM_ERR_FORMAT);
        made_read_free(&read);
    }
}
END_TEST

START_TEST(from_a_file)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_photo *photo = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_photo_open("no/such/file", &limits, &warnings, &photo, &error), TDM_ERR_UNREADABLE);
    ck_assert_int_eq(tdm_photo_open(TEST_DATA, &limits, &warnings, &photo, &error), TDM_ERR_UNREADABLE);
    ck_assert_ptr_null(photo);
    tdm_photo_close(NULL);

    char path[] = "photo-XXXXXX"; /* a name that says nothing */
    const int descriptor = mkstemp(path);
    FILE *file = fdopen(descriptor, "wb");
    const made jpeg =
        made_jpeg(&(made_jpeg_plan){.width = 4, .height = 3, .colours = MADE_YCC, .sample = made_flat});
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(jpeg.data, 1, jpeg.size, file), jpeg.size);
    ck_assert_int_eq(fclose(file), 0);
    ck_assert_int_eq(tdm_photo_open(path, &limits, &warnings, &photo, &error), TDM_OK);
    ck_assert_uint_eq(tdm_photo_about(photo)->width, 4);
    ck_assert_uint_eq(strlen(tdm_photo_about(photo)->sha256), 64);
    tdm_photo_close(photo);
    (void)remove(path);
    free(jpeg.data);
    tdm_warnings_free(&warnings);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {known_kinds_are_refused_with_advice, unknown_kinds_name_what_is_read,
                                  bare_signatures_are_damage, from_a_file, NULL};
    return run_suite("photo kind", tests);
}
