/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a default stated in tidemark/limits.h weren't the one in force. */
#include "suite.h"
#include "tidemark/limits.h"

START_TEST(defaults_are_those_stated)
{
    const tdm_limits limits = tdm_limits_default();
    ck_assert_uint_eq(limits.file_bytes, 256u * 1024 * 1024);
    ck_assert_uint_eq(limits.pixels, 200u * 1000 * 1000);
    ck_assert_uint_eq(limits.icc_bytes, 4u * 1024 * 1024);
    ck_assert_uint_eq(limits.marks_bytes, 4u * 1024 * 1024);
    ck_assert_uint_eq(limits.zones, 64);
    ck_assert_uint_eq(limits.points, 1024);
    ck_assert_uint_eq(limits.scans, 200);
    ck_assert_uint_eq(limits.strip_cells, 8000000);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {defaults_are_those_stated, NULL};
    return run_suite("base limits", tests);
}
