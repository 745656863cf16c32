/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps from a file of measured patches to their CIELAB. */
#ifndef TDM_COLOUR_REFERENCE_PARTS_H
#define TDM_COLOUR_REFERENCE_PARTS_H

#include "colour/reference.h"

enum { TDM_BAND_FIRST = 380, TDM_BAND_LAST = 780, TDM_BAND_STEP = 5, TDM_BANDS = 81 };

/* Light and observer at one wavelength. */
typedef struct tdm_d50_band {
    double power, observer[3];
} tdm_d50_band;

extern const tdm_d50_band tdm_d50_bands[TDM_BANDS];

enum { TDM_CGATS_COLUMNS = 512, TDM_SPECTRUM_BANDS = 161 /* 300 to 1100 nm in steps of 5 */ };

/* A piece of the text, not terminated. */
typedef struct tdm_span {
    const char *at;
    size_t size;
} tdm_span;

/* Reading position. */
typedef struct tdm_cgats {
    const char *next, *end;
    const char *file;
    tdm_error *error;
    unsigned line; /* of the words, from 1 */
    tdm_span text; /* that line whole */
    size_t count;  /* words on the line; quotes are taken off */
    tdm_span words[TDM_CGATS_COLUMNS];
} tdm_cgats;

/* The next line that has words; count 0 at the end of the file. */
TDM_MUST_CHECK tdm_code tdm_cgats_line(tdm_cgats *in);
/* TDM_ERR_FORMAT at "line N". */
tdm_code tdm_cgats_fail(const tdm_cgats *in, unsigned line, const char *format, ...) TDM_PRINTF(3, 4);
/* Without regard to case. */
bool tdm_span_is(tdm_span span, const char *word);
/* A decimal number with a point or a comma, and an exponent; whatever the locale. False for anything else,
 * NaN and infinity included. */
bool tdm_span_number(tdm_span span, double *out);
/* A whole number of at most six digits. */
bool tdm_span_count(tdm_span span, unsigned *out);

/* Light and observer that a line before the data states for the colours: the first thing that isn't D50 or 2
 * degrees. */
typedef enum tdm_light_words { TDM_LIGHT_FITS, TDM_LIGHT_OTHER, TDM_OBSERVER_OTHER } tdm_light_words;
tdm_light_words tdm_cgats_light(const tdm_cgats *in);

/* What the columns mean. */
typedef enum tdm_colour_columns { TDM_COLUMNS_LAB, TDM_COLUMNS_XYZ, TDM_COLUMNS_SPECTRUM } tdm_colour_columns;

typedef struct tdm_reference_columns {
    tdm_colour_columns kind;
    size_t count;      /* of all columns */
    size_t id, name;   /* TDM_CGATS_COLUMNS where there is none */
    size_t colour[3];  /* of Lab or XYZ */
    size_t band_count; /* of a spectrum, else 0 */
    unsigned first_nm, step_nm;
    size_t band[TDM_SPECTRUM_BANDS];
} tdm_reference_columns;

/* in->words holds the names, `count` of them, line `line`. */
TDM_MUST_CHECK tdm_code tdm_reference_columns_read(const tdm_cgats *in, const tdm_span *names, size_t count,
                                                   unsigned line, tdm_reference_columns *out);

/* Which patch a row is of. */
typedef enum tdm_patch_ids {
    TDM_IDS_UNKNOWN,
    TDM_IDS_NUMBER,     /* 1 to 24 */
    TDM_IDS_NAME,       /* "dark skin" */
    TDM_IDS_GRID,       /* a letter and a digit, kind not yet seen */
    TDM_IDS_COLUMN_ROW, /* A1 to F4: the letter is the column */
    TDM_IDS_ROW_COLUMN  /* A1 to D6: the letter is the row */
} tdm_patch_ids;

/* UNKNOWN where the word is none of them. */
tdm_patch_ids tdm_patch_id_kind(tdm_span word);
/* 0 to 23; -1 where the word isn't of the kind (GRID: any). */
int tdm_patch_of(tdm_span word, tdm_patch_ids kind);

/* values: reflectance 0 to 1, count bands from first_nm on, step_nm (5, 10 or 20) apart, reaching from 400 or
 * less to 700 or more. */
void tdm_spectrum_to_lab(const double *values, size_t count, unsigned first_nm, unsigned step_nm,
                         double lab[3]);

/* Refuses values that can't be this target's; lines: of each patch in the file. */
TDM_MUST_CHECK tdm_code tdm_reference_check(const tdm_cgats *in, double lab[TDM_REFERENCE_PATCHES][3],
                                            const unsigned lines[TDM_REFERENCE_PATCHES]);

#endif
