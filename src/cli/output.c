/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "output.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "message.h"
#include "tidemark/report.h"

static tdm_code stdout_failed(tdm_error *error)
{
    *error = (tdm_error){.code = TDM_ERR_SYSTEM, .file = "standard output"};
    (void)snprintf(error->text, sizeof error->text, "can't be written: %s", strerror(errno));
    return error->code;
}

static tdm_code print(const char *const *pieces, size_t count, tdm_error *error)
{
    for (size_t i = 0; i < count; i++) {
        if (fputs(pieces[i], stdout) == EOF)
            return stdout_failed(error);
    }
    return fflush(stdout) == 0 ? TDM_OK : stdout_failed(error);
}

/* To be freed; NULL when out of memory. */
static char *joined(const char *const *pieces, size_t count)
{
    size_t size = 1;
    for (size_t i = 0; i < count; i++)
        size += strlen(pieces[i]);
    char *out = malloc(size);
    char *at = out;
    for (size_t i = 0; out && i < count; i++)
        at = stpcpy(at, pieces[i]);
    return out;
}

tdm_code tdm_put_output(const tdm_options *options, const char *const *pieces, size_t count, tdm_error *error)
{
    const char *path = options->outputs[TDM_OUTPUT_RESULT];
    if (!path)
        return print(pieces, count, error);
    char *text = joined(pieces, count);
    if (!text) {
        *error = (tdm_error){.code = TDM_ERR_MEMORY, .text = "out of memory"};
        return error->code;
    }
    const tdm_code code = tdm_save(path, text, error);
    free(text);
    return code;
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
