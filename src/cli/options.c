/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "options.h"

#include <errno.h>
#include <inttypes.h>
#include <popt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "message.h"

enum {
    OPTION_HELP = 1,
    OPTION_MARKS,
    OPTION_JSON,
    OPTION_CSV,
    OPTION_OUTPUT,
    OPTION_COLOUR,
    OPTION_WIDTH,
    OPTION_IGNORE_PROFILE,
    OPTION_MAX_PIXELS,
    OPTION_MAX_BYTES
};

/* The tables are never written; those that another includes can't be const, as popt's pointer to them isn't.
 */
static struct poptOption input_table[] = {
    {"marks", 'm', POPT_ARG_STRING, NULL, OPTION_MARKS,
     "marks file, instead of the one beside the photograph; once for each photograph, in their order",
     "FILE"},
    {"ignore-profile", 0, POPT_ARG_NONE, NULL, OPTION_IGNORE_PROFILE,
     "take the numbers as sRGB, whatever the file says of its colours", NULL},
    {"max-pixels", 0, POPT_ARG_STRING, NULL, OPTION_MAX_PIXELS,
     "most pixels that a photograph may have (default 200000000)", "N"},
    {"max-bytes", 0, POPT_ARG_STRING, NULL, OPTION_MAX_BYTES,
     "most bytes that a photograph's file may have (default 268435456)", "N"},
    POPT_TABLEEND};

static struct poptOption output_table[] = {
    {"json", 0, POPT_ARG_NONE, NULL, OPTION_JSON, "print one JSON object", NULL},
    {"csv", 0, POPT_ARG_NONE, NULL, OPTION_CSV, "print a CSV table, one row a zone", NULL},
    {"output", 'o', POPT_ARG_STRING, NULL, OPTION_OUTPUT, "write to FILE instead of standard output", "FILE"},
    {"colour", 0, POPT_ARG_STRING, NULL, OPTION_COLOUR,
     "colour in text: auto, always or never (default auto)", "WHEN"},
    {"width", 0, POPT_ARG_STRING, NULL, OPTION_WIDTH,
     "columns of the text, 40 to 200 (default: the terminal's, else 80)", "N"},
    POPT_TABLEEND};

static struct poptOption help_table[] = {
    {"help", 'h', POPT_ARG_NONE, NULL, OPTION_HELP, "show this help", NULL}, POPT_TABLEEND};

static const struct poptOption all_tables[] = {
    {NULL, 0, POPT_ARG_INCLUDE_TABLE, input_table, 0, "Photographs:", NULL},
    {NULL, 0, POPT_ARG_INCLUDE_TABLE, output_table, 0, "Results:", NULL},
    {NULL, 0, POPT_ARG_INCLUDE_TABLE, help_table, 0, "Help:", NULL},
    POPT_TABLEEND};

enum { GO_ON = -1 };

/* Far beyond any photograph, and far from overflow. */
static const uint64_t most_of_anything = 1000000000000;

/* A whole number in digits alone. */
static int parse_number(const char *option, const char *value, uint64_t least, uint64_t most, uint64_t *out)
{
    char *end = NULL;
    errno = 0;
    const unsigned long long number = strtoull(value, &end, 10);
    if (value[0] < '0' || value[0] > '9' || *end || errno != 0 || number < least || number > most)
        return tdm_usage_error("%s '%s' must be a whole number from %" PRIu64 " to %" PRIu64, option, value,
                               least, most);
    *out = number;
    return GO_ON;
}

static int parse_colour(const char *value, tdm_when *out)
{
    static const char *const words[] = {"auto", "always", "never"};
    static const tdm_when meanings[] = {TDM_WHEN_AUTO, TDM_WHEN_ALWAYS, TDM_WHEN_NEVER};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strcmp(value, words[i]) == 0) {
            *out = meanings[i];
            return GO_ON;
        }
    }
    return tdm_usage_error("--colour '%s' must be auto, always or never", value);
}

static int choose_format(tdm_options *options, tdm_format format)
{
    if (options->format_given && options->format != format)
        return tdm_usage_error("--json and --csv can't be had at once; choose one");
    options->format = format;
    options->format_given = true;
    return GO_ON;
}

static int take_marks(const tdm_usage *usage, tdm_options *options, char **value)
{
    if (options->marks_count == usage->photos)
        return tdm_usage_error("--marks may be given %zu time%s at most", usage->photos,
                               usage->photos == 1 ? "" : "s");
    options->marks[options->marks_count++] = *value;
    *value = NULL;
    return GO_ON;
}

/* Takes *value, and sets it to NULL, where the option keeps it. */
static int take_option(const tdm_usage *usage, int option, char **value, tdm_options *options)
{
    uint64_t number = 0;
    int status = GO_ON;
    switch (option) {
    case OPTION_MARKS:
        return take_marks(usage, options, value);
    case OPTION_JSON:
        return choose_format(options, TDM_FORMAT_JSON);
    case OPTION_CSV:
        return choose_format(options, TDM_FORMAT_CSV);
    case OPTION_OUTPUT:
        free(options->output);
        options->output = *value;
        *value = NULL;
        return GO_ON;
    case OPTION_COLOUR:
        return parse_colour(*value, &options->colour);
    case OPTION_WIDTH:
        status = parse_number("--width", *value, 40, 200, &number);
        options->width = (unsigned)number;
        return status;
    case OPTION_IGNORE_PROFILE:
        options->read.ignore_profile = true;
        return GO_ON;
    case OPTION_MAX_PIXELS:
        return parse_number("--max-pixels", *value, 1, most_of_anything, &options->read.limits.pixels);
    case OPTION_MAX_BYTES:
        return parse_number("--max-bytes", *value, 1, most_of_anything, &options->read.limits.file_bytes);
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
        options->photos[i] = strdup(arguments[i]);
        if (!options->photos[i])
            return no_memory();
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
    return take_photos(usage, context, options);
}

int tdm_options_parse(const tdm_usage *usage, int argc, const char **argv, tdm_options *out)
{
    *out = (tdm_options){.read = tdm_read_options_default()};
    argv[0] = usage->name; /* popt shows it in the help */
    poptContext context = poptGetContext("tidemark", argc, argv, all_tables, 0);
    if (!context)
        return no_memory();
    poptSetOtherOptionHelp(context, usage->arguments);
    const int status = take_all(usage, context, out);
    poptFreeContext(context);
    return status;
}

void tdm_options_free(tdm_options *options)
{
    for (size_t i = 0; i < TDM_MOST_PHOTOS; i++) {
        free(options->photos[i]);
        free(options->marks[i]);
    }
    free(options->output);
    *options = (tdm_options){0};
}
