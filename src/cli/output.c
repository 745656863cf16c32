/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "output.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "message.h"
#include "tidemark/report.h"

enum { GO_ON = -1 };

static bool ends_with(const char *string, const char *end)
{
    const size_t length = strlen(string);
    return length >= strlen(end) && strcmp(string + length - strlen(end), end) == 0;
}

static bool is_input(const struct stat *output, const char *path)
{
    struct stat input;
    return path && stat(path, &input) == 0 && input.st_dev == output->st_dev &&
           input.st_ino == output->st_ino;
}

int tdm_check_output(const tdm_options *options)
{
    struct stat about;
    if (!options->output)
        return GO_ON;
    if (!options->output[0])
        return tdm_usage_error("--output needs a file name");
    if (ends_with(options->output, ".marks.json"))
        return tdm_usage_error("--output '%s' has the name of a marks file; choose another", options->output);
    if (stat(options->output, &about) != 0)
        return GO_ON; /* not there yet, or the writing will say why not */
    if (!S_ISREG(about.st_mode))
        return tdm_usage_error("--output '%s' isn't a regular file; name one, or redirect standard output",
                               options->output);
    for (size_t i = 0; i < TDM_MOST_PHOTOS; i++) {
        if (is_input(&about, options->photos[i]) || is_input(&about, options->marks[i]))
            return tdm_usage_error("--output '%s' is an input; inputs are never overwritten",
                                   options->output);
    }
    return GO_ON;
}

static tdm_code stdout_failed(tdm_error *error)
{
    *error = (tdm_error){.code = TDM_ERR_SYSTEM, .file = "standard output"};
    (void)snprintf(error->text, sizeof error->text, "can't be written: %s", strerror(errno));
    return error->code;
}

tdm_code tdm_put_output(const tdm_options *options, const char *text, tdm_error *error)
{
    if (options->output)
        return tdm_save(options->output, text, error);
    if (fputs(text, stdout) == EOF || fflush(stdout) != 0)
        return stdout_failed(error);
    return TDM_OK;
}

int tdm_close_output(int status)
{
    tdm_error error;
    const bool failed_before = ferror(stdout) != 0;
    const bool closed = fclose(stdout) == 0;
    /* Where the command has already said so, once is enough. */
    if ((closed && !failed_before) || status == tdm_exit_status(TDM_ERR_SYSTEM))
        return status;
    if (closed)
        errno = EIO; /* the cause of the earlier failure is gone */
    (void)stdout_failed(&error);
    return tdm_say_error(&error);
}
