/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a failed allocation of the library's own were overlooked, or leaked what was there before it
 * (seen under the address sanitizer). The linker sends the library's calls here; those of libjpeg, libpng and
 * libexif are their own. */
#include <string.h>

#include "failing.h"
#include "made.h"
#include "suite.h"

/* Fails the first allocation, then the second, and so on until the reading gets through. */
static void check_file(made file)
{
    long count = 0;
    for (bool through = false; !through; count++) {
        fail_allocation(count);
        made_read read = made_read_all(file);
        through = failure_is_due();
        fail_allocation(-1);
        ck_assert_msg(read.code == (through ? TDM_OK : TDM_ERR_MEMORY), "allocation %ld: %d %s", count,
                      read.code, read.error.text);
        made_read_free(&read);
    }
    ck_assert_int_gt(count, 5);
    free(file.data);
}

START_TEST(jpeg)
{
    const made exif = made_exif(&(made_exif_plan){.orientation = 9}, true); /* with a warning */
    uint8_t profile[20] = "ICC_PROFILE\0\1\1chunk";
    const made_part parts[] = {{.code = 0xe1, .data = exif.data, .size = exif.size},
                               {.code = 0xe2, .data = profile, .size = sizeof profile}};
    check_file(made_jpeg(&(made_jpeg_plan){.width = 20,
                                           .height = 20,
                                           .colours = MADE_YCC,
                                           .progressive = true,
                                           .sample = made_busy,
                                           .parts = parts,
                                           .part_count = 2}));
    free(exif.data);
}
END_TEST

static unsigned index_of(unsigned x, unsigned y, int channel)
{
    (void)channel;
    return (x + y) % 4;
}

START_TEST(png)
{
    const uint8_t palette[12] = {1, 2, 3}, alphas[] = {0};
    const made_part part = {.name = "tRNS", .data = alphas, .size = 1};
    check_file(made_png(&(made_png_plan){.width = 20,
                                         .height = 20,
                                         .depth = 2,
                                         .type = 3,
                                         .interlaced = true,
                                         .palette = palette,
                                         .palette_count = 4,
                                         .sample = index_of,
                                         .parts = &part,
                                         .part_count = 1}));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {jpeg, png, NULL};
    return run_suite("photo memory", tests);
}
