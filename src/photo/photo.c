/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo/photo.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "base/file.h"
#include "base/sha256.h"
#include "photo/decoder.h"

static tdm_code read_header(tdm_photo *photo, tdm_warnings *warnings, tdm_error *error)
{
    tdm_code code = tdm_kind_of(photo->data, photo->size, photo->name, &photo->kind, error);
    if (code != TDM_OK)
        return code;
    code = photo->kind == TDM_KIND_JPEG ? tdm_jpeg_header(photo, warnings, error)
                                        : tdm_png_header(photo, warnings, error);
    if (code != TDM_OK)
        return code;
    const bool swap = tdm_orient_swaps(photo->info.orientation);
    photo->info.width = swap ? photo->stored_height : photo->stored_width;
    photo->info.height = swap ? photo->stored_width : photo->stored_height;
    tdm_sha256_hex(photo->data, photo->size, photo->info.sha256);
    return TDM_OK;
}

tdm_code tdm_photo_open_memory(const uint8_t *data, size_t size, const char *name, const tdm_limits *limits,
                               tdm_warnings *warnings, tdm_photo **out, tdm_error *error)
{
    if (size > limits->file_bytes)
        return tdm_fail(error, TDM_ERR_LIMIT, name, NULL,
                        "has %zu bytes and the limit is %" PRIu64 "; raise it if you trust the file", size,
                        limits->file_bytes);
    tdm_photo *photo = calloc(1, sizeof *photo);
    if (!photo)
        return tdm_fail_memory(error, name);
    photo->data = data;
    photo->size = size;
    photo->limits = *limits;
    photo->info.orientation = 1;
    photo->name = strdup(name);
    const tdm_code code = photo->name ? read_header(photo, warnings, error) : tdm_fail_memory(error, name);
    if (code != TDM_OK) {
        tdm_photo_close(photo);
        return code;
    }
    *out = photo;
    return TDM_OK;
}

tdm_code tdm_photo_open(const char *path, const tdm_limits *limits, tdm_warnings *warnings, tdm_photo **out,
                        tdm_error *error)
{
    tdm_bytes bytes;
    tdm_code code = tdm_file_read(path, limits->file_bytes, &bytes, error);
    if (code != TDM_OK)
        return code;
    code = tdm_photo_open_memory(bytes.data, bytes.size, path, limits, warnings, out, error);
    if (code != TDM_OK)
        free(bytes.data);
    else
        (*out)->owned = bytes.data;
    return code;
}

void tdm_photo_close(tdm_photo *photo)
{
    if (!photo)
        return;
    free(photo->icc);
    free(photo->owned);
    free(photo->name);
    free(photo);
}

const tdm_photo_info *tdm_photo_about(const tdm_photo *photo)
{
    return &photo->info;
}

tdm_code tdm_photo_set_size(tdm_photo *photo, uint32_t width, uint32_t height, tdm_error *error)
{
    const uint64_t pixels = (uint64_t)width * height;
    if (pixels == 0)
        return tdm_fail(error, TDM_ERR_FORMAT, photo->name, NULL, "has no pixels");
    if (pixels > photo->limits.pixels)
        return tdm_fail(error, TDM_ERR_LIMIT, photo->name, NULL,
                        "has %" PRIu64 " pixels and the limit is %" PRIu64 "; raise it if you trust the file",
                        pixels, photo->limits.pixels);
    photo->stored_width = width;
    photo->stored_height = height;
    return TDM_OK;
}

tdm_code tdm_photo_settle_colours(tdm_photo *photo, tdm_code code, const tdm_error *fault, tdm_error *error)
{
    if (code == TDM_OK)
        return TDM_OK;
    if (code != TDM_ERR_FORMAT && code != TDM_ERR_LIMIT) {
        if (error)
            *error = *fault;
        return code;
    }
    photo->info.colour = TDM_COLOUR_UNSTATED;
    photo->info.gamma = 0;
    memset(photo->info.chromaticity, 0, sizeof photo->info.chromaticity);
    photo->info.colour_fault = *fault;
    return TDM_OK;
}

static bool inside(const tdm_photo_info *info, tdm_rect rect)
{
    return rect.width > 0 && rect.height > 0 && rect.width <= info->width && rect.height <= info->height &&
           rect.x <= info->width - rect.width && rect.y <= info->height - rect.height;
}

tdm_code tdm_photo_read(tdm_photo *photo, tdm_rect rect, tdm_pixels *out, tdm_error *error)
{
    const tdm_photo_info *info = &photo->info;
    if (!inside(info, rect))
        return tdm_fail(error, TDM_ERR_USAGE, photo->name, NULL,
                        "the rectangle that is asked for isn't inside the picture");
    tdm_pixels pixels;
    tdm_code code = tdm_pixels_create(info, rect, photo->name, &pixels, error);
    if (code != TDM_OK)
        return code;
    const tdm_sink sink = {
        .pixels = &pixels,
        .placing = tdm_orient_placing(info->orientation, rect.width, rect.height),
        .stored = tdm_orient_stored(info->orientation, info->width, info->height, rect),
    };
    code = photo->kind == TDM_KIND_JPEG ? tdm_jpeg_pixels(photo, &sink, error)
                                        : tdm_png_pixels(photo, &sink, error);
    if (code != TDM_OK) {
        tdm_pixels_free(&pixels);
        return code;
    }
    tdm_pixels_settle(&pixels);
    *out = pixels;
    return TDM_OK;
}

const char *tdm_photo_library_version(const char *name)
{
    if (strcmp(name, "libjpeg-turbo") == 0)
        return tdm_jpeg_version();
    if (strcmp(name, "libpng") == 0)
        return tdm_png_version();
    return NULL;
}
