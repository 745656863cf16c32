/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a quality read from the wrong table, a PNG that is given one, a missing table taken for an
 * error or read past its end. The truth is what the file was written with. */
#include <stdlib.h>

#include "photo/made.h"
#include "suite.h"

static made file_of(int quality, made_colours colours, bool progressive)
{
    const made_jpeg_plan plan = {.width = 32,
                                 .height = 32,
                                 .colours = colours,
                                 .across = 1,
                                 .down = 1,
                                 .progressive = progressive,
                                 .quality = quality,
                                 .sample = made_busy};
    return made_jpeg(&plan);
}

START_TEST(as_written)
{
    for (int quality = 1; quality <= 100; quality++) {
        made file = file_of(quality, quality % 2 ? MADE_YCC : MADE_GREY, quality % 3 == 0);
        made_read read = made_read_all(file);
        ck_assert_int_eq(read.code, TDM_OK);
        ck_assert_int_eq(read.info.jpeg_quality, quality);
        made_read_free(&read);
        free(file.data);
    }
}
END_TEST

/* At 50 the table is that of ITU-T T.81 annex K: 11, 10, 16 and 12, 12, 14 and 14, 13 and 14, mean 12.89;
 * at 100 all steps are 1. */
START_TEST(step)
{
    static const int quality[] = {50, 100};
    static const double steps[] = {116.0 / 9, 1};
    for (int i = 0; i < 2; i++) {
        made file = file_of(quality[i], MADE_YCC, false);
        made_read read = made_read_all(file);
        ck_assert_double_eq_tol(read.info.jpeg_step, steps[i], 1e-12);
        made_read_free(&read);
        free(file.data);
    }
}
END_TEST

START_TEST(none_in_a_png)
{
    const made_png_plan plan = {.width = 8, .height = 8, .depth = 8, .type = 2, .sample = made_flat};
    made file = made_png(&plan);
    made_read read = made_read_all(file);
    ck_assert_int_eq(read.code, TDM_OK);
    ck_assert_int_eq(read.info.jpeg_quality, 0);
    ck_assert_double_eq_tol(read.info.jpeg_step, 0, 1e-12);
    made_read_free(&read);
    free(file.data);
}
END_TEST

/* Its first component's table number, the last byte of its entry in the frame header, raised to each value: a
 * quality or an error, never a read past the tables. */
START_TEST(any_table_number)
{
    made file = file_of(80, MADE_YCC, false);
    size_t at = 0;
    while (at + 18 < file.size && !(file.data[at] == 0xff && file.data[at + 1] == 0xc0))
        at++;
    ck_assert_uint_lt(at + 18, file.size);
    ck_assert_uint_eq(file.data[at + 12], 0); /* marker 2, length 2, bits 1, size 4, count 1, id, sampling */
    for (unsigned number = 0; number < 256; number++) {
        file.data[at + 12] = (uint8_t)number;
        made_read read = made_read_all(file);
        ck_assert_int_eq(read.code, number < 2 ? TDM_OK : TDM_ERR_FORMAT);
        made_read_free(&read);
    }
    free(file.data);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {as_written, step, none_in_a_png, any_table_number, NULL};
    return run_suite("photo jpeg quality", tests);
}
