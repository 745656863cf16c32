/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "world/drawn_scene.h"

#include <check.h>
#include <spawn.h>
#include <stdio.h>
#include <sys/wait.h>

extern char **environ;

void drawn_scene(const char *name, const char *const *values, char photo[DRAWN_PATH])
{
    char base[512], output[512], program[] = SCENE_PROGRAM, set[] = "--set";
    char *arguments[40];
    size_t count = 0;
    (void)snprintf(base, sizeof base, "%s/%s.scene.json", SCENE_FOLDER, name);
    (void)snprintf(output, sizeof output, "%s/%s", SCENE_FOLDER, name);
    (void)snprintf(photo, DRAWN_PATH, "%s.jpg", output);
    FILE *file = fopen(base, "w");
    ck_assert_ptr_nonnull(file);
    ck_assert_int_ge(fputs("{}\n", file), 0);
    ck_assert_int_eq(fclose(file), 0);
    arguments[count++] = program;
    for (; *values && count < 34; values++) {
        arguments[count++] = set;
        arguments[count++] = (char *)*values;
    }
    arguments[count++] = base;
    arguments[count++] = output;
    arguments[count] = NULL;
    pid_t child = 0;
    int status = -1;
    ck_assert_int_eq(posix_spawn(&child, program, NULL, NULL, arguments, environ), 0);
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_int_eq(status, 0);
}
