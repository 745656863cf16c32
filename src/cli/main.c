/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stddef.h>
#include <string.h>

#include "command.h"
#include "message.h"
#include "output.h"

const tdm_command tdm_commands[] = {
    {"read", "read one photograph", tdm_cmd_read},
    {"compare", "compare two photographs of one head, before and after", tdm_cmd_compare},
    {"plan", "plan a root blend before it is mixed", tdm_cmd_plan},
    {"target", "find the colour target, fit the correction and keep it", tdm_cmd_target},
    {"swatches", "make a level scale from your own swatches", tdm_cmd_swatches},
    {"help", "explain a command", tdm_cmd_help},
    {NULL, NULL, NULL},
};

const tdm_command *tdm_command_find(const char *name)
{
    for (const tdm_command *it = tdm_commands; it->name; it++) {
        if (strcmp(it->name, name) == 0)
            return it;
    }
    return NULL;
}

static int run(int argc, const char **argv)
{
    if (argc < 2)
        return tdm_usage_error("name a command; see 'tidemark --help'");
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0) {
        tdm_print_overview();
        return 0;
    }
    if (strcmp(argv[1], "--version") == 0) {
        tdm_print_version();
        return 0;
    }
    const tdm_command *command = tdm_command_find(argv[1]);
    if (!command)
        return tdm_usage_error("there is no command '%s'; see 'tidemark --help'", argv[1]);
    return command->run(argc - 1, argv + 1);
}

int main(int argc, char **argv)
{
    return tdm_close_output(run(argc, (const char **)argv));
}
