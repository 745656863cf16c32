/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command.h"
#include "message.h"
#include "output.h"
#include "terminal.h"

static const tdm_usage usage = {
    .name = "tidemark compare",
    .arguments = "[OPTION...] BEFORE AFTER",
    .about = "Reads two photographs of one head and says what changed in every zone that both have\n"
             "(zones of the same name), and on the head. Each photograph has its own marks file\n"
             "beside it; a first --marks stands for BEFORE, a second for AFTER.\n"
             "\n"
             "Exit status: 0 done, 1 done but a photograph isn't usable for measuring, 2 wrong use,\n"
             "3 bad input, 4 system fault.\n"
             "\n"
             "  tidemark compare before.jpg after.jpg\n"
             "  tidemark compare before.jpg after.jpg --csv --output change.csv",
    .photos = 2,
};

static tdm_code render(const tdm_options *options, const tdm_comparison *comparison, char **out,
                       tdm_error *error)
{
    if (options->format == TDM_FORMAT_JSON)
        return tdm_comparison_json(comparison, out, error);
    if (options->format == TDM_FORMAT_CSV)
        return tdm_comparison_csv(comparison, out, error);
    const tdm_text_style style = tdm_terminal_style(options);
    return tdm_comparison_text(comparison, &style, out, error);
}

static void say_all_warnings(const tdm_options *options, const tdm_comparison *comparison,
                             tdm_reading *const readings[2])
{
    size_t count = 0;
    for (size_t i = 0; i < 2; i++) {
        const tdm_warning *warnings = tdm_reading_warnings(readings[i], &count);
        tdm_say_warnings(options->photos[i], warnings, count);
    }
    const tdm_warning *warnings = tdm_comparison_warnings(comparison, &count);
    tdm_say_warnings(NULL, warnings, count);
}

static int usable_status(const tdm_options *options, tdm_reading *const readings[2])
{
    int status = 0;
    for (size_t i = 0; i < 2; i++) {
        if (tdm_reading_usable(readings[i]))
            continue;
        tdm_say_unusable(options->photos[i]);
        status = tdm_exit_status(TDM_ERR_UNUSABLE);
    }
    return status;
}

static int report(const tdm_options *options, const tdm_comparison *comparison,
                  tdm_reading *const readings[2])
{
    tdm_error error = {0};
    char *text = NULL;
    if (!tdm_terminal_shows_report(options))
        say_all_warnings(options, comparison, readings);
    tdm_code code = render(options, comparison, &text, &error);
    if (code == TDM_OK)
        code = tdm_put_output(options, text, &error);
    tdm_free(text);
    return code == TDM_OK ? usable_status(options, readings) : tdm_say_error(&error);
}

static int work(const tdm_options *options, tdm_reading *readings[2])
{
    tdm_error error = {0};
    tdm_comparison *comparison = NULL;
    for (size_t i = 0; i < 2; i++) {
        if (tdm_read_photo(options->photos[i], options->marks[i], &options->read, &readings[i], &error) !=
            TDM_OK)
            return tdm_say_error(&error);
    }
    if (tdm_compare(readings[0], readings[1], &comparison, &error) != TDM_OK)
        return tdm_say_error(&error);
    const int status = report(options, comparison, readings);
    tdm_comparison_free(comparison);
    return status;
}

int tdm_cmd_compare(int argc, const char **argv)
{
    tdm_options options;
    tdm_reading *readings[2] = {NULL, NULL};
    int status = tdm_options_parse(&usage, argc, argv, &options);
    if (status < 0)
        status = tdm_check_output(&options);
    if (status < 0)
        status = work(&options, readings);
    for (size_t i = 0; i < 2; i++)
        tdm_reading_free(readings[i]);
    tdm_options_free(&options);
    return status;
}
