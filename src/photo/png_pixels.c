/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>

#include "base/fail.h"
#include "photo/decoder.h"
#include "photo/png_reader.h"

typedef struct work {
    const tdm_sink *sink;
    uint32_t height;   /* of the stored picture */
    int passes;        /* 7 where interlaced, else 1 */
    size_t row_bytes;  /* of the whole width */
    size_t pixel_size; /* bytes */
    int channels;
    uint8_t *kept;    /* the rectangle's rows between passes; NULL where not interlaced */
    uint8_t *scratch; /* one row */
} work;

/* No gamma, no blending, no loss of bits: only one form for all. */
static void start(tdm_png *png, void *data)
{
    work *job = data;
    png_read_info(png->decoder, png->info);
    png_set_expand(png->decoder);
    png_set_gray_to_rgb(png->decoder);
    job->height = png_get_image_height(png->decoder, png->info);
    job->passes = png_set_interlace_handling(png->decoder);
    png_read_update_info(png->decoder, png->info);
    job->row_bytes = png_get_rowbytes(png->decoder, png->info);
    job->channels = png_get_channels(png->decoder, png->info);
    job->pixel_size = (size_t)job->channels * (png_get_bit_depth(png->decoder, png->info) == 16 ? 2 : 1);
}

static bool make_room(work *job)
{
    const size_t rows = job->sink->stored.height;
    if (job->row_bytes > (size_t)-1 / rows)
        return false;
    job->scratch = calloc(1, job->row_bytes);
    if (job->passes > 1)
        job->kept = calloc(rows, job->row_bytes);
    return job->scratch && (job->passes == 1 || job->kept);
}

static void send(const work *job, uint32_t row, const uint8_t *samples)
{
    tdm_sink_row(job->sink, row, samples + job->sink->stored.x * job->pixel_size, job->channels);
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
    tdm_png_free(png);
    return code;
}
