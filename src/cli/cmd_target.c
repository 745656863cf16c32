/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command.h"
#include "message.h"
#include "option_tables.h"
#include "output.h"
#include "terminal.h"

static const tdm_usage usage = {
    .name = "tidemark target",
    .arguments = "[OPTION...] PHOTO",
    .about = "Finds the 24-patch target in a photograph, fits the correction of colour to it and says\n"
             "how good it is. Corners in the marks file, where there is one, come before the search.\n"
             "The correction can be kept for other photographs of the same sitting.\n"
             "\n"
             "Exit status: 0 done, 1 no target that can be used, 2 wrong use, 3 bad input, 4 system\n"
             "fault.\n"
             "\n"
             "  tidemark target card.jpg --save-calibration today.json\n"
             "  tidemark read hair.jpg --calibration today.json\n"
             "  tidemark target card.jpg --overlay sampled.png --profile today.icc",
    .photos = 1,
    .tables = tdm_target_tables,
};

static tdm_code save_calibration(const char *path, const tdm_target_reading *target, tdm_error *error)
{
    char *text = NULL;
    if (!path)
        return TDM_OK;
    tdm_code code = tdm_target_calibration(target, &text, error);
    if (code == TDM_OK)
        code = tdm_save(path, text, error);
    tdm_free(text);
    return code;
}

typedef tdm_code (*to_bytes)(const tdm_target_reading *target, uint8_t **bytes, size_t *size,
                             tdm_error *error);

static tdm_code save_bytes(const char *path, to_bytes make, const tdm_target_reading *target,
                           tdm_error *error)
{
    uint8_t *bytes = NULL;
    size_t size = 0;
    if (!path)
        return TDM_OK;
    tdm_code code = make(target, &bytes, &size, error);
    if (code == TDM_OK)
        code = tdm_save_bytes(path, bytes, size, error);
    tdm_free(bytes);
    return code;
}

static tdm_code save_files(const tdm_options *options, const tdm_target_reading *target, tdm_error *error)
{
    char *const *paths = options->outputs;
    tdm_code code = save_calibration(paths[TDM_OUTPUT_CALIBRATION], target, error);
    if (code == TDM_OK)
        code = save_bytes(paths[TDM_OUTPUT_PROFILE], tdm_target_profile, target, error);
    if (code == TDM_OK)
        code = save_bytes(paths[TDM_OUTPUT_OVERLAY], tdm_target_overlay, target, error);
    return code;
}

static tdm_code render(const tdm_options *options, const tdm_target_reading *target, char **out,
                       tdm_error *error)
{
    if (options->format == TDM_FORMAT_JSON)
        return tdm_target_json(target, out, error);
    const tdm_text_style style = tdm_terminal_style(options);
    return tdm_target_text(target, &style, out, error);
}

static int report(const tdm_options *options, const tdm_target_reading *target)
{
    tdm_error error = {0};
    char *text = NULL;
    size_t count = 0;
    const tdm_warning *warnings = tdm_target_warnings(target, &count);
    if (!tdm_terminal_shows_report(options))
        tdm_say_warnings(options->photos.at[0], warnings, count);
    tdm_code code = save_files(options, target, &error);
    if (code == TDM_OK)
        code = render(options, target, &text, &error);
    if (code == TDM_OK)
        code = tdm_put_output(options, (const char *const[]){text}, 1, &error);
    tdm_free(text);
    return code == TDM_OK ? 0 : tdm_say_error(&error);
}

static int work(const tdm_options *options)
{
    tdm_error error = {0};
    tdm_target_reading *target = NULL;
    const tdm_read_options how = tdm_options_reading(options, 0);
    if (tdm_read_target(options->photos.at[0], tdm_options_marks(options, 0), &how, &target, &error) !=
        TDM_OK)
        return tdm_say_error(&error);
    const int status = report(options, target);
    tdm_target_reading_free(target);
    return status;
}

int tdm_cmd_target(int argc, const char **argv)
{
    return tdm_command_run(&usage, argc, argv, work);
}
