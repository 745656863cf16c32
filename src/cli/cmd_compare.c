/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command.h"
#include "message.h"
#include "option_tables.h"
#include "output.h"
#include "strand_picture.h"
#include "terminal.h"

static const tdm_usage usage = {
    .name = "tidemark compare",
    .arguments = "[OPTION...] BEFORE AFTER",
    .about = "Reads two photographs of one head and says what changed in every zone that both have\n"
             "(zones of the same name), and on the head. Each photograph has its own marks file\n"
             "beside it; a first --marks stands for BEFORE, a second for AFTER, and so with\n"
             "--coloured-on and --taken-on. A --calibration or --flat-field given once stands for\n"
             "both; given twice, the second is for AFTER. Photographs taken two weeks apart or more\n"
             "also tell how far the hair has grown.\n"
             "\n"
             "Exit status: 0 done, 1 done but a photograph isn't usable for measuring, 2 wrong use,\n"
             "3 bad input, 4 system fault.\n"
             "\n"
             "  tidemark compare before.jpg after.jpg\n"
             "  tidemark compare before.jpg after.jpg --csv --output change.csv\n"
             "  tidemark compare before.jpg after.jpg --strands strands.png",
    .photos = 2,
    .tables = tdm_reading_tables,
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
        tdm_say_warnings(options->photos.at[i], warnings, count);
    }
    const tdm_warning *warnings = tdm_comparison_warnings(comparison, &count);
    tdm_say_warnings(NULL, warnings, count);
}

static int usable_status(const tdm_options *options, tdm_reading *const readings[2])
{
    int status = 0;
    for (size_t i = 0; i < 2; i++) {
        const int here = tdm_say_usable(options->photos.at[i], readings[i]);
        status = here != 0 ? here : status;
    }
    return status;
}

/* JSON has it in any case. */
static tdm_code explain(const tdm_options *options, tdm_reading *const readings[2], char *budgets[2],
                        tdm_error *error)
{
    const tdm_text_style style = tdm_terminal_style(options);
    const bool wanted = options->explain && options->format == TDM_FORMAT_TEXT;
    for (size_t i = 0; wanted && i < 2; i++) {
        if (tdm_reading_budget(readings[i], &style, &budgets[i], error) != TDM_OK)
            return error->code;
    }
    return TDM_OK;
}

/* The picture last: one that can't be drawn is no reason to keep the result back. */
static int report(const tdm_options *options, const tdm_comparison *comparison,
                  tdm_reading *const readings[2], tdm_strand_view *const views[2])
{
    tdm_error error = {0};
    char *text = NULL;
    char *budgets[2] = {NULL, NULL};
    if (!tdm_terminal_shows_report(options))
        say_all_warnings(options, comparison, readings);
    tdm_code code = render(options, comparison, &text, &error);
    if (code == TDM_OK)
        code = explain(options, readings, budgets, &error);
    if (code == TDM_OK) {
        const char *const pieces[] = {text, "\nbefore\n", budgets[0], "\nafter\n", budgets[1]};
        code = tdm_put_output(options, pieces, budgets[1] ? 5 : 1, &error);
    }
    tdm_free(text);
    tdm_free(budgets[0]);
    tdm_free(budgets[1]);
    const tdm_strand_view *const drawn[] = {views[0], views[1]};
    if (code == TDM_OK)
        code = tdm_put_strand_picture(options, drawn, 2, &error);
    return code == TDM_OK ? usable_status(options, readings) : tdm_say_error(&error);
}

static tdm_code read_both(const tdm_options *options, tdm_reading *readings[2], tdm_strand_view *views[2],
                          tdm_error *error)
{
    for (size_t i = 0; i < 2; i++) {
        if (tdm_read_given(options, i, &readings[i], &views[i], error) != TDM_OK)
            return error->code;
    }
    return TDM_OK;
}

static int work(const tdm_options *options)
{
    tdm_error error = {0};
    tdm_reading *readings[2] = {NULL, NULL};
    tdm_strand_view *views[2] = {NULL, NULL};
    tdm_comparison *comparison = NULL;
    const int unwritable = tdm_check_folder(options, TDM_OUTPUT_STRANDS);
    if (unwritable >= 0)
        return unwritable;
    tdm_code code = read_both(options, readings, views, &error);
    if (code == TDM_OK)
        code = tdm_compare(readings[0], readings[1], &comparison, &error);
    const int status = code == TDM_OK ? report(options, comparison, readings, views) : tdm_say_error(&error);
    tdm_comparison_free(comparison);
    for (size_t i = 0; i < 2; i++) {
        tdm_strand_view_free(views[i]);
        tdm_reading_free(readings[i]);
    }
    return status;
}

int tdm_cmd_compare(int argc, const char **argv)
{
    return tdm_command_run(&usage, argc, argv, work);
}
