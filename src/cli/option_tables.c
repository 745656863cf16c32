/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "option_tables.h"

#define FLAG(name, id, help)                                                                                 \
    {                                                                                                        \
        name, 0, POPT_ARG_NONE, NULL, id, help, NULL                                                         \
    }
#define VALUE(name, id, help, what)                                                                          \
    {                                                                                                        \
        name, 0, POPT_ARG_STRING, NULL, id, help, what                                                       \
    }
#define INPUT(name, input, help) VALUE(name, OPTION_INPUT + (input), help, "FILE")
#define DAY(name, day, help) VALUE(name, OPTION_DAY + (day), help, "DATE")
#define OUTPUT(name, output, help) VALUE(name, OPTION_OUTPUT + (output), help, "FILE")

/* The groups are never written; they can't be const, as popt's pointer to an included table isn't. */
static struct poptOption photo_group[] = {
    {"marks", 'm', POPT_ARG_STRING, NULL, OPTION_INPUT + TDM_INPUT_MARKS,
     "marks file, instead of the one beside the photograph; once for each photograph, in their order",
     "FILE"},
    FLAG("ignore-profile", OPTION_IGNORE_PROFILE,
         "take the numbers as sRGB, whatever the file says of its colours"),
    VALUE("max-pixels", OPTION_MAX_PIXELS, "most pixels that a photograph may have (default 200000000)", "N"),
    VALUE("max-bytes", OPTION_MAX_BYTES, "most bytes that a photograph's file may have (default 268435456)",
          "N"),
    POPT_TABLEEND};

static struct poptOption day_group[] = {
    DAY("coloured-on", TDM_DAY_COLOURED,
        "day (YYYY-MM-DD) when the hair was last coloured, to the root: growth since then is told"),
    DAY("taken-on", TDM_DAY_TAKEN,
        "day (YYYY-MM-DD) of the photograph, where the file has none or a wrong one"),
    POPT_TABLEEND};

static struct poptOption calibration_group[] = {
    INPUT("calibration", TDM_INPUT_CALIBRATION,
          "calibration of the same sitting, from 'tidemark target', instead of a target in the photograph"),
    POPT_TABLEEND};

static struct poptOption colour_group[] = {
    INPUT("reference", TDM_INPUT_REFERENCE,
          "colours measured on your target (CGATS.17), instead of the published ones"),
    INPUT("flat-field", TDM_INPUT_FLAT_FIELD,
          "photograph of plain card in the same light, against uneven light"),
    POPT_TABLEEND};

static struct poptOption scale_group[] = {
    INPUT("level-scale", TDM_INPUT_LEVEL_SCALE,
          "your own level scale, from 'tidemark swatches', instead of the default one"),
    VALUE("target-width", OPTION_TARGET_WIDTH,
          "outer width of the target's block of patches, instead of a ruler", "MM"),
    POPT_TABLEEND};

static struct poptOption target_file_group[] = {
    OUTPUT("save-calibration", TDM_OUTPUT_CALIBRATION, "write the correction, for --calibration"),
    OUTPUT("profile", TDM_OUTPUT_PROFILE, "write the correction as an ICC profile, for other programs"),
    OUTPUT("overlay", TDM_OUTPUT_OVERLAY, "write a PNG picture that shows where the target was sampled"),
    POPT_TABLEEND};

static struct poptOption plan_group[] = {
    VALUE("target-level", OPTION_TARGET_LEVEL,
          "hair of this level or lighter is light enough (default: half a level under the light strands)",
          "N"),
    POPT_TABLEEND};

static struct poptOption plan_file_group[] = {
    OUTPUT("map", TDM_OUTPUT_MAP, "write a PNG picture: hair not to lighten, run of the shade, and after"),
    POPT_TABLEEND};

static struct poptOption strand_group[] = {
    OUTPUT("strands", TDM_OUTPUT_STRANDS,
           "write a PNG picture: the zones laid straight, their light strands, and hair not to lighten"),
    VALUE("skip-level", OPTION_SKIP_LEVEL,
          "in the picture, hair of this level or lighter isn't to be lightened (default: the light strands)",
          "N"),
    FLAG("on-photo", OPTION_ON_PHOTO, "draw the same on the photograph too, which may show more than hair"),
    POPT_TABLEEND};

static struct poptOption scale_file_group[] = {
    OUTPUT("save-scale", TDM_OUTPUT_SCALE, "write the level scale, for --level-scale"), POPT_TABLEEND};

static struct poptOption format_group[] = {FLAG("json", OPTION_JSON, "print one JSON object"), POPT_TABLEEND};

static struct poptOption figure_group[] = {
    FLAG("csv", OPTION_CSV, "print a CSV table, one row a zone"),
    FLAG("explain", OPTION_EXPLAIN, "show what each uncertainty is made of"), POPT_TABLEEND};

static struct poptOption result_group[] = {
    {"output", 'o', POPT_ARG_STRING, NULL, OPTION_OUTPUT + TDM_OUTPUT_RESULT,
     "write to FILE instead of standard output", "FILE"},
    VALUE("colour", OPTION_COLOUR, "colour in text: auto, always or never (default auto)", "WHEN"),
    VALUE("width", OPTION_WIDTH, "columns of the text, 40 to 200 (default: the terminal's, else 80)", "N"),
    POPT_TABLEEND};

static struct poptOption help_group[] = {
    {"help", 'h', POPT_ARG_NONE, NULL, OPTION_HELP, "show this help", NULL}, POPT_TABLEEND};

/* A group without a heading goes on under the one before. */
#define GROUP(heading, group)                                                                                \
    {                                                                                                        \
        NULL, 0, POPT_ARG_INCLUDE_TABLE, group, 0, heading, NULL                                             \
    }

const struct poptOption tdm_reading_tables[] = {GROUP("Photographs:", photo_group),
                                                GROUP("Growth:", day_group),
                                                GROUP("Colour and scale:", calibration_group),
                                                GROUP(NULL, colour_group),
                                                GROUP(NULL, scale_group),
                                                GROUP("Results:", format_group),
                                                GROUP(NULL, figure_group),
                                                GROUP(NULL, result_group),
                                                GROUP("Picture of the strands:", strand_group),
                                                GROUP("Help:", help_group),
                                                POPT_TABLEEND};

const struct poptOption tdm_plan_tables[] = {
    GROUP("Photographs:", photo_group), GROUP("Colour and scale:", calibration_group),
    GROUP(NULL, colour_group),          GROUP(NULL, scale_group),
    GROUP("Plan:", plan_group),         GROUP("Results:", format_group),
    GROUP(NULL, result_group),          GROUP("Files to write:", plan_file_group),
    GROUP("Help:", help_group),         POPT_TABLEEND};

const struct poptOption tdm_target_tables[] = {GROUP("Photographs:", photo_group),
                                               GROUP("Colour:", colour_group),
                                               GROUP("Results:", format_group),
                                               GROUP(NULL, result_group),
                                               GROUP("Files to write:", target_file_group),
                                               GROUP("Help:", help_group),
                                               POPT_TABLEEND};

const struct poptOption tdm_swatches_tables[] = {
    GROUP("Photographs:", photo_group), GROUP("Colour:", calibration_group),
    GROUP(NULL, colour_group),          GROUP("Results:", format_group),
    GROUP(NULL, result_group),          GROUP("Files to write:", scale_file_group),
    GROUP("Help:", help_group),         POPT_TABLEEND};

const char *tdm_input_option(tdm_input input)
{
    static const char *const names[TDM_INPUTS] = {
        [TDM_INPUT_MARKS] = "--marks",
        [TDM_INPUT_CALIBRATION] = "--calibration",
        [TDM_INPUT_FLAT_FIELD] = "--flat-field",
        [TDM_INPUT_REFERENCE] = "--reference",
        [TDM_INPUT_LEVEL_SCALE] = "--level-scale",
    };
    return names[input];
}

const char *tdm_output_option(tdm_output output)
{
    static const char *const names[TDM_OUTPUTS] = {
        [TDM_OUTPUT_RESULT] = "--output",    [TDM_OUTPUT_CALIBRATION] = "--save-calibration",
        [TDM_OUTPUT_PROFILE] = "--profile",  [TDM_OUTPUT_OVERLAY] = "--overlay",
        [TDM_OUTPUT_SCALE] = "--save-scale", [TDM_OUTPUT_MAP] = "--map",
        [TDM_OUTPUT_STRANDS] = "--strands",
    };
    return names[output];
}

const char *tdm_day_option(tdm_day day)
{
    static const char *const names[TDM_DAYS] = {
        [TDM_DAY_TAKEN] = "--taken-on",
        [TDM_DAY_COLOURED] = "--coloured-on",
    };
    return names[day];
}
