/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of measured patches to the patches' CIELAB. */
#include <math.h>
#include <stdio.h>

#include "colour/lab.h"
#include "colour/reference_rows.h"

enum { SHOWN = 24 };
static const double least_reflected = -0.02, most_reflected = 1.5; /* an instrument's noise; fluorescence */

/* A word for a message: printable, cut. */
static const char *shown(tdm_span word, char out[SHOWN + 1])
{
    size_t i = 0;
    for (; i < word.size && i < SHOWN; i++)
        out[i] = word.at[i] >= ' ' && word.at[i] <= '~' ? word.at[i] : '?';
    out[i] = '\0';
    return out;
}

static tdm_code take_number(const tdm_cgats *in, size_t column, double *out)
{
    char word[SHOWN + 1];
    if (tdm_span_number(in->words[column], out))
        return TDM_OK;
    return tdm_cgats_fail(in, in->line, "entry %zu, \"%s\", isn't a number", column + 1,
                          shown(in->words[column], word));
}

static tdm_code check_lab(const tdm_cgats *in, const double lab[3])
{
    if (lab[0] < 0 || lab[0] > 100)
        return tdm_cgats_fail(in, in->line, "L* is outside 0 to 100");
    if (fabs(lab[1]) > 150 || fabs(lab[2]) > 150)
        return tdm_cgats_fail(in, in->line, "a* or b* is outside -150 to 150");
    return TDM_OK;
}

static tdm_code take_three(const tdm_cgats *in, const tdm_reference_columns *columns, double out[3])
{
    for (int k = 0; k < 3; k++) {
        const tdm_code code = take_number(in, columns->colour[k], &out[k]);
        if (code != TDM_OK)
            return code;
    }
    if (columns->kind == TDM_COLUMNS_LAB)
        return check_lab(in, out);
    if (!(out[0] >= 0 && out[0] <= 120 && out[1] >= 0 && out[1] <= 120 && out[2] >= 0 && out[2] <= 120))
        return tdm_cgats_fail(in, in->line, "X, Y or Z is outside 0 to 120");
    return TDM_OK;
}

static tdm_code fail_band(const tdm_cgats *in, unsigned line, const tdm_reference_columns *columns,
                          size_t band)
{
    return tdm_cgats_fail(in, line, "entry %zu isn't a reflectance of 0 to 1 or 0 to 100",
                          columns->band[band] + 1);
}

/* On either scale: which one shows only when all rows are read. */
static tdm_code take_bands(const tdm_cgats *in, const tdm_reference_columns *columns, double *out)
{
    for (size_t i = 0; i < columns->band_count; i++) {
        const tdm_code code = take_number(in, columns->band[i], &out[i]);
        if (code != TDM_OK)
            return code;
        if (out[i] < 100 * least_reflected || out[i] > 100 * most_reflected)
            return fail_band(in, in->line, columns, i);
    }
    return TDM_OK;
}

tdm_code tdm_reference_row(const tdm_cgats *in, const tdm_reference_columns *columns,
                           tdm_reference_rows *rows)
{
    if (in->count != columns->count)
        return tdm_cgats_fail(in, in->line, "has %zu entries where the format has %zu columns", in->count,
                              columns->count);
    if (rows->count == TDM_REFERENCE_PATCHES)
        return tdm_cgats_fail(in, in->line, "is a row too many: the target has 24 patches");
    const size_t row = rows->count++;
    rows->line[row] = in->line;
    rows->id[row] = columns->id < columns->count ? in->words[columns->id] : (tdm_span){0};
    rows->name[row] = columns->name < columns->count ? in->words[columns->name] : (tdm_span){0};
    return columns->kind == TDM_COLUMNS_SPECTRUM ? take_bands(in, columns, rows->value[row])
                                                 : take_three(in, columns, rows->value[row]);
}

/* A grid's way of counting shows only in the words that one of the two ways can't have. */
static tdm_patch_ids settle(const tdm_span *words, size_t count)
{
    tdm_patch_ids kind = tdm_patch_id_kind(words[0]);
    for (size_t i = 1; kind == TDM_IDS_GRID && i < count; i++) {
        const tdm_patch_ids here = tdm_patch_id_kind(words[i]);
        if (here == TDM_IDS_COLUMN_ROW || here == TDM_IDS_ROW_COLUMN)
            kind = here;
    }
    return kind;
}

static tdm_code missing(const tdm_cgats *in, const tdm_reference_rows *rows, const int at[])
{
    int patch = 0;
    while (at[patch] >= 0)
        patch++;
    return tdm_cgats_fail(in, in->line, "the data ends after %zu of 24 patches; %s is missing", rows->count,
                          tdm_patch_names[patch]);
}

tdm_code tdm_reference_assign(const tdm_cgats *in, const tdm_reference_rows *rows,
                              int at[TDM_REFERENCE_PATCHES])
{
    char word[SHOWN + 1];
    if (rows->count == 0)
        return tdm_cgats_fail(in, in->line, "the data has no rows");
    const bool named = tdm_patch_id_kind(rows->name[0]) != TDM_IDS_UNKNOWN;
    const tdm_span *words = named ? rows->name : rows->id;
    const tdm_patch_ids kind = settle(words, rows->count);
    for (int i = 0; i < TDM_REFERENCE_PATCHES; i++)
        at[i] = -1;
    for (size_t row = 0; row < rows->count; row++) {
        const int patch = tdm_patch_of(words[row], kind);
        if (patch < 0)
            return tdm_cgats_fail(
                in, rows->line[row],
                "\"%s\" isn't a patch of this target, or not in the way of the first row; 1 "
                "to 24, A1 to F4, A1 to D6 and the patches' names are understood",
                shown(words[row], word));
        if (at[patch] >= 0)
            return tdm_cgats_fail(in, rows->line[row], "%s was given on line %u already",
                                  tdm_patch_names[patch], rows->line[at[patch]]);
        at[patch] = (int)row;
    }
    return rows->count < TDM_REFERENCE_PATCHES ? missing(in, rows, at) : TDM_OK;
}

/* Largest of the first `count` values of all rows. */
static double largest(const tdm_reference_rows *rows, size_t count)
{
    double most = 0;
    for (size_t row = 0; row < rows->count; row++) {
        for (size_t i = 0; i < count; i++)
            most = fmax(most, rows->value[row][i]);
    }
    return most;
}

static tdm_code scale_bands(const tdm_cgats *in, const tdm_reference_columns *columns,
                            tdm_reference_rows *rows)
{
    const double scale = largest(rows, columns->band_count) <= 2 ? 1 : 100;
    for (size_t row = 0; row < rows->count; row++) {
        for (size_t i = 0; i < columns->band_count; i++) {
            double *value = &rows->value[row][i];
            *value /= scale;
            if (*value < least_reflected || *value > most_reflected)
                return fail_band(in, rows->line[row], columns, i);
        }
    }
    return TDM_OK;
}

tdm_code tdm_reference_colours(const tdm_cgats *in, const tdm_reference_columns *columns,
                               tdm_reference_rows *rows, const int at[TDM_REFERENCE_PATCHES],
                               double lab[TDM_REFERENCE_PATCHES][3])
{
    if (columns->kind == TDM_COLUMNS_XYZ && largest(rows, 3) <= 2)
        return tdm_cgats_fail(in, rows->line[0], "X, Y and Z must be on the scale of 0 to 100");
    const tdm_code code = columns->kind == TDM_COLUMNS_SPECTRUM ? scale_bands(in, columns, rows) : TDM_OK;
    if (code != TDM_OK)
        return code;
    for (int i = 0; i < TDM_REFERENCE_PATCHES; i++) {
        const double *value = rows->value[at[i]];
        const double xyz[3] = {value[0] / 100, value[1] / 100, value[2] / 100};
        if (columns->kind == TDM_COLUMNS_SPECTRUM)
            tdm_spectrum_to_lab(value, columns->band_count, columns->first_nm, columns->step_nm, lab[i]);
        else if (columns->kind == TDM_COLUMNS_XYZ)
            tdm_xyz_to_lab(xyz, lab[i]);
        else {
            for (int k = 0; k < 3; k++)
                lab[i][k] = value[k];
        }
    }
    return TDM_OK;
}
