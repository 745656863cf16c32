/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "command.h"
#include "message.h"
#include "option_tables.h"
#include "output.h"
#include "terminal.h"

static const tdm_usage usage = {
    .name = "tidemark swatches",
    .arguments = "[OPTION...] PHOTO",
    .about = "Reads a photograph of your own swatch ring, in which each swatch is marked with its\n"
             "level, beside a target or grey card. The scale can be kept for readings with\n"
             "--level-scale. The swatches have to get lighter from level to level; where they don't,\n"
             "no scale is written, and those that are out of turn are named.\n"
             "\n"
             "Exit status: 0 done, 1 no scale can be made, 2 wrong use, 3 bad input, 4 system fault.\n"
             "\n"
             "  tidemark swatches ring.jpg --save-scale levels.json\n"
             "  tidemark read hair.jpg --level-scale levels.json",
    .photos = 1,
    .tables = tdm_swatches_tables,
};

static tdm_code render(const tdm_options *options, const tdm_swatches *swatches, char **out, tdm_error *error)
{
    if (options->format == TDM_FORMAT_JSON)
        return tdm_swatches_json(swatches, out, error);
    const tdm_text_style style = tdm_terminal_style(options);
    return tdm_swatches_text(swatches, &style, out, error);
}

static tdm_code show(const tdm_options *options, const tdm_swatches *swatches, tdm_error *error)
{
    char *text = NULL;
    tdm_code code = render(options, swatches, &text, error);
    if (code == TDM_OK)
        code = tdm_put_output(options, (const char *const[]){text}, 1, error);
    tdm_free(text);
    return code;
}

/* Also made where nobody keeps it: only so is it known whether there is one. */
static tdm_code save_scale(const tdm_options *options, const tdm_swatches *swatches, tdm_error *error)
{
    const char *path = options->outputs[TDM_OUTPUT_SCALE];
    char *text = NULL;
    tdm_code code = tdm_swatches_scale(swatches, &text, error);
    if (code == TDM_OK && path)
        code = tdm_save(path, text, error);
    tdm_free(text);
    return code;
}

/* All but the order, which the error says. */
static void say_warnings(const tdm_options *options, const tdm_swatches *swatches)
{
    size_t count = 0;
    const tdm_warning *warnings = tdm_swatches_warnings(swatches, &count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(warnings[i].code, "swatch-order") != 0)
            tdm_say_warnings(options->photos.at[0], &warnings[i], 1);
    }
}

static int report(const tdm_options *options, const tdm_swatches *swatches)
{
    tdm_error error = {0};
    if (!tdm_terminal_shows_report(options))
        say_warnings(options, swatches);
    tdm_code code = show(options, swatches, &error);
    if (code == TDM_OK)
        code = save_scale(options, swatches, &error);
    return code == TDM_OK ? 0 : tdm_say_error(&error);
}

static int work(const tdm_options *options)
{
    tdm_error error = {0};
    tdm_swatches *swatches = NULL;
    const tdm_read_options how = tdm_options_reading(options, 0);
    if (tdm_read_swatches(options->photos.at[0], tdm_options_marks(options, 0), &how, &swatches, &error) !=
        TDM_OK)
        return tdm_say_error(&error);
    const int status = report(options, swatches);
    tdm_swatches_free(swatches);
    return status;
}

int tdm_cmd_swatches(int argc, const char **argv)
{
    return tdm_command_run(&usage, argc, argv, work);
}
