/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a command was given. */
#ifndef TDM_CLI_OPTIONS_H
#define TDM_CLI_OPTIONS_H

#include "tidemark/reading.h"
#include "tidemark/strands.h"

enum { TDM_MOST_PHOTOS = 2 };

typedef enum tdm_format { TDM_FORMAT_TEXT, TDM_FORMAT_JSON, TDM_FORMAT_CSV } tdm_format;
typedef enum tdm_when { TDM_WHEN_AUTO, TDM_WHEN_ALWAYS, TDM_WHEN_NEVER } tdm_when;

/* Files that are read beside the photographs. */
typedef enum tdm_input {
    TDM_INPUT_MARKS,
    TDM_INPUT_CALIBRATION,
    TDM_INPUT_FLAT_FIELD,
    TDM_INPUT_REFERENCE,
    TDM_INPUT_LEVEL_SCALE,
    TDM_INPUTS
} tdm_input;

/* Files that are written. */
typedef enum tdm_output {
    TDM_OUTPUT_RESULT,
    TDM_OUTPUT_CALIBRATION,
    TDM_OUTPUT_PROFILE,
    TDM_OUTPUT_OVERLAY,
    TDM_OUTPUT_SCALE,
    TDM_OUTPUT_MAP,
    TDM_OUTPUT_STRANDS,
    TDM_OUTPUTS
} tdm_output;

/* Days of the calendar, one for each photograph. */
typedef enum tdm_day { TDM_DAY_TAKEN, TDM_DAY_COLOURED, TDM_DAYS } tdm_day;

struct poptOption;

/* What a command takes; static storage. */
typedef struct tdm_usage {
    const char *name;                /* "tidemark read" */
    const char *arguments;           /* "[OPTION...] PHOTO" */
    const char *about;               /* paragraphs below the options of --help */
    size_t photos;                   /* how many it takes, at most TDM_MOST_PHOTOS */
    const struct poptOption *tables; /* one of those in option_tables.h */
} tdm_usage;

/* Paths, or days, in the order given. Strings owned. */
typedef struct tdm_paths {
    char *at[TDM_MOST_PHOTOS];
    size_t count;
} tdm_paths;

typedef struct tdm_options {
    tdm_paths photos;
    tdm_paths inputs[TDM_INPUTS];
    tdm_paths days[TDM_DAYS];
    char *outputs[TDM_OUTPUTS]; /* owned; NULL where not wanted, the result then goes to standard output */
    tdm_read_options read;      /* without the paths and days */
    tdm_format format;
    bool format_given;
    bool explain;
    double target_level; /* NaN where not given */
    double skip_level;   /* likewise */
    bool on_photo;
    tdm_when colour;
    unsigned width; /* 0 for that of the terminal */
} tdm_options;

/* Below zero: go on. Otherwise the exit status to end with, help or error having been printed. Free in either
 * case. */
int tdm_options_parse(const tdm_usage *usage, int argc, const char **argv, tdm_options *out);
void tdm_options_free(tdm_options *options);

/* How one of the photographs is to be read; its paths belong to options. */
tdm_read_options tdm_options_reading(const tdm_options *options, size_t photo);

/* How the picture of strands is to be drawn. */
tdm_strand_options tdm_options_strands(const tdm_options *options);

/* NULL for the marks file beside the photograph. */
const char *tdm_options_marks(const tdm_options *options, size_t photo);

#endif
