/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "command.h"
#include "message.h"
#include "tidemark/version.h"

void tdm_print_overview(void)
{
    printf("Usage: tidemark COMMAND [OPTION...]\n"
           "       tidemark --help | --version\n"
           "\n"
           "Measures hair colour work in calibrated photographs: level, tone, contrast of strands,\n"
           "the fall from root to ends and the line of regrowth, each with its uncertainty.\n"
           "\n");
    for (const tdm_command *it = tdm_commands; it->name; it++)
        printf("  %-9s %s\n", it->name, it->summary);
    printf("\n"
           "'tidemark COMMAND --help' lists a command's options.\n");
}

void tdm_print_version(void)
{
    static const char *const libraries[] = {"lcms2", "libjpeg-turbo", "libpng", "gsl"};
    printf("tidemark %s\n", tdm_version());
    for (size_t i = 0; i < sizeof libraries / sizeof libraries[0]; i++) {
        const char *version = tdm_library_version(libraries[i]);
        printf("%s %s\n", libraries[i], version ? version : "of unknown version");
    }
    printf("Licence GPL-3.0-or-later; there is no warranty.\n");
}

int tdm_cmd_help(int argc, const char **argv)
{
    if (argc > 2)
        return tdm_usage_error("help explains one command at a time");
    const bool overview = argc < 2 || strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "help") == 0;
    if (overview) {
        tdm_print_overview();
        return 0;
    }
    const tdm_command *command = tdm_command_find(argv[1]);
    if (!command)
        return tdm_usage_error("there is no command '%s'; see 'tidemark --help'", argv[1]);
    const char *arguments[] = {argv[1], "--help", NULL};
    return command->run(2, arguments);
}
