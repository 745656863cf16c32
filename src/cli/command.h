/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The commands. Each takes its own name as argv[0] and returns the exit status. */
#ifndef TDM_CLI_COMMAND_H
#define TDM_CLI_COMMAND_H

#include "options.h"

typedef struct tdm_command {
    const char *name;
    const char *summary;
    int (*run)(int argc, const char **argv);
} tdm_command;

/* The table in main.c; a NULL name ends it. */
extern const tdm_command tdm_commands[];

/* NULL where there is none of that name. */
const tdm_command *tdm_command_find(const char *name);

int tdm_cmd_read(int argc, const char **argv);
int tdm_cmd_compare(int argc, const char **argv);
int tdm_cmd_plan(int argc, const char **argv);
int tdm_cmd_target(int argc, const char **argv);
int tdm_cmd_swatches(int argc, const char **argv);
int tdm_cmd_help(int argc, const char **argv);

/* What a command does with options that are right; returns the exit status. */
typedef int tdm_command_work(const tdm_options *options);

/* Takes the options, checks where results are to go, and works. */
int tdm_command_run(const tdm_usage *usage, int argc, const char **argv, tdm_command_work *work);

/* cmd_help.c: what `tidemark --help` and `tidemark --version` print. */
void tdm_print_overview(void);
void tdm_print_version(void);

#endif
