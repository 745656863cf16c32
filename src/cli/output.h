/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TDM_CLI_OUTPUT_H
#define TDM_CLI_OUTPUT_H

#include "options.h"

/* Below zero: go on. Otherwise status 2, where a file to be written is an input, a marks file, no regular
 * file, or the same as another. To be asked before the work is done. */
int tdm_check_outputs(const tdm_options *options);

/* Below zero: go on. Otherwise status 4, where nothing can be written beside the output's name, said as the
 * writing would say it. For a file that comes after long work. */
int tdm_check_folder(const tdm_options *options, tdm_output output);

/* Pieces of text, one after another, to the file of --output or to standard output. */
TDM_MUST_CHECK tdm_code tdm_put_output(const tdm_options *options, const char *const *pieces, size_t count,
                                       tdm_error *error);

/* Last of all: a full disk shows only now. Returns status, or that of the failure. */
int tdm_close_output(int status);

#endif
