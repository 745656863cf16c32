/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/fail.h"
#include "photo/decoder.h"
#include "photo/shrink.h"

static uint32_t parts(uint32_t length, uint32_t part)
{
    return length / part + (length % part != 0);
}

/* A JPEG's blocks shrink by 2, 4 or 8 at little cost, but from the stored picture's left and top: only where
 * no rest is left on a side that is mirrored are those the upright picture's squares. */
static uint32_t reduction(const tdm_photo *photo, uint32_t factor)
{
    const tdm_photo_info *info = &photo->info;
    const tdm_rect origin =
        tdm_orient_stored(info->orientation, info->width, info->height, (tdm_rect){0, 0, 1, 1});
    if (photo->kind != TDM_KIND_JPEG)
        return 1;
    for (uint32_t by = 8; by > 1; by /= 2) {
        if (factor % by == 0 && (origin.x == 0 || photo->stored_width % by == 0) &&
            (origin.y == 0 || photo->stored_height % by == 0))
            return by;
    }
    return 1;
}

static tdm_code decode(const tdm_photo *photo, uint32_t factor, tdm_pixels *pixels, tdm_error *error)
{
    const tdm_photo_info *info = &photo->info;
    const uint32_t by = reduction(photo, factor);
    const bool as_they_come = factor == by && info->bits == 8;
    tdm_shrink shrink = {0};
    const tdm_sink sink = {
        .pixels = pixels,
        .placing = tdm_orient_placing(info->orientation, pixels->rect.width, pixels->rect.height),
        .stored = {0, 0, parts(photo->stored_width, by), parts(photo->stored_height, by)},
        .shrink = as_they_come ? NULL : &shrink,
        .reduction = by,
    };
    tdm_code code;
    if (!as_they_come && !tdm_shrink_start(&shrink, pixels, info->orientation, parts(info->width, by),
                                           parts(info->height, by), factor / by, info->bits == 16))
        code = tdm_fail_memory(error, photo->name);
    else if (photo->kind == TDM_KIND_JPEG)
        code = tdm_jpeg_pixels(photo, &sink, error);
    else
        code = tdm_png_pixels(photo, &sink, error);
    tdm_shrink_free(&shrink);
    return code;
}

tdm_code tdm_photo_read_small(tdm_photo *photo, uint32_t longest_side, tdm_pixels *out, double *factor,
                              tdm_error *error)
{
    tdm_photo_info info = photo->info;
    if (longest_side == 0)
        return tdm_fail(error, TDM_ERR_USAGE, photo->name, NULL, "a picture can't have sides of no pixel");
    const uint32_t by = parts(info.width > info.height ? info.width : info.height, longest_side);
    const tdm_rect rect = {0, 0, parts(info.width, by), parts(info.height, by)};
    tdm_pixels pixels;
    info.bits = 8;
    tdm_code code = tdm_pixels_create(&info, rect, photo->name, &pixels, error);
    if (code != TDM_OK)
        return code;
    code = decode(photo, by, &pixels, error);
    if (code != TDM_OK) {
        tdm_pixels_free(&pixels);
        return code;
    }
    tdm_pixels_settle(&pixels);
    *out = pixels;
    *factor = by;
    return TDM_OK;
}
