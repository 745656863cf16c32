/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The figures' table. To add a figure: give it a place in zone_reading.h, a row here, and fill it in a
 * measure. */
#include <math.h>
#include <string.h>

#include "measure/zone_reading.h"

#define AT(member) offsetof(struct tdm_zone_reading, member)
#define AREA(path, words, member)                                                                            \
    {path ".lab", words " colour", "", TDM_FIGURE_LAB, 1, AT(member.lab)},                                   \
        {path ".lstar", words " lightness", "L*", TDM_FIGURE_VALUE, 1, AT(member.lstar)},                    \
        {path ".level", words " level", "level", TDM_FIGURE_VALUE, 1, AT(member.level)},                     \
    {                                                                                                        \
        path ".tone", words " tone", "", TDM_FIGURE_WORD, 0, AT(member.tone)                                 \
    }

#define STRANDS(path, words, member)                                                                         \
    {                                                                                                        \
        path ".separable",   "light and dark strands apart, " words, "", TDM_FIGURE_FLAG, 0,                 \
        AT(member.separable)},                                                                               \
        {path ".light_share",   "share of light strands, " words, "", TDM_FIGURE_VALUE, 2,                   \
         AT(member.light_share)},                                                                            \
        {path ".contrast_lstar", "contrast, " words, "L*", TDM_FIGURE_VALUE, 1, AT(member.contrast_lstar)},  \
        {path ".ribbon_mm", "ribbon width, " words, "mm", TDM_FIGURE_NUMBER, 1, AT(member.ribbon_mm)},       \
        {path ".spacing_mm", "ribbon spacing, " words, "mm", TDM_FIGURE_NUMBER, 1, AT(member.spacing_mm)},   \
        {path ".spacing_cv",   "unevenness of the spacing, " words, "", TDM_FIGURE_NUMBER, 2,                \
         AT(member.spacing_cv)},                                                                             \
    {                                                                                                        \
        path ".count_per_100mm", "ribbons in 100 mm, " words, "", TDM_FIGURE_NUMBER, 0,                      \
            AT(member.count_per_100mm)                                                                       \
    }

static const tdm_figure figures[] = {
    {"length_mm", "length", "mm", TDM_FIGURE_NUMBER, 0, AT(length_mm)},
    {"width_mm", "width", "mm", TDM_FIGURE_NUMBER, 0, AT(width_mm)},
    {"root_mm", "zone begins below the root", "mm", TDM_FIGURE_NUMBER, 0, AT(root_mm)},
    {"used_share", "share that could be used", "", TDM_FIGURE_NUMBER, 2, AT(used_share)},
    AREA("overall", "overall", overall),
    AREA("root", "root", root),
    AREA("mid", "mid-lengths", mid),
    AREA("ends", "ends", ends),
    {"gloss_share", "share of gloss in the light", "", TDM_FIGURE_NUMBER, 2, AT(gloss_share)},
    {"gradient.shape", "shape of the fall", "", TDM_FIGURE_WORD, 0, AT(gradient.shape)},
    {"gradient.centre_mm", "line centre", "mm", TDM_FIGURE_VALUE, 0, AT(gradient.centre_mm)},
    {"gradient.width_mm", "width of the fall", "mm", TDM_FIGURE_VALUE, 0, AT(gradient.width_mm)},
    {"gradient.centre_share", "line centre, share of the length", "", TDM_FIGURE_VALUE, 2,
     AT(gradient.centre_share)},
    {"gradient.width_share", "width of the fall, share of the length", "", TDM_FIGURE_VALUE, 2,
     AT(gradient.width_share)},
    {"gradient.de00", "step across the fall", "dE00", TDM_FIGURE_VALUE, 1, AT(gradient.de00)},
    {"gradient.slope_lstar_per_cm", "slope of lightness", "L*/cm", TDM_FIGURE_VALUE, 1,
     AT(gradient.slope_lstar_per_cm)},
    {"gradient.bound", "the width is", "", TDM_FIGURE_WORD, 0, AT(gradient.bound)},
    {"gradient.light_lstar", "change that is light, not colour", "L*", TDM_FIGURE_NUMBER, 1,
     AT(gradient.light_lstar)},
    {"gradient.confidence", "how sure the fall is", "", TDM_FIGURE_WORD, 0, AT(gradient.confidence)},
    {"gradient.profile", "profile from root to ends", "", TDM_FIGURE_PROFILE, 1, AT(gradient.profile)},
    {"demarcation.grade", "the line", "", TDM_FIGURE_WORD, 0, AT(demarcation.grade)},
    {"demarcation.local_width_mm", "width of the line at one place", "mm", TDM_FIGURE_VALUE, 0,
     AT(demarcation.local_width_mm)},
    {"demarcation.stagger_mm", "stagger of the line", "mm", TDM_FIGURE_VALUE, 1, AT(demarcation.stagger_mm)},
    {"demarcation.span", "share of the width with a line", "", TDM_FIGURE_NUMBER, 2, AT(demarcation.span)},
    {"demarcation.course", "course of the line", "", TDM_FIGURE_WORD, 0, AT(demarcation.course)},
    {"demarcation.slope", "slant of the line", "mm/100 mm", TDM_FIGURE_VALUE, 0, AT(demarcation.slope)},
    {"demarcation.course_mm", "bend or zigzag of the line", "mm", TDM_FIGURE_NUMBER, 0,
     AT(demarcation.course_mm)},
    {"demarcation.zigzag_period_mm", "one zigzag", "mm", TDM_FIGURE_NUMBER, 0,
     AT(demarcation.zigzag_period_mm)},
    {"demarcation.gap_count", "gaps in the line", "", TDM_FIGURE_NUMBER, 0, AT(demarcation.gap_count)},
    {"demarcation.gaps", "gaps in the line", "", TDM_FIGURE_PLACES, 0, AT(demarcation.gaps)},
    {"demarcation.bleed_count", "light spots at the root", "", TDM_FIGURE_NUMBER, 0,
     AT(demarcation.bleed_count)},
    {"demarcation.bleeds", "light spots at the root", "", TDM_FIGURE_PLACES, 0, AT(demarcation.bleeds)},
    {"demarcation.visibility", "how it shows at 0.6/1.2/3 m", "d'", TDM_FIGURE_VISIBILITY, 1,
     AT(demarcation.visibility)},
    {"demarcation.shows_from_m", "the line shows from a distance of", "m", TDM_FIGURE_NUMBER, 1,
     AT(demarcation.shows_from_m)},
    {"demarcation.hidden_from_m", "and is out of sight from", "m", TDM_FIGURE_NUMBER, 1,
     AT(demarcation.hidden_from_m)},
    {"regrowth.length_mm", "growth since the last colour", "mm", TDM_FIGURE_VALUE, 0, AT(regrowth.length_mm)},
    {"regrowth.days", "days since the last colour", "", TDM_FIGURE_NUMBER, 0, AT(regrowth.days)},
    {"regrowth.mm_per_month", "growth a month", "mm", TDM_FIGURE_VALUE, 1, AT(regrowth.mm_per_month)},
    {"regrowth.pace", "pace of growth", "", TDM_FIGURE_WORD, 0, AT(regrowth.pace)},
    {"strands.separable", "light and dark strands apart", "", TDM_FIGURE_FLAG, 0, AT(strands.separable)},
    {"strands.kinds", "kinds of strands", "", TDM_FIGURE_NUMBER, 0, AT(strands.kinds)},
    {"strands.light_share", "share of light strands", "", TDM_FIGURE_VALUE, 2, AT(strands.light_share)},
    {"strands.light_lab", "light strands' colour", "", TDM_FIGURE_LAB, 1, AT(strands.light_lab)},
    {"strands.middle_share", "share of the middle strands", "", TDM_FIGURE_VALUE, 2,
     AT(strands.middle_share)},
    {"strands.middle_lab", "middle strands' colour", "", TDM_FIGURE_LAB, 1, AT(strands.middle_lab)},
    {"strands.dark_lab", "dark strands' colour", "", TDM_FIGURE_LAB, 1, AT(strands.dark_lab)},
    {"strands.contrast_lstar", "contrast of light and dark", "L*", TDM_FIGURE_VALUE, 1,
     AT(strands.contrast_lstar)},
    {"strands.contrast_de00", "contrast of light and dark", "dE00", TDM_FIGURE_VALUE, 1,
     AT(strands.contrast_de00)},
    {"strands.contrast_michelson", "contrast of their light", "", TDM_FIGURE_VALUE, 2,
     AT(strands.contrast_michelson)},
    {"strands.separation", "how far the two kinds stand apart", "sd", TDM_FIGURE_VALUE, 1,
     AT(strands.separation)},
    {"strands.ribbon_mm.median", "ribbon width", "mm", TDM_FIGURE_NUMBER, 1, AT(strands.ribbon_median)},
    {"strands.ribbon_mm.p25", "ribbon width, lower quartile", "mm", TDM_FIGURE_NUMBER, 1,
     AT(strands.ribbon_p25)},
    {"strands.ribbon_mm.p75", "ribbon width, upper quartile", "mm", TDM_FIGURE_NUMBER, 1,
     AT(strands.ribbon_p75)},
    {"strands.ribbon_mm.u", "ribbon width, uncertainty", "mm", TDM_FIGURE_NUMBER, 1, AT(strands.ribbon_u)},
    {"strands.weave", "weave", "", TDM_FIGURE_WORD, 0, AT(strands.weave)},
    {"strands.spacing_mm.median", "ribbon spacing", "mm", TDM_FIGURE_NUMBER, 1, AT(strands.spacing_median)},
    {"strands.spacing_mm.cv", "unevenness of the spacing", "", TDM_FIGURE_NUMBER, 2, AT(strands.spacing_cv)},
    {"strands.spacing_mm.pattern", "ribbons come", "", TDM_FIGURE_WORD, 0, AT(strands.pattern)},
    {"strands.count_per_100mm", "ribbons in 100 mm", "", TDM_FIGURE_VALUE, 1, AT(strands.count_per_100mm)},
    {"strands.period_mm", "strongest period across", "mm", TDM_FIGURE_NUMBER, 1, AT(strands.period_mm)},
    {"strands.period_strength", "strength of that period", "", TDM_FIGURE_NUMBER, 2,
     AT(strands.period_strength)},
    {"strands.length_mm.median", "ribbon length", "mm", TDM_FIGURE_NUMBER, 0, AT(strands.length_median)},
    {"strands.length_mm.p25", "ribbon length, lower quartile", "mm", TDM_FIGURE_NUMBER, 0,
     AT(strands.length_p25)},
    {"strands.length_mm.p75", "ribbon length, upper quartile", "mm", TDM_FIGURE_NUMBER, 0,
     AT(strands.length_p75)},
    {"strands.start_mm.median", "ribbons start", "mm", TDM_FIGURE_NUMBER, 0, AT(strands.start_median)},
    {"strands.start_mm.p25", "ribbons start, lower quartile", "mm", TDM_FIGURE_NUMBER, 0,
     AT(strands.start_p25)},
    {"strands.start_mm.p75", "ribbons start, upper quartile", "mm", TDM_FIGURE_NUMBER, 0,
     AT(strands.start_p75)},
    {"strands.start_mm.u", "ribbons start, uncertainty", "mm", TDM_FIGURE_NUMBER, 1, AT(strands.start_u)},
    {"strands.onset_mm.median", "a ribbon's own onset", "mm", TDM_FIGURE_NUMBER, 0, AT(strands.onset_median)},
    {"strands.onset_mm.p25", "a ribbon's own onset, lower quartile", "mm", TDM_FIGURE_NUMBER, 0,
     AT(strands.onset_p25)},
    {"strands.onset_mm.p75", "a ribbon's own onset, upper quartile", "mm", TDM_FIGURE_NUMBER, 0,
     AT(strands.onset_p75)},
    STRANDS("strands.root", "root", strands.root),
    STRANDS("strands.mid", "mid-lengths", strands.mid),
    STRANDS("strands.ends", "ends", strands.ends),
    {"evenness.patchiness_de00", "patchiness", "dE00", TDM_FIGURE_VALUE, 1, AT(evenness.patchiness_de00)},
    {"evenness.patchiness_lstar", "patchiness of lightness", "L*", TDM_FIGURE_VALUE, 1,
     AT(evenness.patchiness_lstar)},
    {"evenness.warm_count", "warm patches", "", TDM_FIGURE_NUMBER, 0, AT(evenness.warm_count)},
    {"evenness.warmth", "the warmest is warmer by", "CIELAB", TDM_FIGURE_VALUE, 1, AT(evenness.warmth)},
    {"evenness.warm", "warm patches", "", TDM_FIGURE_PLACES, 0, AT(evenness.warm)},
    {"evenness.between_de00", "furthest zone from the mean, ends", "dE00", TDM_FIGURE_VALUE, 1,
     AT(evenness.between_de00)},
    {"evenness.between_lstar", "furthest zone from the mean, ends", "L*", TDM_FIGURE_VALUE, 1,
     AT(evenness.between_lstar)},
    {"evenness.between_level", "furthest zone from the mean, ends level", "level", TDM_FIGURE_VALUE, 1,
     AT(evenness.between_level)},
    {"evenness.between_root_level", "furthest zone from the mean, root level", "level", TDM_FIGURE_VALUE, 1,
     AT(evenness.between_root_level)},
    {"evenness.between_share", "furthest zone from the mean, light share", "", TDM_FIGURE_VALUE, 2,
     AT(evenness.between_share)},
    {"evenness.between_contrast", "furthest zone from the mean, contrast", "L*", TDM_FIGURE_VALUE, 1,
     AT(evenness.between_contrast)},
    {"evenness.left_right_lstar", "left less right, ends", "L*", TDM_FIGURE_VALUE, 1,
     AT(evenness.left_right_lstar)},
    {"evenness.left_right_level", "left less right, ends level", "level", TDM_FIGURE_VALUE, 1,
     AT(evenness.left_right_level)},
    {"evenness.left_right_root_level", "left less right, root level", "level", TDM_FIGURE_VALUE, 1,
     AT(evenness.left_right_root_level)},
    {"evenness.left_right_share", "left less right, share of light strands", "", TDM_FIGURE_VALUE, 2,
     AT(evenness.left_right_share)},
    {"evenness.left_right_contrast", "left less right, contrast", "L*", TDM_FIGURE_VALUE, 1,
     AT(evenness.left_right_contrast)},
    {"evenness.left_right_centre_mm", "left less right, line centre", "mm", TDM_FIGURE_VALUE, 0,
     AT(evenness.left_right_centre_mm)},
    {"frame.lstar_above_rest", "face frame above the rest, lengths", "L*", TDM_FIGURE_VALUE, 1,
     AT(frame.lstar_above_rest)},
    {"frame.level_above_rest", "face frame above the rest, level of the lengths", "level", TDM_FIGURE_VALUE,
     1, AT(frame.level_above_rest)},
    {"frame.share_above_rest", "face frame above the rest, share of light strands", "", TDM_FIGURE_VALUE, 2,
     AT(frame.share_above_rest)},
    {"grey.share", "share of grey hair at the root", "", TDM_FIGURE_VALUE, 2, AT(grey.share)},
    {"grey.lab", "white hair's colour", "", TDM_FIGURE_LAB, 1, AT(grey.lab)},
};

_Static_assert(sizeof figures / sizeof figures[0] <= TDM_MOST_FIGURES, "a budget for each figure");

const tdm_figure *tdm_figures(size_t *count)
{
    *count = sizeof figures / sizeof figures[0];
    return figures;
}

const tdm_figure *tdm_figure_find(const char *path)
{
    for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++) {
        if (strcmp(figures[i].path, path) == 0)
            return &figures[i];
    }
    return NULL;
}

static const void *place(const tdm_zone_reading *zone, const tdm_figure *figure)
{
    return (const char *)zone + figure->offset;
}

bool tdm_zone_value(const tdm_zone_reading *zone, const tdm_figure *figure, tdm_value *out)
{
    tdm_value found = {.value = NAN, .u = NAN};
    if (figure->kind == TDM_FIGURE_VALUE)
        found = *(const tdm_value *)place(zone, figure);
    else if (figure->kind == TDM_FIGURE_NUMBER)
        found.value = *(const double *)place(zone, figure);
    if (!isfinite(found.value))
        return false;
    *out = found;
    return true;
}

bool tdm_zone_flag(const tdm_zone_reading *zone, const tdm_figure *figure, bool *out)
{
    if (figure->kind != TDM_FIGURE_FLAG)
        return false;
    *out = *(const bool *)place(zone, figure);
    return true;
}

bool tdm_zone_lab(const tdm_zone_reading *zone, const tdm_figure *figure, double out[3])
{
    if (figure->kind != TDM_FIGURE_LAB)
        return false;
    const double *lab = place(zone, figure);
    if (!isfinite(lab[0]) || !isfinite(lab[1]) || !isfinite(lab[2]))
        return false;
    memcpy(out, lab, 3 * sizeof out[0]);
    return true;
}

const char *tdm_zone_word(const tdm_zone_reading *zone, const tdm_figure *figure)
{
    return figure->kind == TDM_FIGURE_WORD ? *(const char *const *)place(zone, figure) : NULL;
}

const tdm_profile_point *tdm_zone_profile(const tdm_zone_reading *zone, const tdm_figure *figure,
                                          size_t *count)
{
    if (figure->kind != TDM_FIGURE_PROFILE)
        return NULL;
    const tdm_profile *profile = place(zone, figure);
    *count = profile->count;
    return profile->points;
}

const tdm_visibility *tdm_zone_visibility(const tdm_zone_reading *zone, const tdm_figure *figure,
                                          size_t *count)
{
    if (figure->kind != TDM_FIGURE_VISIBILITY)
        return NULL;
    *count = TDM_DISTANCES;
    return place(zone, figure);
}

const tdm_place *tdm_zone_places(const tdm_zone_reading *zone, const tdm_figure *figure, size_t *count)
{
    if (figure->kind != TDM_FIGURE_PLACES)
        return NULL;
    const tdm_places *places = place(zone, figure);
    *count = places->count;
    return places->items;
}
