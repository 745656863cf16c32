/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <errno.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

#include "accuracy.h"

extern char **environ;

enum { MOST_ARGUMENTS = 128 };

static bool run(char *const arguments[])
{
    pid_t child = 0;
    int status = 0;
    const int failed = posix_spawn(&child, arguments[0], NULL, NULL, arguments, environ);
    if (failed != 0) {
        fprintf(stderr, "%s: %s\n", arguments[0], strerror(failed));
        return false;
    }
    while (waitpid(child, &status, 0) < 0) {
        if (errno != EINTR)
            return false;
    }
    return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

bool accuracy_render(const json_t *scene, const char *base, const char *folder, const char *name)
{
    char output[4096];
    char program[] = ACCURACY_SCENE_PROGRAM, set[] = "--set", *arguments[MOST_ARGUMENTS];
    size_t count = 0, i = 0;
    const json_t *value = NULL;
    if (snprintf(output, sizeof output, "%s/%s", folder, name) >= (int)sizeof output)
        return false;
    arguments[count++] = program;
    json_array_foreach(json_object_get(scene, "set"), i, value)
    {
        if (count + 5 > MOST_ARGUMENTS || !json_is_string(value))
            return false;
        arguments[count++] = set;
        arguments[count++] = (char *)json_string_value(value);
    }
    arguments[count++] = (char *)base;
    arguments[count++] = output;
    arguments[count] = NULL;
    return run(arguments);
}
