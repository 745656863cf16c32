/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo/jpeg_icc.h"

#include <inttypes.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"

enum { TAG = 12, HEAD = 14 /* "ICC_PROFILE\0", number of this chunk, number of chunks */ };

static bool is_chunk(const struct jpeg_marker_struct *marker)
{
    return marker->marker == JPEG_APP0 + 2 && marker->data_length >= TAG &&
           memcmp(marker->data, "ICC_PROFILE", TAG) == 0;
}

static tdm_code damaged(const char *name, const char *what, tdm_error *error)
{
    return tdm_fail(error, TDM_ERR_FORMAT, name, "colour profile",
                    "the embedded colour profile is damaged: %s", what);
}

/* Adds up the chunks' bytes and checks that they are 1, 2, 3 … of one total. */
static tdm_code measure(const struct jpeg_marker_struct *marker, const char *name, size_t *total,
                        tdm_error *error)
{
    int have = 0, count = 0;
    *total = 0;
    for (; marker; marker = marker->next) {
        if (!is_chunk(marker))
            continue;
        if (marker->data_length < HEAD)
            return damaged(name, "a chunk is cut short", error);
        if (have > 0 && marker->data[TAG + 1] != count)
            return damaged(name, "its chunks disagree about their number", error);
        count = marker->data[TAG + 1];
        have++;
        if (marker->data[TAG] != have || have > count)
            return damaged(name, "a chunk is missing, doubled or out of order", error);
        *total += marker->data_length - HEAD;
    }
    if (have < count)
        return damaged(name, "its last chunk is missing", error);
    if (have > 0 && *total == 0)
        return damaged(name, "it is empty", error);
    return TDM_OK;
}

static void join(const struct jpeg_marker_struct *marker, uint8_t *to)
{
    for (; marker; marker = marker->next) {
        if (!is_chunk(marker))
            continue;
        memcpy(to, marker->data + HEAD, marker->data_length - HEAD);
        to += marker->data_length - HEAD;
    }
}

tdm_code tdm_jpeg_icc(const struct jpeg_marker_struct *markers, uint64_t limit, const char *name,
                      uint8_t **icc, size_t *size, tdm_error *error)
{
    size_t total;
    *icc = NULL;
    *size = 0;
    const tdm_code code = measure(markers, name, &total, error);
    if (code != TDM_OK || total == 0)
        return code;
    if (total > limit)
        return tdm_fail(error, TDM_ERR_LIMIT, name, "colour profile",
                        "the profile has %zu bytes and the limit is %" PRIu64, total, limit);
    *icc = malloc(total);
    if (!*icc)
        return tdm_fail_memory(error, name);
    join(markers, *icc);
    *size = total;
    return TDM_OK;
}
