/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo/jpeg_reader.h"

#include <stdlib.h>
#include <string.h>

#include <jerror.h>

#include "base/fail.h"
#include "photo/decoder.h"

static void leave(j_common_ptr common)
{
    tdm_jpeg *jpeg = common->client_data;
    common->err->format_message(common, jpeg->text);
    longjmp(jpeg->jump, 1);
}

/* Warnings are of lost or doubtful data and end the decoding, but for two that cost no pixel:
 *   JWRN_JFIF_MAJOR      a JFIF number of the future; the pixels' coding doesn't depend on it
 *   JWRN_NOT_SEQUENTIAL  spectral selection given in a sequential file, where it has no meaning
 * The header reader tells of both. */
static void judge_message(j_common_ptr common, int level)
{
    tdm_jpeg *jpeg = common->client_data;
    if (level >= 0)
        return; /* a trace */
    const int code = common->err->msg_code;
    if (code == JWRN_JFIF_MAJOR)
        jpeg->old_jfif = true;
    else if (code != JWRN_NOT_SEQUENTIAL)
        leave(common);
}

static void print_nothing(j_common_ptr common)
{
    (void)common;
}

/* libjpeg calls this between the pieces of a file with several scans. */
static void watch_scans(j_common_ptr common)
{
    tdm_jpeg *jpeg = common->client_data;
    const struct jpeg_decompress_struct *decoder = &jpeg->decoder;
    for (int i = 0; i < decoder->comps_in_scan; i++)
        jpeg->scanned[decoder->cur_comp_info[i]->component_index] = true;
    if ((uint32_t)decoder->input_scan_number > jpeg->scan_limit) {
        jpeg->too_many_scans = true;
        longjmp(jpeg->jump, 1);
    }
}

bool tdm_jpeg_try(tdm_jpeg *jpeg, tdm_jpeg_step *step, void *work)
{
    if (setjmp(jpeg->jump))
        return false;
    step(jpeg, work);
    return true;
}

typedef struct source {
    const uint8_t *data;
    size_t size;
} source;

static void start(tdm_jpeg *jpeg, void *work)
{
    const source *from = work;
    jpeg_create_decompress(&jpeg->decoder);
    jpeg->decoder.progress = &jpeg->progress;
    jpeg_mem_src(&jpeg->decoder, from->data, (unsigned long)from->size);
}

tdm_jpeg *tdm_jpeg_create(const uint8_t *data, size_t size, uint32_t scan_limit)
{
    tdm_jpeg *jpeg = calloc(1, sizeof *jpeg);
    if (!jpeg)
        return NULL;
    jpeg->scan_limit = scan_limit;
    jpeg->decoder.err = jpeg_std_error(&jpeg->errors);
    jpeg->decoder.client_data = jpeg;
    jpeg->errors.error_exit = leave;
    jpeg->errors.emit_message = judge_message;
    jpeg->errors.output_message = print_nothing;
    jpeg->progress.progress_monitor = watch_scans;
    source from = {data, size};
    if (!tdm_jpeg_try(jpeg, start, &from)) {
        tdm_jpeg_free(jpeg);
        return NULL;
    }
    return jpeg;
}

void tdm_jpeg_free(tdm_jpeg *jpeg)
{
    if (!jpeg)
        return;
    jpeg_destroy_decompress(&jpeg->decoder);
    free(jpeg);
}

tdm_code tdm_jpeg_fail(const tdm_jpeg *jpeg, const char *name, tdm_error *error)
{
    if (jpeg->too_many_scans)
        return tdm_fail(error, TDM_ERR_LIMIT, name, NULL,
                        "has more than %u scans; save it again as an ordinary JPEG",
                        (unsigned)jpeg->scan_limit);
    switch (jpeg->errors.msg_code) {
    case JERR_OUT_OF_MEMORY:
        return tdm_fail_memory(error, name);
    case JERR_IMAGE_TOO_BIG:
    case JERR_WIDTH_OVERFLOW:
        return tdm_fail(error, TDM_ERR_LIMIT, name, NULL,
                        "has a side of more than %ld pixels; save a smaller part of it",
                        (long)JPEG_MAX_DIMENSION);
    case JERR_BAD_PRECISION:
    case JERR_SOF_UNSUPPORTED:
    case JERR_ARITH_NOTIMPL:
    case JERR_CONVERSION_NOTIMPL:
    case JERR_FRACT_SAMPLE_NOTIMPL:
    case JERR_CCIR601_NOTIMPL:
    case JERR_NOTIMPL:
    case JERR_NOT_COMPILED:
        return tdm_fail(error, TDM_ERR_UNSUPPORTED, name, NULL,
                        "is an unusual kind of JPEG (%s); save it again as an ordinary 8-bit JPEG or a PNG",
                        jpeg->text);
    default:
        return tdm_fail(error, TDM_ERR_FORMAT, name, NULL,
                        "is damaged or cut short (%s); copy it again from where it came from", jpeg->text);
    }
}

#define TEXT_OF(number) #number
#define VERSION_OF(number) TEXT_OF(number)

const char *tdm_jpeg_version(void)
{
    return VERSION_OF(LIBJPEG_TURBO_VERSION);
}
