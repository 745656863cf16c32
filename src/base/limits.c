/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tidemark/limits.h"

tdm_limits tdm_limits_default(void)
{
    const tdm_limits limits = {
        .file_bytes = UINT64_C(256) << 20,
        .pixels = UINT64_C(200000000),
        .icc_bytes = UINT64_C(4) << 20,
        .marks_bytes = UINT64_C(4) << 20,
        .zones = 64,
        .points = 1024,
        .scans = 200,
        .strip_cells = UINT64_C(8000000),
    };
    return limits;
}
