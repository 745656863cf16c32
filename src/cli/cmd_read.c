/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command.h"
#include "message.h"
#include "option_tables.h"
#include "output.h"
#include "strand_picture.h"
#include "terminal.h"

static const tdm_usage usage = {
    .name = "tidemark read",
    .arguments = "[OPTION...] PHOTO",
    .about = "Reads the zones that are marked in a photograph: level, tone, fall from root to ends,\n"
             "line and strands, each with its uncertainty. PHOTO is a JPEG or PNG; 'hair.jpg' has\n"
             "its marks in 'hair.marks.json' beside it.\n"
             "\n"
             "Exit status: 0 done, 1 done but the photograph isn't usable for measuring, 2 wrong\n"
             "use, 3 bad input, 4 system fault.\n"
             "\n"
             "  tidemark read hair.jpg\n"
             "  tidemark read hair.jpg --explain\n"
             "  tidemark read hair.jpg --coloured-on 2026-01-10\n"
             "  tidemark read hair.jpg --json --output hair.json\n"
             "  tidemark read hair.jpg --strands strands.png --skip-level 8",
    .photos = 1,
    .tables = tdm_reading_tables,
};

static tdm_code render(const tdm_options *options, const tdm_reading *reading, char **out, tdm_error *error)
{
    if (options->format == TDM_FORMAT_JSON)
        return tdm_reading_json(reading, out, error);
    if (options->format == TDM_FORMAT_CSV)
        return tdm_reading_csv(reading, out, error);
    const tdm_text_style style = tdm_terminal_style(options);
    return tdm_reading_text(reading, &style, out, error);
}

/* JSON has it in any case. */
static tdm_code explain(const tdm_options *options, const tdm_reading *reading, char **out, tdm_error *error)
{
    if (!options->explain || options->format != TDM_FORMAT_TEXT)
        return TDM_OK;
    const tdm_text_style style = tdm_terminal_style(options);
    return tdm_reading_budget(reading, &style, out, error);
}

/* The picture last: one that can't be drawn is no reason to keep the result back. */
static int report(const tdm_options *options, const tdm_reading *reading, const tdm_strand_view *view)
{
    tdm_error error = {0};
    char *text = NULL;
    char *budget = NULL;
    size_t count = 0;
    const tdm_warning *warnings = tdm_reading_warnings(reading, &count);
    if (!tdm_terminal_shows_report(options))
        tdm_say_warnings(options->photos.at[0], warnings, count);
    tdm_code code = render(options, reading, &text, &error);
    if (code == TDM_OK)
        code = explain(options, reading, &budget, &error);
    if (code == TDM_OK) {
        const char *const pieces[] = {text, "\n", budget};
        code = tdm_put_output(options, pieces, budget ? 3 : 1, &error);
    }
    tdm_free(text);
    tdm_free(budget);
    if (code == TDM_OK)
        code = tdm_put_strand_picture(options, &view, 1, &error);
    if (code != TDM_OK)
        return tdm_say_error(&error);
    return tdm_say_usable(options->photos.at[0], reading);
}

static int work(const tdm_options *options)
{
    tdm_error error = {0};
    tdm_reading *reading = NULL;
    tdm_strand_view *view = NULL;
    const int unwritable = tdm_check_folder(options, TDM_OUTPUT_STRANDS);
    if (unwritable >= 0)
        return unwritable;
    if (tdm_read_given(options, 0, &reading, &view, &error) != TDM_OK)
        return tdm_say_error(&error);
    const int status = report(options, reading, view);
    tdm_strand_view_free(view);
    tdm_reading_free(reading);
    return status;
}

int tdm_cmd_read(int argc, const char **argv)
{
    return tdm_command_run(&usage, argc, argv, work);
}
