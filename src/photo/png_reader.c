/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo/png_reader.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "photo/decoder.h"

static void keep_text(png_structp decoder, png_const_charp text)
{
    tdm_png *png = png_get_error_ptr(decoder);
    (void)snprintf(png->text, sizeof png->text, "%s", text);
}

PNG_FUNCTION(static void, leave, (png_structp decoder, png_const_charp text), PNG_NORETURN)
{
    keep_text(decoder, text);
    png_longjmp(decoder, 1);
}

static void feed(png_structp decoder, png_bytep to, size_t count)
{
    tdm_png *png = png_get_io_ptr(decoder);
    if (count > png->size - png->at)
        png_error(decoder, "end of file");
    memcpy(to, png->data + png->at, count);
    png->at += count;
}

bool tdm_png_try(tdm_png *png, tdm_png_step *step, void *work)
{
    if (setjmp(png_jmpbuf(png->decoder)))
        return false;
    step(png, work);
    return true;
}

typedef struct setting {
    bool with_profile;
    uint64_t icc_limit;
} setting;

static void set_up(tdm_png *png, void *work)
{
    const setting *wanted = work;
    png_structp decoder = png->decoder;
    png_set_read_fn(decoder, png, feed);
    /* The limit is on pixels, not sides, and is checked by the caller. A chunk is never longer than the file,
     * but a profile may inflate to more. */
    png_set_user_limits(decoder, PNG_UINT_31_MAX, PNG_UINT_31_MAX);
    png_set_chunk_malloc_max(decoder,
                             png->size > wanted->icc_limit ? png->size : (png_alloc_size_t)wanted->icc_limit);
    png_set_chunk_cache_max(decoder, 16);
    png_set_keep_unknown_chunks(decoder, PNG_HANDLE_CHUNK_NEVER, NULL, -1);
    png_set_keep_unknown_chunks(decoder, PNG_HANDLE_CHUNK_NEVER, (png_const_bytep) "eXIf", 1);
    if (wanted->with_profile)
        png_set_keep_unknown_chunks(decoder, PNG_HANDLE_CHUNK_AS_DEFAULT, (png_const_bytep) "iCCP", 1);
    /* Too much or too little data, a wrong checksum at the end, an index past the palette: libpng would go
     * on. */
    png_set_benign_errors(decoder, wanted->with_profile);
}

tdm_png *tdm_png_create(const uint8_t *data, size_t size, bool with_profile, uint64_t icc_limit)
{
    tdm_png *png = calloc(1, sizeof *png);
    if (!png)
        return NULL;
    png->data = data;
    png->size = size;
    png->decoder = png_create_read_struct(PNG_LIBPNG_VER_STRING, png, leave, keep_text);
    if (png->decoder)
        png->info = png_create_info_struct(png->decoder);
    setting wanted = {with_profile, icc_limit};
    if (!png->info || !tdm_png_try(png, set_up, &wanted)) {
        tdm_png_free(png);
        return NULL;
    }
    return png;
}

void tdm_png_free(tdm_png *png)
{
    if (!png)
        return;
    png_destroy_read_struct(&png->decoder, &png->info, NULL);
    free(png);
}

tdm_code tdm_png_fail(const tdm_png *png, const char *name, tdm_error *error)
{
    if (strstr(png->text, "ut of memory"))
        return tdm_fail_memory(error, name);
    return tdm_fail(error, TDM_ERR_FORMAT, name, NULL,
                    "is damaged or cut short (%s); copy it again from where it came from", png->text);
}

const char *tdm_png_version(void)
{
    return png_get_libpng_ver(NULL);
}
