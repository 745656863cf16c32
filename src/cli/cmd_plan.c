/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command.h"
#include "message.h"
#include "option_tables.h"
#include "output.h"
#include "terminal.h"

static const tdm_usage usage = {
    .name = "tidemark plan",
    .arguments = "[OPTION...] PHOTO",
    .about = "Plans a root blend from the photograph taken before it: for each marked zone, whether the\n"
             "line needs one; how far a root shade should run down and be feathered so that the line\n"
             "is no longer seen from 1.2 m, by simulation; which depth and tone lies between root and\n"
             "lengths; which hair is already light and isn't to be lightened. Figures of colour only:\n"
             "no products, no developer, no timing.\n"
             "\n"
             "Exit status: 0 done, 1 done but the photograph isn't usable for measuring, 2 wrong\n"
             "use, 3 bad input, 4 system fault.\n"
             "\n"
             "  tidemark plan before.jpg\n"
             "  tidemark plan before.jpg --map map.png\n"
             "  tidemark plan before.jpg --target-level 8 --json --output plan.json",
    .photos = 1,
    .tables = tdm_plan_tables,
};

static tdm_code save_map(const tdm_options *options, const tdm_plan *plan, tdm_error *error)
{
    const char *path = options->outputs[TDM_OUTPUT_MAP];
    uint8_t *bytes = NULL;
    size_t size = 0;
    if (!path)
        return TDM_OK;
    tdm_code code = tdm_plan_map(plan, &bytes, &size, error);
    if (code == TDM_OK)
        code = tdm_save_bytes(path, bytes, size, error);
    tdm_free(bytes);
    return code;
}

static tdm_code render(const tdm_options *options, const tdm_plan *plan, char **out, tdm_error *error)
{
    if (options->format == TDM_FORMAT_JSON)
        return tdm_plan_json(plan, out, error);
    const tdm_text_style style = tdm_terminal_style(options);
    return tdm_plan_text(plan, &style, out, error);
}

/* The result first: a map that can't be drawn is no reason to keep it back. */
static tdm_code put(const tdm_options *options, const tdm_plan *plan, tdm_error *error)
{
    char *text = NULL;
    tdm_code code = render(options, plan, &text, error);
    if (code == TDM_OK)
        code = tdm_put_output(options, (const char *const[]){text}, 1, error);
    tdm_free(text);
    return code == TDM_OK ? save_map(options, plan, error) : code;
}

static int report(const tdm_options *options, const tdm_plan *plan)
{
    tdm_error error = {0};
    size_t count = 0;
    const tdm_reading *reading = tdm_plan_reading(plan);
    const tdm_warning *warnings = tdm_reading_warnings(reading, &count);
    if (!tdm_terminal_shows_report(options))
        tdm_say_warnings(options->photos.at[0], warnings, count);
    if (put(options, plan, &error) != TDM_OK)
        return tdm_say_error(&error);
    return tdm_say_usable(options->photos.at[0], reading);
}

static int work(const tdm_options *options)
{
    tdm_error error = {0};
    tdm_plan *plan = NULL;
    const int unwritable = tdm_check_folder(options, TDM_OUTPUT_MAP);
    if (unwritable >= 0)
        return unwritable;
    const tdm_plan_options how = {.read = tdm_options_reading(options, 0),
                                  .target_level = options->target_level};
    if (tdm_plan_photo(options->photos.at[0], tdm_options_marks(options, 0), &how, &plan, &error) != TDM_OK)
        return tdm_say_error(&error);
    const int status = report(options, plan);
    tdm_plan_free(plan);
    return status;
}

int tdm_cmd_plan(int argc, const char **argv)
{
    return tdm_command_run(&usage, argc, argv, work);
}
