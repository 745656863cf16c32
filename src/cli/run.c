/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command.h"
#include "output.h"

int tdm_command_run(const tdm_usage *usage, int argc, const char **argv, tdm_command_work *work)
{
    tdm_options options;
    int status = tdm_options_parse(usage, argc, argv, &options);
    if (status < 0)
        status = tdm_check_outputs(&options);
    if (status < 0)
        status = work(&options);
    tdm_options_free(&options);
    return status;
}
