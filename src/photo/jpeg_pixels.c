/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/fail.h"
#include "photo/decoder.h"
#include "photo/jpeg_reader.h"

/* The decoder's state after the header and, for several scans, the whole file. */
static void start(tdm_jpeg *jpeg, void *work)
{
    const tdm_sink *sink = work;
    struct jpeg_decompress_struct *decoder = &jpeg->decoder;
    (void)jpeg_read_header(decoder, TRUE);
    decoder->out_color_space = decoder->jpeg_color_space == JCS_GRAYSCALE ? JCS_GRAYSCALE : JCS_RGB;
    decoder->dct_method = JDCT_ISLOW;
    decoder->do_fancy_upsampling = TRUE;
    decoder->do_block_smoothing = FALSE; /* it makes up what a cut file lacks */
    decoder->scale_num = 1;
    decoder->scale_denom = sink->reduction > 1 ? sink->reduction : 1;
    (void)jpeg_start_decompress(decoder);
}

/* A file of several scans can end, without any sign of damage, before the last of them. */
static bool all_scans_came(const tdm_jpeg *jpeg)
{
    const struct jpeg_decompress_struct *decoder = &jpeg->decoder;
    if (!jpeg_has_multiple_scans((j_decompress_ptr)&jpeg->decoder))
        return true;
    for (int i = 0; i < decoder->num_components; i++) {
        if (!jpeg->scanned[i])
            return false;
        for (int k = 0; decoder->progressive_mode && k < DCTSIZE2; k++) {
            if (decoder->coef_bits[i][k] != 0) /* bits not yet known */
                return false;
        }
    }
    return true;
}

/* The columns to decode. Upsampling mixes neighbouring chroma samples and takes an edge of the crop for an
 * edge of the picture, so a block more is decoded on either side. */
static void crop(struct jpeg_decompress_struct *decoder, const tdm_rect *stored, uint32_t *left)
{
    const JDIMENSION margin = (JDIMENSION)(DCTSIZE * decoder->max_h_samp_factor);
    const JDIMENSION right = stored->x + stored->width;
    const JDIMENSION picture_width = decoder->output_width;
    JDIMENSION from = stored->x > margin ? stored->x - margin : 0;
    JDIMENSION width = (picture_width - right > margin ? right + margin : picture_width) - from;
    *left = stored->x;
    if (from == 0 && width == picture_width)
        return;
    jpeg_crop_scanline(decoder, &from, &width);
    *left = stored->x - from;
}

/* Rows far above aren't brought out of the frequency domain. Those of two blocks just above are, and are then
 * dropped, so that no row that counts leans on how the library takes up again after a skip. */
static void skip_to(struct jpeg_decompress_struct *decoder, JSAMPARRAY row, uint32_t top)
{
    const uint32_t margin = 2 * (uint32_t)(DCTSIZE * decoder->max_v_samp_factor);
    if (top > margin)
        (void)jpeg_skip_scanlines(decoder, top - margin);
    while (decoder->output_scanline < top)
        (void)jpeg_read_scanlines(decoder, row, 1);
}

static void read_rows(tdm_jpeg *jpeg, void *work)
{
    const tdm_sink *sink = work;
    struct jpeg_decompress_struct *decoder = &jpeg->decoder;
    uint32_t left;
    crop(decoder, &sink->stored, &left);
    const int channels = decoder->output_components;
    JSAMPARRAY row = decoder->mem->alloc_sarray((j_common_ptr)decoder, JPOOL_IMAGE,
                                                decoder->output_width * (JDIMENSION)channels, 1);
    skip_to(decoder, row, sink->stored.y);
    for (uint32_t y = 0; y < sink->stored.height; y++) {
        (void)jpeg_read_scanlines(decoder, row, 1);
        tdm_sink_row(sink, y, row[0] + (size_t)left * (size_t)channels, channels);
    }
}

static tdm_code decode(tdm_jpeg *jpeg, const tdm_photo *photo, const tdm_sink *sink, tdm_error *error)
{
    tdm_sink rows = *sink;
    if (!tdm_jpeg_try(jpeg, start, &rows))
        return tdm_jpeg_fail(jpeg, photo->name, error);
    if (!all_scans_came(jpeg))
        return tdm_fail(error, TDM_ERR_FORMAT, photo->name, NULL,
                        "ends before its last scan; copy it again from where it came from");
    if (!tdm_jpeg_try(jpeg, read_rows, &rows))
        return tdm_jpeg_fail(jpeg, photo->name, error);
    return TDM_OK;
}

tdm_code tdm_jpeg_pixels(const tdm_photo *photo, const tdm_sink *sink, tdm_error *error)
{
    tdm_jpeg *jpeg = tdm_jpeg_create(photo->data, photo->size, photo->limits.scans);
    if (!jpeg)
        return tdm_fail_memory(error, photo->name);
    const tdm_code code = decode(jpeg, photo, sink, error);
    tdm_jpeg_free(jpeg);
    return code;
}
