/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "message.h"
#include "option_tables.h"
#include "output.h"

enum { GO_ON = -1 };

static bool ends_with(const char *string, const char *end)
{
    const size_t length = strlen(string);
    return length >= strlen(end) && strcmp(string + length - strlen(end), end) == 0;
}

static bool same_place(const struct stat *one, const struct stat *other)
{
    return one->st_dev == other->st_dev && one->st_ino == other->st_ino;
}

static bool is_among(const struct stat *output, const tdm_paths *paths)
{
    struct stat input;
    for (size_t i = 0; i < paths->count; i++) {
        if (stat(paths->at[i], &input) == 0 && same_place(output, &input))
            return true;
    }
    return false;
}

static bool is_input(const struct stat *output, const tdm_options *options)
{
    if (is_among(output, &options->photos))
        return true;
    for (size_t i = 0; i < TDM_INPUTS; i++) {
        if (is_among(output, &options->inputs[i]))
            return true;
    }
    return false;
}

static int check_one(const tdm_options *options, tdm_output output)
{
    struct stat about;
    const char *path = options->outputs[output];
    const char *option = tdm_output_option(output);
    if (!path[0])
        return tdm_usage_error("%s needs a file name", option);
    if (ends_with(path, ".marks.json"))
        return tdm_usage_error("%s '%s' has the name of a marks file; choose another", option, path);
    if (stat(path, &about) != 0)
        return GO_ON; /* not there yet, or the writing will say why not */
    if (!S_ISREG(about.st_mode))
        return tdm_usage_error("%s '%s' isn't a regular file; name one%s", option, path,
                               output == TDM_OUTPUT_RESULT ? ", or redirect standard output" : "");
    if (is_input(&about, options))
        return tdm_usage_error("%s '%s' is an input; inputs are never overwritten", option, path);
    return GO_ON;
}

static const char *last_part(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* Of the file, "." where it names none; false where that is too long. */
static bool folder_of(const char *path, char folder[PATH_MAX])
{
    const size_t length = (size_t)(last_part(path) - path);
    if (length >= PATH_MAX)
        return false;
    memcpy(folder, path, length);
    folder[length] = '\0';
    if (length == 0)
        memcpy(folder, ".", 2);
    return true;
}

static bool stat_folder(const char *path, struct stat *about)
{
    char folder[PATH_MAX];
    return folder_of(path, folder) && stat(folder, about) == 0;
}

int tdm_check_folder(const tdm_options *options, tdm_output output)
{
    char folder[PATH_MAX];
    const char *path = options->outputs[output];
    if (!path || !folder_of(path, folder) || access(folder, W_OK | X_OK) == 0)
        return GO_ON; /* of a name that is too long the writing tells */
    tdm_error error = {.code = TDM_ERR_SYSTEM};
    (void)snprintf(error.file, sizeof error.file, "%s", path);
    (void)snprintf(error.text, sizeof error.text, "can't be written: %s", strerror(errno));
    return tdm_say_error(&error);
}

/* Also where neither is there yet. */
static bool same_file(const char *one, const char *other)
{
    struct stat a;
    struct stat b;
    if (strcmp(one, other) == 0)
        return true;
    const bool one_is_there = stat(one, &a) == 0;
    const bool other_is_there = stat(other, &b) == 0;
    if (one_is_there && other_is_there)
        return same_place(&a, &b);
    if (one_is_there || other_is_there || strcmp(last_part(one), last_part(other)) != 0)
        return false;
    return stat_folder(one, &a) && stat_folder(other, &b) && same_place(&a, &b);
}

static int check_pair(const tdm_options *options, size_t one, size_t other)
{
    if (!options->outputs[one] || !same_file(options->outputs[one], options->outputs[other]))
        return GO_ON;
    return tdm_usage_error("%s '%s' is the file of %s too; choose another",
                           tdm_output_option((tdm_output)other), options->outputs[other],
                           tdm_output_option((tdm_output)one));
}

int tdm_check_outputs(const tdm_options *options)
{
    int status = GO_ON;
    for (size_t i = 0; i < TDM_OUTPUTS; i++) {
        if (!options->outputs[i])
            continue;
        status = check_one(options, (tdm_output)i);
        for (size_t before = 0; status == GO_ON && before < i; before++)
            status = check_pair(options, before, i);
        if (status != GO_ON)
            return status;
    }
    return status;
}
