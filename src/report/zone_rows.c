/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which figures have a row in the text, and which stand together. A new figure is shown unless a list here
 * leaves it to JSON. */
#include <string.h>

#include "report/page.h"

/* Detail that would crowd the block. */
static const char *const left_to_json[] = {
    "length_mm",
    "width_mm",
    "root_mm",
    "overall.lstar",
    "overall.level",
    "overall.tone",
    "root.lstar",
    "mid.lstar",
    "ends.lstar",
    "regrowth.length_mm", /* the line's centre again */
    "regrowth.days",
    "strands.kinds",
    "strands.contrast_de00",
    "strands.contrast_michelson",
    "strands.separation",
    "strands.ribbon_mm.p25",
    "strands.ribbon_mm.p75",
    "strands.ribbon_mm.u",
    "strands.period_mm",
    "strands.period_strength",
    "strands.length_mm.p25",
    "strands.length_mm.p75",
    "strands.start_mm.p25",
    "strands.start_mm.p75",
    "strands.start_mm.u",
    "strands.onset_mm.p25",
    "strands.onset_mm.p75",
    "evenness.patchiness_lstar",
    "evenness.between_lstar",
    "evenness.between_level",
    "evenness.left_right_lstar",
    "frame.level_above_rest",
};

/* The same figures of single areas. */
static const char *const of_areas[] = {"strands.root.", "strands.mid.", "strands.ends."};

/* A dash would say nothing. */
static const char *const only_where_there_is[] = {"gradient.bound", "gradient.light_lstar",
                                                  "evenness.patchiness_de00", "evenness.warmth",
                                                  "strands.middle_share"};
/* The head's alone, and there only where zones can be compared so: all whose path begins so. */
static const char *const only_of_heads[] = {"evenness.between_", "evenness.left_right_", "frame."};

static bool begins(const char *path, const char *with)
{
    return strncmp(path, with, strlen(with)) == 0;
}

/* Only where it was asked for. */
static const char regrowth[] = "regrowth.";

/* The share stands in for the millimetres where there is no scale. */
static const struct {
    const char *mm;
    const char *share;
} stand_ins[] = {{"gradient.centre_mm", "gradient.centre_share"},
                 {"gradient.width_mm", "gradient.width_share"}};

/* Null in a zone whose line never shows, which the grade says better than a dash. */
static const char *const with_a_line[] = {"demarcation.shows_from_m", "demarcation.hidden_from_m"};
static const char shows_from[] = "demarcation.shows_from_m";

static bool anywhere(const tdm_block *block, const tdm_figure *figure)
{
    tdm_value found;
    return tdm_zone_value(block->before, figure, &found) || tdm_zone_word(block->before, figure) ||
           (block->after &&
            (tdm_zone_value(block->after, figure, &found) || tdm_zone_word(block->after, figure)));
}

static bool beyond(const tdm_zone_reading *zone, const tdm_figure *figure, double least, double most)
{
    tdm_value found;
    return zone && tdm_zone_value(zone, figure, &found) && (found.value < least || found.value > most);
}

/* Worth a row only where a good part of the zone was lost, or of the light is gloss. Choices. */
static bool says_little(const tdm_block *block, const tdm_figure *figure)
{
    static const struct {
        const char *path;
        double least, most;
    } rows[] = {{"used_share", 0.9, 2}, {"gloss_share", -1, 0.05}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (strcmp(figure->path, rows[i].path) == 0)
            return !beyond(block->before, figure, rows[i].least, rows[i].most) &&
                   !beyond(block->after, figure, rows[i].least, rows[i].most);
    }
    return false;
}

/* What an even, whole line hasn't: shown only where it has it. */
static bool is_absent(const tdm_block *block, const tdm_figure *figure)
{
    static const char *const faults[] = {"demarcation.course_mm", "demarcation.zigzag_period_mm",
                                         "demarcation.gap_count", "demarcation.bleed_count",
                                         "evenness.warm_count"};
    tdm_value found;
    for (size_t i = 0; i < sizeof faults / sizeof faults[0]; i++) {
        if (strcmp(figure->path, faults[i]) != 0)
            continue;
        return !(tdm_zone_value(block->before, figure, &found) && found.value > 0) &&
               !(block->after && tdm_zone_value(block->after, figure, &found) && found.value > 0);
    }
    return false;
}

bool tdm_block_shows(const tdm_block *block, const tdm_figure *figure)
{
    const bool row = figure->kind <= TDM_FIGURE_WORD || figure->kind == TDM_FIGURE_VISIBILITY;
    if (!row || says_little(block, figure) || is_absent(block, figure))
        return false;
    for (size_t i = 0; i < sizeof left_to_json / sizeof left_to_json[0]; i++) {
        if (strcmp(figure->path, left_to_json[i]) == 0)
            return false;
    }
    for (size_t i = 0; i < sizeof of_areas / sizeof of_areas[0]; i++) {
        if (begins(figure->path, of_areas[i]))
            return false;
    }
    for (size_t i = 0; i < sizeof only_where_there_is / sizeof only_where_there_is[0]; i++) {
        if (strcmp(figure->path, only_where_there_is[i]) == 0 && !anywhere(block, figure))
            return false;
    }
    for (size_t i = 0; i < sizeof only_of_heads / sizeof only_of_heads[0]; i++) {
        if (begins(figure->path, only_of_heads[i]) && !anywhere(block, figure))
            return false;
    }
    if (begins(figure->path, regrowth) && !anywhere(block, tdm_figure_find("regrowth.mm_per_month")))
        return false;
    for (size_t i = 0; i < sizeof with_a_line / sizeof with_a_line[0]; i++) {
        if (strcmp(figure->path, with_a_line[i]) == 0 && !anywhere(block, tdm_figure_find(shows_from)))
            return false;
    }
    for (size_t i = 0; i < sizeof stand_ins / sizeof stand_ins[0]; i++) {
        const bool is_mm = strcmp(figure->path, stand_ins[i].mm) == 0;
        const bool is_share = strcmp(figure->path, stand_ins[i].share) == 0;
        const bool in_mm = anywhere(block, tdm_figure_find(stand_ins[i].mm)) ||
                           !anywhere(block, tdm_figure_find(stand_ins[i].share));
        if ((is_mm && !in_mm) || (is_share && in_mm))
            return false;
    }
    return true;
}

/* Depth and tone, the fall with its line, strands, evenness. The path says which. */
char tdm_figure_group(const tdm_figure *figure)
{
    static const char *const fall[] = {"gradient.", "demarcation.", "regrowth."};
    for (size_t i = 0; i < sizeof fall / sizeof fall[0]; i++) {
        if (begins(figure->path, fall[i]))
            return 'f';
    }
    if (begins(figure->path, "evenness.") || begins(figure->path, "frame."))
        return 'e';
    return begins(figure->path, "strands.") ? 's' : 'd';
}
