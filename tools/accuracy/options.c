/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "accuracy.h"

static bool whole(const char *word, unsigned *out)
{
    char *end = NULL;
    errno = 0;
    const unsigned long value = strtoul(word, &end, 10);
    *out = (unsigned)value;
    return word[0] >= '0' && word[0] <= '9' && !*end && errno == 0 && value <= 1000000;
}

bool accuracy_options(int count, char **arguments, const char *name, accuracy_run *out)
{
    bool known = true;
    int option = 0;
    *out = (accuracy_run){.count = 200};
    while (known && (option = getopt(count, arguments, "vkf:n:")) != -1) {
        out->verbose = out->verbose || option == 'v';
        out->kept = out->kept || option == 'k';
        if (option == 'f')
            known = whole(optarg, &out->first);
        else if (option == 'n')
            known = whole(optarg, &out->count);
        else
            known = option != '?';
    }
    if (!known || optind + 1 != count) {
        fprintf(stderr, "usage: %s [-v] [-k] [-f FIRST] [-n COUNT] FOLDER\n", name);
        return false;
    }
    out->folder = arguments[optind];
    (void)mkdir(out->folder, 0777); /* may be there already; drawing fails if it can't be used */
    return true;
}

void accuracy_remove(const char *folder, const char *name)
{
    static const char *const endings[] = {".jpg", ".marks.json", ".truth.json"};
    char path[4200];
    for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++) {
        (void)snprintf(path, sizeof path, "%s/%s%s", folder, name, endings[i]);
        (void)unlink(path);
    }
}

bool accuracy_base(json_t *base, const char *folder, char path[4200])
{
    (void)snprintf(path, 4200, "%s/base.scene.json", folder);
    const bool written = base && json_dump_file(base, path, 0) == 0;
    json_decref(base);
    if (!written)
        fprintf(stderr, "%s: can't be written\n", path);
    return written;
}
