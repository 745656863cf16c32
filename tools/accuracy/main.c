/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tidemark-accuracy [-v] [-n COUNT] FOLDER: draws the scenes of scenes.json into FOLDER, reads them, and
 * prints the errors. Exit 0 when every figure is within its bound, 1 when not, 2 when something can't be
 * drawn or read. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "accuracy.h"

/* Exit status: see the top. */
static int run_scenes(const json_t *suite, const char *folder, size_t most, bool verbose)
{
    accuracy_tally tallies[ACCURACY_FIGURES] = {{0}};
    char base[4200];
    size_t i = 0, done = 0;
    const json_t *scene = NULL;
    json_t *common = json_object_get(suite, "base");
    (void)snprintf(base, sizeof base, "%s/base.scene.json", folder);
    if (json_dump_file(common, base, JSON_INDENT(2)) != 0) {
        fprintf(stderr, "%s: can't be written\n", base);
        return 2;
    }
    json_array_foreach(json_object_get(suite, "scenes"), i, scene)
    {
        const char *name = json_string_value(json_object_get(scene, "name"));
        if (done == most)
            break;
        if (!name || !accuracy_render(scene, base, folder, name) ||
            !accuracy_read(folder, name, false, verbose, tallies))
            return 2;
        done++;
    }
    return accuracy_print(tallies, done) ? 0 : 1;
}

int main(int count, char **arguments)
{
    bool verbose = false;
    size_t most = (size_t)-1;
    int next = 1;
    for (; next < count && arguments[next][0] == '-'; next++) {
        if (strcmp(arguments[next], "-v") == 0)
            verbose = true;
        else if (strcmp(arguments[next], "-n") == 0 && next + 1 < count)
            most = strtoul(arguments[++next], NULL, 10);
        else
            next = count;
    }
    if (next + 1 != count) {
        fprintf(stderr, "usage: tidemark-accuracy [-v] [-n COUNT] FOLDER\n");
        return 2;
    }
    (void)mkdir(arguments[next], 0777); /* may be there already; drawing fails if it can't be used */
    json_error_t why;
    json_t *suite = json_load_file(ACCURACY_SCENES, 0, &why);
    if (!suite) {
        fprintf(stderr, "%s: %s\n", ACCURACY_SCENES, why.text);
        return 2;
    }
    const int status = run_scenes(suite, arguments[next], most, verbose);
    json_decref(suite);
    return status;
}
