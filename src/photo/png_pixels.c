/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "photo/decoder.h"
#include "photo/png_reader.h"

typedef struct work {
    const tdm_sink *sink;
    uint32_t height;   /* of the stored picture */
    int passes;        /* 7 where interlaced, else 1 */
    size_t row_bytes;  /* of the whole width */
    size_t pixel_size; /* bytes */
    int channels;      /* of what is sent on */
    bool indexed;      /* rows hold indices into: */
    uint8_t palette[256][4];
    uint8_t *kept;    /* the rectangle's rows between passes; NULL where not interlaced */
    uint8_t *scratch; /* one row */
    uint8_t *colours; /* the rectangle's part of one row, where indexed */
} work;

static void take_palette(const tdm_png *png, work *job)
{
    png_colorp colours = NULL;
    png_bytep alphas = NULL;
    int count = 0, alpha_count = 0;
    (void)png_get_PLTE(png->decoder, png->info, &colours, &count);
    (void)png_get_tRNS(png->decoder, png->info, &alphas, &alpha_count, NULL);
    for (int i = 0; i < count; i++) {
        job->palette[i][0] = colours[i].red;
        job->palette[i][1] = colours[i].green;
        job->palette[i][2] = colours[i].blue;
        job->palette[i][3] = i < alpha_count ? alphas[i] : 0xff;
    }
}

/* No gamma, no blending, no loss of bits. Indices are kept as they are, since libpng finds one that is past
 * the palette only then. */
static void start(tdm_png *png, void *data)
{
    work *job = data;
    png_structp decoder = png->decoder;
    png_read_info(decoder, png->info);
    job->height = png_get_image_height(decoder, png->info);
    job->indexed = png_get_color_type(decoder, png->info) == PNG_COLOR_TYPE_PALETTE;
    if (job->indexed) {
        png_set_packing(decoder);
        take_palette(png, job);
    } else {
        png_set_expand(decoder);
        png_set_gray_to_rgb(decoder);
    }
    job->passes = png_set_interlace_handling(decoder);
    png_read_update_info(decoder, png->info);
    job->row_bytes = png_get_rowbytes(decoder, png->info);
    job->channels = job->indexed ? 4 : png_get_channels(decoder, png->info);
    job->pixel_size = job->indexed ? 1 : (size_t)job->channels * png_get_bit_depth(decoder, png->info) / 8;
}

static bool make_room(work *job)
{
    const size_t rows = job->sink->stored.height;
    if (job->row_bytes > (size_t)-1 / rows)
        return false;
    job->scratch = calloc(1, job->row_bytes);
    if (job->passes > 1)
        job->kept = calloc(rows, job->row_bytes);
    if (job->indexed)
        job->colours = malloc(4 * (size_t)job->sink->stored.width);
    return job->scratch && (job->passes == 1 || job->kept) && (!job->indexed || job->colours);
}

static void send(const work *job, uint32_t row, const uint8_t *samples)
{
    const tdm_rect *stored = &job->sink->stored;
    samples += stored->x * job->pixel_size;
    if (job->indexed) {
        for (size_t x = 0; x < stored->width; x++)
            memcpy(job->colours + 4 * x, job->palette[samples[x]], 4);
        samples = job->colours;
    }
    tdm_sink_row(job->sink, row, samples, job->channels);
}

/* The file is read to its end whatever is asked for, so that every checksum has its say. */
static void read_rows(tdm_png *png, void *data)
{
    const work *job = data;
    const uint32_t top = job->sink->stored.y, rows = job->sink->stored.height;
    for (int pass = 0; pass < job->passes; pass++) {
        for (uint32_t y = 0; y < job->height; y++) {
            const bool wanted = y >= top && y - top < rows;
            uint8_t *row = wanted && job->kept ? job->kept + (y - top) * job->row_bytes : job->scratch;
            png_read_row(png->decoder, row, NULL);
            if (wanted && pass == job->passes - 1)
                send(job, y - top, row);
        }
    }
    png_read_end(png->decoder, NULL);
}

static tdm_code decode(tdm_png *png, const tdm_photo *photo, work *job, tdm_error *error)
{
    if (!tdm_png_try(png, start, job))
        return tdm_png_fail(png, photo->name, error);
    if (!make_room(job))
        return tdm_fail_memory(error, photo->name);
    if (!tdm_png_try(png, read_rows, job))
        return tdm_png_fail(png, photo->name, error);
    return TDM_OK;
}

tdm_code tdm_png_pixels(const tdm_photo *photo, const tdm_sink *sink, tdm_error *error)
{
    tdm_png *png = tdm_png_create(photo->data, photo->size, false, photo->limits.icc_bytes);
    if (!png)
        return tdm_fail_memory(error, photo->name);
    work job = {.sink = sink};
    const tdm_code code = decode(png, photo, &job, error);
    free(job.kept);
    free(job.scratch);
    free(job.colours);
    tdm_png_free(png);
    return code;
}
