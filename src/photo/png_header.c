/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "photo/decoder.h"
#include "photo/exif.h"
#include "photo/png_chunks.h"
#include "photo/png_colour.h"
#include "photo/png_reader.h"

static void read_info(tdm_png *png, void *work)
{
    (void)work;
    png_read_info(png->decoder, png->info);
}

static tdm_code take_shape(tdm_photo *photo, const tdm_png *png, const tdm_png_chunks *chunks,
                           tdm_error *error)
{
    const int kind = png_get_color_type(png->decoder, png->info);
    const bool keyed = png_get_valid(png->decoder, png->info, PNG_INFO_tRNS) != 0;
    photo->info.format = "PNG";
    photo->info.bits = png_get_bit_depth(png->decoder, png->info) == 16 ? 16 : 8;
    photo->info.grey = !(kind & PNG_COLOR_MASK_COLOR);
    photo->info.has_alpha = keyed || (kind & PNG_COLOR_MASK_ALPHA);
    if (chunks->trns.found && !photo->info.has_alpha)
        return tdm_fail(error, TDM_ERR_FORMAT, photo->name, "tRNS",
                        "the chunk that says what is transparent is damaged; export the picture again");
    return tdm_photo_set_size(photo, png_get_image_width(png->decoder, png->info),
                              png_get_image_height(png->decoder, png->info), error);
}

static tdm_code too_large(const tdm_photo *photo, tdm_error *error)
{
    return tdm_fail(error, TDM_ERR_LIMIT, photo->name, "iCCP",
                    "the profile has more bytes than the limit of %" PRIu64, photo->limits.icc_bytes);
}

static tdm_code take_profile(tdm_photo *photo, tdm_png *png, tdm_error *error)
{
    png_charp name;
    png_bytep profile;
    png_uint_32 size = 0;
    int compression;
    if (!png_get_iCCP(png->decoder, png->info, &name, &compression, &profile, &size) || size == 0) {
        if (strstr(png->text, "exceeds application limits"))
            return too_large(photo, error);
        return tdm_fail(error, TDM_ERR_FORMAT, photo->name, "iCCP",
                        "the embedded colour profile is damaged, or isn't for such a picture (%s)",
                        png->text);
    }
    if (size > photo->limits.icc_bytes)
        return too_large(photo, error);
    photo->icc = malloc(size);
    if (!photo->icc)
        return tdm_fail_memory(error, photo->name);
    memcpy(photo->icc, profile, size);
    photo->info.icc = photo->icc;
    photo->info.icc_size = size;
    return TDM_OK;
}

static tdm_code take_colours(tdm_photo *photo, tdm_png *png, const tdm_png_chunks *chunks,
                             tdm_warnings *warnings, tdm_error *error)
{
    tdm_error fault = {0};
    tdm_code code = tdm_png_colour(chunks, photo->name, warnings, &photo->info, &fault);
    if (code == TDM_OK && photo->info.colour == TDM_COLOUR_ICC)
        code = take_profile(photo, png, &fault);
    return tdm_photo_settle_colours(photo, code, &fault, error);
}

static tdm_code take_exif(tdm_photo *photo, const tdm_png_chunk *chunk, tdm_warnings *warnings,
                          tdm_error *error)
{
    if (!chunk->found)
        return TDM_OK;
    if (!chunk->sound)
        return tdm_warn(warnings, error, "photo-exif", NULL,
                        "the EXIF block is damaged and was left out; check that the picture is upright");
    tdm_exif exif;
    const tdm_code code = tdm_exif_read(chunk->data, chunk->size, photo->name, warnings, &exif, error);
    if (code != TDM_OK)
        return code;
    photo->info.orientation = exif.orientation;
    memcpy(photo->info.taken, exif.taken, sizeof exif.taken);
    photo->info.focal_35mm = exif.focal_35mm;
    if (exif.srgb && photo->info.colour == TDM_COLOUR_UNSTATED)
        photo->info.colour = TDM_COLOUR_SRGB;
    return TDM_OK;
}

static tdm_code take(tdm_photo *photo, tdm_png *png, const tdm_png_chunks *chunks, tdm_warnings *warnings,
                     tdm_error *error)
{
    if (!tdm_png_try(png, read_info, NULL))
        return tdm_png_fail(png, photo->name, error);
    tdm_code code = take_shape(photo, png, chunks, error);
    if (code == TDM_OK)
        code = take_colours(photo, png, chunks, warnings, error);
    if (code == TDM_OK)
        code = take_exif(photo, &chunks->exif, warnings, error);
    return code;
}

tdm_code tdm_png_header(tdm_photo *photo, tdm_warnings *warnings, tdm_error *error)
{
    tdm_png_chunks chunks;
    tdm_code code = tdm_png_find_chunks(photo->data, photo->size, photo->name, &chunks, error);
    if (code != TDM_OK)
        return code;
    tdm_png *png = tdm_png_create(photo->data, photo->size, true, photo->limits.icc_bytes);
    if (!png)
        return tdm_fail_memory(error, photo->name);
    code = take(photo, png, &chunks, warnings, error);
    tdm_png_free(png);
    return code;
}
