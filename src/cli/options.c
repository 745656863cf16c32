/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "options.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "message.h"
#include "option_tables.h"
#include "option_values.h"

enum { GO_ON = -1 };

/* Far beyond any photograph, and far from overflow. */
static const uint64_t most_of_anything = 1000000000000;

static int choose_format(tdm_options *options, tdm_format format)
{
    if (options->format_given && options->format != format)
        return tdm_usage_error("--json and --csv can't be had at once; choose one");
    options->format = format;
    options->format_given = true;
    return GO_ON;
}

/* Target and scale are the salon's own, whichever photograph they are used for. */
static size_t most_inputs(const tdm_usage *usage, tdm_input input)
{
    return input == TDM_INPUT_REFERENCE || input == TDM_INPUT_LEVEL_SCALE ? 1 : usage->photos;
}

/* Takes *value, and sets it to NULL. */
static char *keep(char **value)
{
    char *kept = *value;
    *value = NULL;
    return kept;
}

static int take_input(const tdm_usage *usage, tdm_input input, char **value, tdm_options *options)
{
    tdm_paths *paths = &options->inputs[input];
    const size_t most = most_inputs(usage, input);
    if (paths->count == most)
        return tdm_usage_error("%s may be given %zu time%s at most", tdm_input_option(input), most,
                               most == 1 ? "" : "s");
    paths->at[paths->count++] = keep(value);
    return GO_ON;
}

static int take_output(tdm_output output, char **value, tdm_options *options)
{
    if (options->outputs[output])
        return tdm_usage_error("%s may be given 1 time at most", tdm_output_option(output));
    options->outputs[output] = keep(value);
    return GO_ON;
}

static int take_day(const tdm_usage *usage, tdm_day day, char **value, tdm_options *options)
{
    tdm_paths *days = &options->days[day];
    if (days->count == usage->photos)
        return tdm_usage_error("%s may be given %zu time%s at most", tdm_day_option(day), usage->photos,
                               usage->photos == 1 ? "" : "s");
    if (!tdm_is_date(*value))
        return tdm_usage_error("%s '%s' must be a real day as YYYY-MM-DD, such as 2026-03-14",
                               tdm_day_option(day), *value);
    days->at[days->count++] = keep(value);
    return GO_ON;
}

static int take_width(const char *value, unsigned *out)
{
    uint64_t number = 0;
    const int status = tdm_option_number("--width", value, 40, 200, &number);
    *out = (unsigned)number;
    return status;
}

/* Sets *value to NULL where the option keeps it. */
static int take_option(const tdm_usage *usage, int option, char **value, tdm_options *options)
{
    if (option >= OPTION_DAY)
        return take_day(usage, (tdm_day)(option - OPTION_DAY), value, options);
    if (option >= OPTION_OUTPUT)
        return take_output((tdm_output)(option - OPTION_OUTPUT), value, options);
    if (option >= OPTION_INPUT)
        return take_input(usage, (tdm_input)(option - OPTION_INPUT), value, options);
    tdm_limits *limits = &options->read.limits;
    switch (option) {
    case OPTION_JSON:
        return choose_format(options, TDM_FORMAT_JSON);
    case OPTION_CSV:
        return choose_format(options, TDM_FORMAT_CSV);
    case OPTION_EXPLAIN:
        options->explain = true;
        return GO_ON;
    case OPTION_COLOUR:
        return tdm_option_when("--colour", *value, &options->colour);
    case OPTION_WIDTH:
        return take_width(*value, &options->width);
    case OPTION_IGNORE_PROFILE:
        options->read.ignore_profile = true;
        return GO_ON;
    case OPTION_MAX_PIXELS:
        return tdm_option_number("--max-pixels", *value, 1, most_of_anything, &limits->pixels);
    case OPTION_MAX_BYTES:
        return tdm_option_number("--max-bytes", *value, 1, most_of_anything, &limits->file_bytes);
    case OPTION_TARGET_WIDTH:
        return tdm_option_mm("--target-width", *value, &options->read.target_width_mm);
    case OPTION_TARGET_LEVEL:
        return tdm_option_level("--target-level", *value, &options->target_level);
    case OPTION_SKIP_LEVEL:
        return tdm_option_level("--skip-level", *value, &options->skip_level);
    case OPTION_ON_PHOTO:
        options->on_photo = true;
        return GO_ON;
    default:
        return tdm_usage_error("an option that nobody reads");
    }
}

static void print_help(const tdm_usage *usage, poptContext context)
{
    poptPrintHelp(context, stdout, 0);
    printf("\n%s\n", usage->about);
}

static int no_memory(void)
{
    const tdm_error error = {.code = TDM_ERR_MEMORY, .text = "out of memory"};
    return tdm_say_error(&error);
}

static int take_photos(const tdm_usage *usage, poptContext context, tdm_options *options)
{
    const char **arguments = poptGetArgs(context);
    size_t count = 0;
    while (arguments && arguments[count])
        count++;
    if (count != usage->photos)
        return tdm_usage_error("'%s' takes %zu photograph%s and was given %zu; see '%s --help'", usage->name,
                               usage->photos, usage->photos == 1 ? "" : "s", count, usage->name);
    for (size_t i = 0; i < count; i++) {
        options->photos.at[i] = strdup(arguments[i]);
        if (!options->photos.at[i])
            return no_memory();
        options->photos.count++;
    }
    return GO_ON;
}

/* A calibration was fitted once and for all: what goes into a fit would be read in vain. */
static int check_together(const tdm_options *options)
{
    static const tdm_input fitted[] = {TDM_INPUT_REFERENCE, TDM_INPUT_FLAT_FIELD};
    if (options->explain && options->format == TDM_FORMAT_CSV)
        return tdm_usage_error("--explain and --csv can't be had at once; choose one");
    if (!options->outputs[TDM_OUTPUT_STRANDS] && (options->on_photo || isfinite(options->skip_level)))
        return tdm_usage_error("%s is for the picture of --strands, which isn't asked for",
                               options->on_photo ? "--on-photo" : "--skip-level");
    for (size_t i = 0; i < sizeof fitted / sizeof fitted[0]; i++) {
        if (options->inputs[TDM_INPUT_CALIBRATION].count > 0 && options->inputs[fitted[i]].count > 0)
            return tdm_usage_error("%s is for 'tidemark target'; with --calibration it would change nothing",
                                   tdm_input_option(fitted[i]));
    }
    return GO_ON;
}

static int take_all(const tdm_usage *usage, poptContext context, tdm_options *options)
{
    int option = 0;
    while ((option = poptGetNextOpt(context)) > 0) {
        if (option == OPTION_HELP) {
            print_help(usage, context);
            return 0;
        }
        char *value = poptGetOptArg(context);
        const int status = take_option(usage, option, &value, options);
        free(value);
        if (status != GO_ON)
            return status;
    }
    if (option < -1)
        return tdm_usage_error("%s: %s; see '%s --help'", poptBadOption(context, POPT_BADOPTION_NOALIAS),
                               poptStrerror(option), usage->name);
    const int status = check_together(options);
    return status == GO_ON ? take_photos(usage, context, options) : status;
}

int tdm_options_parse(const tdm_usage *usage, int argc, const char **argv, tdm_options *out)
{
    *out = (tdm_options){
        .read = tdm_read_options_default(), .target_level = (double)NAN, .skip_level = (double)NAN};
    argv[0] = usage->name; /* popt shows it in the help */
    poptContext context = poptGetContext("tidemark", argc, argv, usage->tables, 0);
    if (!context)
        return no_memory();
    poptSetOtherOptionHelp(context, usage->arguments);
    const int status = take_all(usage, context, out);
    poptFreeContext(context);
    return status;
}

static void free_paths(tdm_paths *paths)
{
    for (size_t i = 0; i < paths->count; i++)
        free(paths->at[i]);
}

void tdm_options_free(tdm_options *options)
{
    free_paths(&options->photos);
    for (size_t i = 0; i < TDM_INPUTS; i++)
        free_paths(&options->inputs[i]);
    for (size_t i = 0; i < TDM_DAYS; i++)
        free_paths(&options->days[i]);
    for (size_t i = 0; i < TDM_OUTPUTS; i++)
        free(options->outputs[i]);
    *options = (tdm_options){0};
}

/* Given once it stands for every photograph. */
static const char *shared(const tdm_options *options, tdm_input input, size_t photo)
{
    const tdm_paths *paths = &options->inputs[input];
    return paths->count == 1 ? paths->at[0] : paths->at[photo];
}

tdm_read_options tdm_options_reading(const tdm_options *options, size_t photo)
{
    tdm_read_options out = options->read;
    out.calibration = shared(options, TDM_INPUT_CALIBRATION, photo);
    out.reference = shared(options, TDM_INPUT_REFERENCE, photo);
    out.flat_field = shared(options, TDM_INPUT_FLAT_FIELD, photo);
    out.level_scale = shared(options, TDM_INPUT_LEVEL_SCALE, photo);
    /* A day is one photograph's own. */
    out.taken_on = options->days[TDM_DAY_TAKEN].at[photo];
    out.coloured_on = options->days[TDM_DAY_COLOURED].at[photo];
    return out;
}

tdm_strand_options tdm_options_strands(const tdm_options *options)
{
    return (tdm_strand_options){.skip_level = options->skip_level, .on_photo = options->on_photo};
}

const char *tdm_options_marks(const tdm_options *options, size_t photo)
{
    return options->inputs[TDM_INPUT_MARKS].at[photo];
}
