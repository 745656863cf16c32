/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo/jpeg_quality.h"

#include <stdlib.h>

/* ITU-T T.81, table K.1: luminance, row by row. */
static const int annex_k[DCTSIZE2] = {16, 11, 10, 16, 24,  40,  51,  61,  12, 12, 14, 19, 26,  58,  60,  55,
                                      14, 13, 16, 24, 40,  57,  69,  56,  14, 17, 22, 29, 51,  87,  80,  62,
                                      18, 22, 37, 56, 68,  109, 103, 77,  24, 35, 55, 64, 81,  104, 113, 92,
                                      49, 64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99};

/* The Independent JPEG Group's scaling: 50 is the table itself, 100 is all ones. */
static int scaled(int entry, int quality)
{
    const int percent = quality < 50 ? 5000 / quality : 200 - 2 * quality;
    const int value = (entry * percent + 50) / 100;
    return value < 1 ? 1 : value > 255 ? 255 : value;
}

static long distance(const JQUANT_TBL *table, int quality)
{
    long sum = 0;
    for (int i = 0; i < DCTSIZE2; i++)
        sum += labs((long)table->quantval[i] - scaled(annex_k[i], quality));
    return sum;
}

static double low_step(const JQUANT_TBL *table)
{
    double sum = 0;
    int count = 0;
    for (int i = 1; i < DCTSIZE2; i++) {
        if (i / DCTSIZE + i % DCTSIZE > 3)
            continue;
        sum += table->quantval[i];
        count++;
    }
    return sum / count;
}

/* The table of the first component, luminance or red. Its number comes from the file. */
static const JQUANT_TBL *table_of(const struct jpeg_decompress_struct *decoder)
{
    if (decoder->num_components < 1 || !decoder->comp_info)
        return NULL;
    const int number = decoder->comp_info[0].quant_tbl_no;
    return number >= 0 && number < NUM_QUANT_TBLS ? decoder->quant_tbl_ptrs[number] : NULL;
}

int tdm_jpeg_quality(const tdm_jpeg *jpeg, double *step)
{
    const JQUANT_TBL *table = table_of(&jpeg->decoder);
    *step = 0;
    if (!table)
        return 0;
    *step = low_step(table);
    int nearest = 1;
    for (int quality = 2; quality <= 100; quality++) {
        if (distance(table, quality) < distance(table, nearest))
            nearest = quality;
    }
    return nearest;
}
