/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/fail.h"
#include "photo/decoder.h"
#include "photo/exif.h"
#include "photo/jpeg_icc.h"
#include "photo/jpeg_quality.h"
#include "photo/jpeg_reader.h"

static void read_header(tdm_jpeg *jpeg, void *work)
{
    (void)work;
    jpeg_save_markers(&jpeg->decoder, JPEG_APP0 + 1, 0xffff);
    jpeg_save_markers(&jpeg->decoder, JPEG_APP0 + 2, 0xffff);
    (void)jpeg_read_header(&jpeg->decoder, TRUE);
}

static tdm_code check_colours(const struct jpeg_decompress_struct *decoder, const char *name,
                              tdm_error *error)
{
    switch (decoder->jpeg_color_space) {
    case JCS_GRAYSCALE:
    case JCS_YCbCr:
    case JCS_RGB:
        return TDM_OK;
    case JCS_CMYK:
    case JCS_YCCK:
        return tdm_fail(error, TDM_ERR_UNSUPPORTED, name, NULL,
                        "is a CMYK picture, made for print; export it from the original photograph in RGB, "
                        "with its profile");
    default:
        return tdm_fail(error, TDM_ERR_UNSUPPORTED, name, NULL,
                        "has %d colour channels of an unknown kind; export it in RGB, with its profile",
                        decoder->num_components);
    }
}

static tdm_code warn_oddities(const tdm_jpeg *jpeg, tdm_warnings *warnings, tdm_error *error)
{
    const struct jpeg_decompress_struct *decoder = &jpeg->decoder;
    if (jpeg->old_jfif) {
        const tdm_code code = tdm_warn(warnings, error, "photo-jpeg", NULL,
                                       "the JFIF version is unknown; the pixels are read as usual");
        if (code != TDM_OK)
            return code;
    }
    if (!decoder->progressive_mode &&
        (decoder->Ss != 0 || decoder->Se != DCTSIZE2 - 1 || decoder->Ah != 0 || decoder->Al != 0))
        return tdm_warn(warnings, error, "photo-jpeg", NULL,
                        "the scan header has values that mean nothing in a sequential JPEG; the pixels are "
                        "read as usual");
    return TDM_OK;
}

static tdm_code read_exif(tdm_photo *photo, const struct jpeg_marker_struct *marker, tdm_warnings *warnings,
                          tdm_error *error)
{
    for (; marker; marker = marker->next) {
        if (marker->marker != JPEG_APP0 + 1 || marker->data_length < 6 || memcmp(marker->data, "Exif\0", 6))
            continue;
        tdm_exif exif;
        const tdm_code code =
            tdm_exif_read(marker->data + 6, marker->data_length - 6, photo->name, warnings, &exif, error);
        if (code != TDM_OK)
            return code;
        photo->info.orientation = exif.orientation;
        memcpy(photo->info.taken, exif.taken, sizeof exif.taken);
        photo->info.focal_35mm = exif.focal_35mm;
        if (exif.srgb)
            photo->info.colour = TDM_COLOUR_SRGB;
        return TDM_OK;
    }
    return TDM_OK;
}

/* An embedded profile outweighs what EXIF says. */
static tdm_code read_icc(tdm_photo *photo, const struct jpeg_marker_struct *markers, tdm_error *error)
{
    tdm_error fault = {0};
    const tdm_code code = tdm_jpeg_icc(markers, photo->limits.icc_bytes, photo->name, &photo->icc,
                                       &photo->info.icc_size, &fault);
    if (code != TDM_OK || !photo->icc)
        return tdm_photo_settle_colours(photo, code, &fault, error);
    photo->info.icc = photo->icc;
    photo->info.colour = TDM_COLOUR_ICC;
    return TDM_OK;
}

static tdm_code take(tdm_photo *photo, const tdm_jpeg *jpeg, tdm_warnings *warnings, tdm_error *error)
{
    const struct jpeg_decompress_struct *decoder = &jpeg->decoder;
    tdm_code code = check_colours(decoder, photo->name, error);
    if (code == TDM_OK)
        code = tdm_photo_set_size(photo, decoder->image_width, decoder->image_height, error);
    if (code == TDM_OK)
        code = warn_oddities(jpeg, warnings, error);
    if (code == TDM_OK)
        code = read_exif(photo, decoder->marker_list, warnings, error);
    if (code == TDM_OK)
        code = read_icc(photo, decoder->marker_list, error);
    photo->info.jpeg_quality = tdm_jpeg_quality(jpeg, &photo->info.jpeg_step);
    photo->info.format = "JPEG";
    photo->info.bits = 8;
    photo->info.grey = decoder->jpeg_color_space == JCS_GRAYSCALE;
    return code;
}

tdm_code tdm_jpeg_header(tdm_photo *photo, tdm_warnings *warnings, tdm_error *error)
{
    tdm_jpeg *jpeg = tdm_jpeg_create(photo->data, photo->size, photo->limits.scans);
    if (!jpeg)
        return tdm_fail_memory(error, photo->name);
    const tdm_code code = tdm_jpeg_try(jpeg, read_header, NULL) ? take(photo, jpeg, warnings, error)
                                                                : tdm_jpeg_fail(jpeg, photo->name, error);
    tdm_jpeg_free(jpeg);
    return code;
}
