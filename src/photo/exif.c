/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo/exif.h"

#include <libexif/exif-data.h>
#include <stdlib.h>
#include <string.h>

#include "base/date.h"
#include "base/fail.h"

enum { PREFIX = 6, MOST_BYTES = 65528 /* an APP1 segment holds no more */ };

/* A tag that isn't there or isn't one SHORT is -1. */
static int short_value(ExifData *data, ExifIfd ifd, ExifTag tag)
{
    const ExifEntry *entry = exif_content_get_entry(data->ifd[ifd], tag);
    if (!entry || entry->format != EXIF_FORMAT_SHORT || entry->components != 1 || entry->size < 2)
        return -1;
    return exif_get_short(entry->data, exif_data_get_byte_order(data));
}

static int digits(const char *text, size_t count)
{
    int value = 0;
    for (size_t i = 0; i < count; i++) {
        if (text[i] < '0' || text[i] > '9')
            return -1;
        value = 10 * value + (text[i] - '0');
    }
    return value;
}

/* "YYYY:MM:DD HH:MM:SS". A camera with a dead clock battery writes zeros or blanks; digital photographs
 * before 1990 aren't plausible either. */
static bool plausible(const char *text)
{
    if (text[4] != ':' || text[7] != ':' || text[10] != ' ' || text[13] != ':' || text[16] != ':')
        return false;
    const int year = digits(text, 4), month = digits(text + 5, 2), day = digits(text + 8, 2);
    const int hour = digits(text + 11, 2), minute = digits(text + 14, 2), second = digits(text + 17, 2);
    return year >= 1990 && tdm_date_is_real((tdm_date){year, month, day}) && hour >= 0 && hour < 24 &&
           minute >= 0 && minute < 60 && second >= 0 && second < 60;
}

static bool time_value(ExifData *data, ExifIfd ifd, ExifTag tag, char taken[24])
{
    const ExifEntry *entry = exif_content_get_entry(data->ifd[ifd], tag);
    if (!entry || entry->format != EXIF_FORMAT_ASCII || entry->size < 19)
        return false;
    char text[20] = {0};
    memcpy(text, entry->data, 19);
    if (!plausible(text))
        return false;
    text[4] = text[7] = '-';
    text[10] = 'T';
    memcpy(taken, text, sizeof text);
    return true;
}

static bool is_adobe_rgb(ExifData *data)
{
    const ExifEntry *entry =
        exif_content_get_entry(data->ifd[EXIF_IFD_INTEROPERABILITY], EXIF_TAG_INTEROPERABILITY_INDEX);
    return entry && entry->size >= 3 && memcmp(entry->data, "R03", 3) == 0;
}

static tdm_code take(ExifData *data, tdm_warnings *warnings, tdm_exif *out, tdm_error *error)
{
    if (!data->ifd[EXIF_IFD_0]->count && !data->ifd[EXIF_IFD_EXIF]->count)
        return tdm_warn(warnings, error, "photo-exif", NULL,
                        "the EXIF block is damaged and was left out; check that the picture is upright");
    if (!time_value(data, EXIF_IFD_EXIF, EXIF_TAG_DATE_TIME_ORIGINAL, out->taken))
        (void)time_value(data, EXIF_IFD_0, EXIF_TAG_DATE_TIME, out->taken);
    const int focal = short_value(data, EXIF_IFD_EXIF, EXIF_TAG_FOCAL_LENGTH_IN_35MM_FILM);
    out->focal_35mm = focal > 0 ? focal : 0;
    out->srgb = short_value(data, EXIF_IFD_EXIF, EXIF_TAG_COLOR_SPACE) == 1;
    if (!out->srgb && is_adobe_rgb(data)) {
        const tdm_code code = tdm_warn(warnings, error, "photo-adobe-rgb", NULL,
                                       "EXIF says Adobe RGB; this is only honoured where the profile itself "
                                       "is embedded, so export with the profile or in sRGB");
        if (code != TDM_OK)
            return code;
    }
    const int orientation = short_value(data, EXIF_IFD_0, EXIF_TAG_ORIENTATION);
    if (orientation >= 1 && orientation <= 8)
        out->orientation = orientation;
    else if (exif_content_get_entry(data->ifd[EXIF_IFD_0], EXIF_TAG_ORIENTATION))
        return tdm_warn(warnings, error, "photo-exif", NULL,
                        "the EXIF orientation isn't one of 1 to 8 and was left out; check that the picture "
                        "is upright");
    return TDM_OK;
}

/* libexif wants the block with its prefix. */
static uint8_t *with_prefix(const uint8_t *tiff, size_t size)
{
    uint8_t *block = malloc(PREFIX + size);
    if (!block)
        return NULL;
    memcpy(block, "Exif\0", PREFIX);
    if (size > 0)
        memcpy(block + PREFIX, tiff, size);
    return block;
}

tdm_code tdm_exif_read(const uint8_t *tiff, size_t size, const char *name, tdm_warnings *warnings,
                       tdm_exif *out, tdm_error *error)
{
    *out = (tdm_exif){.orientation = 1};
    if (size > MOST_BYTES)
        size = MOST_BYTES;
    uint8_t *block = with_prefix(tiff, size);
    ExifData *data = exif_data_new();
    if (!block || !data) {
        free(block);
        exif_data_unref(data);
        return tdm_fail_memory(error, name);
    }
    /* What the file says, not what libexif would rather have read. */
    exif_data_unset_option(data, EXIF_DATA_OPTION_FOLLOW_SPECIFICATION);
    exif_data_load_data(data, block, (unsigned int)(PREFIX + size));
    const tdm_code code = take(data, warnings, out, error);
    exif_data_unref(data);
    free(block);
    return code;
}
