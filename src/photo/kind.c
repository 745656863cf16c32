/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo/kind.h"

#include <stdbool.h>
#include <string.h>

#include "base/fail.h"

#define SAVE_AS "export it as a JPEG of best quality or, better, a 16-bit PNG with its colour profile"

/* `length` bytes at `offset`; the rows are tried in order. */
typedef struct signature {
    size_t offset, length;
    const char *bytes;
    const char *what;
    const char *advice;
} signature;

#define AT(offset, bytes) offset, sizeof bytes - 1, bytes
#define HEIF "a HEIF picture", "on a phone choose the most compatible camera format, or " SAVE_AS
#define AVIF "an AVIF picture", SAVE_AS
#define RAW "a camera raw file", "develop it with automatic corrections switched off and " SAVE_AS
#define TIFF "a TIFF picture or a camera raw file", SAVE_AS

static const signature refused[] = {
    {AT(4, "ftypheic"), HEIF},
    {AT(4, "ftypheix"), HEIF},
    {AT(4, "ftypheim"), HEIF},
    {AT(4, "ftypheis"), HEIF},
    {AT(4, "ftyphevc"), HEIF},
    {AT(4, "ftyphevx"), HEIF},
    {AT(4, "ftypmif1"), HEIF},
    {AT(4, "ftypmsf1"), HEIF},
    {AT(4, "ftypavif"), AVIF},
    {AT(4, "ftypavis"), AVIF},
    {AT(4, "ftypcrx "), RAW},
    {AT(0, "FUJIFILMCCD-RAW"), RAW},
    {AT(0, "IIU\0"), RAW},
    {AT(0, "IIRO"), RAW},
    {AT(0, "IIRS"), RAW},
    {AT(0, "MMOR"), RAW},
    {AT(0, "II*\0"), TIFF},
    {AT(0, "MM\0*"), TIFF},
    {AT(0, "II+\0"), TIFF},
    {AT(0, "MM\0+"), TIFF},
    {AT(8, "WEBP"), "a WebP picture", "its colours were thinned on saving; " SAVE_AS " from the original"},
    {AT(0, "GIF8"), "a GIF picture", "it holds 256 colours only; " SAVE_AS " from the original"},
    {AT(0, "%PDF"), "a PDF document", "take the photograph out of it in its original form and " SAVE_AS},
    {AT(0, "\0\0\0\x0cJXL "), "a JPEG XL picture", SAVE_AS},
    {AT(0, "\xff\x0a"), "a JPEG XL picture", SAVE_AS},
    {AT(0, "\0\0\0\x0cjP  "), "a JPEG 2000 picture", SAVE_AS},
    {AT(0, "\xff\x4f\xff\x51"), "a JPEG 2000 picture", SAVE_AS},
    {AT(0, "8BPS"), "a layered picture", "flatten it and " SAVE_AS},
};

static bool starts(const uint8_t *data, size_t size, size_t offset, const char *bytes, size_t length)
{
    return size >= offset + length && memcmp(data + offset, bytes, length) == 0;
}

/* "BM" alone could start a text, so the reserved zeros are asked for as well. */
static bool is_bmp(const uint8_t *data, size_t size)
{
    return starts(data, size, 0, "BM", 2) && starts(data, size, 6, "\0\0\0\0", 4);
}

static tdm_code refuse(const char *name, const char *what, const char *advice, tdm_error *error)
{
    return tdm_fail(error, TDM_ERR_UNSUPPORTED, name, NULL, "is %s, which can't be measured; %s", what,
                    advice);
}

tdm_code tdm_kind_of(const uint8_t *data, size_t size, const char *name, tdm_kind *out, tdm_error *error)
{
    if (size == 0)
        return tdm_fail(error, TDM_ERR_FORMAT, name, NULL, "is empty; a JPEG or PNG photograph is needed");
    if (starts(data, size, 0, "\xff\xd8\xff", 3)) {
        *out = TDM_KIND_JPEG;
        return TDM_OK;
    }
    if (starts(data, size, 0, "\x89PNG\r\n\x1a\n", 8)) {
        *out = TDM_KIND_PNG;
        return TDM_OK;
    }
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        const signature *row = &refused[i];
        if (starts(data, size, row->offset, row->bytes, row->length))
            return refuse(name, row->what, row->advice, error);
    }
    if (is_bmp(data, size))
        return refuse(name, "a BMP picture", SAVE_AS, error);
    return tdm_fail(error, TDM_ERR_FORMAT, name, NULL,
                    "isn't a photograph that is known here; JPEG and PNG are read");
}
