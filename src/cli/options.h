/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The options that the reading commands share, as popt tables. */
#ifndef TDM_CLI_OPTIONS_H
#define TDM_CLI_OPTIONS_H

#include "tidemark/reading.h"

enum { TDM_MOST_PHOTOS = 2 };

typedef enum tdm_format { TDM_FORMAT_TEXT, TDM_FORMAT_JSON, TDM_FORMAT_CSV } tdm_format;
typedef enum tdm_when { TDM_WHEN_AUTO, TDM_WHEN_ALWAYS, TDM_WHEN_NEVER } tdm_when;

/* What a command takes; static storage. */
typedef struct tdm_usage {
    const char *name;      /* "tidemark read" */
    const char *arguments; /* "[OPTION...] PHOTO" */
    const char *about;     /* paragraphs above the options of --help */
    size_t photos;         /* how many it takes, at most TDM_MOST_PHOTOS */
} tdm_usage;

typedef struct tdm_options {
    char *photos[TDM_MOST_PHOTOS]; /* owned */
    char *marks[TDM_MOST_PHOTOS];  /* owned; NULL for the file beside the photograph */
    size_t marks_count;
    tdm_read_options read;
    tdm_format format;
    bool format_given;
    char *output; /* owned; NULL for standard output */
    tdm_when colour;
    unsigned width; /* 0 for that of the terminal */
} tdm_options;

/* Below zero: go on. Otherwise the exit status to end with, help or error having been printed. Free in either
 * case. */
int tdm_options_parse(const tdm_usage *usage, int argc, const char **argv, tdm_options *out);
void tdm_options_free(tdm_options *options);

#endif
