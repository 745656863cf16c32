/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The options, as popt tables: groups, and the groups that each command takes. */
#ifndef TDM_CLI_OPTION_TABLES_H
#define TDM_CLI_OPTION_TABLES_H

#include <popt.h>

#include "options.h"

/* What popt gives for each. A file's number is OPTION_INPUT or OPTION_OUTPUT plus what it is, a
 * day's OPTION_DAY plus which. */
enum {
    OPTION_HELP = 1,
    OPTION_JSON,
    OPTION_CSV,
    OPTION_EXPLAIN,
    OPTION_COLOUR,
    OPTION_WIDTH,
    OPTION_IGNORE_PROFILE,
    OPTION_MAX_PIXELS,
    OPTION_MAX_BYTES,
    OPTION_TARGET_WIDTH,
    OPTION_TARGET_LEVEL,
    OPTION_SKIP_LEVEL,
    OPTION_ON_PHOTO,
    OPTION_INPUT = 100,
    OPTION_OUTPUT = 200,
    OPTION_DAY = 300
};

extern const struct poptOption tdm_reading_tables[]; /* read and compare */
extern const struct poptOption tdm_plan_tables[];
extern const struct poptOption tdm_target_tables[];
extern const struct poptOption tdm_swatches_tables[];

/* "--marks", "--save-scale". */
const char *tdm_input_option(tdm_input input);
const char *tdm_output_option(tdm_output output);
const char *tdm_day_option(tdm_day day);

#endif
