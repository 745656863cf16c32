/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compare/course.h"

#include <math.h>
#include <string.h>

const tdm_course_words tdm_course_table[] = {
    [TDM_COURSE_UNKNOWN] = {"the first photograph can't tell how the colour ran", NULL,
                            "the second photograph can't tell how it runs now", NULL, NULL},
    [TDM_COURSE_EVEN] = {"the colour was even from root to ends", "the colour was even from root to ends",
                         "the colour is now even from root to ends",
                         "the colour is even from root to ends, as before", NULL},
    [TDM_COURSE_RAMP] = {"the colour changed steadily from root to ends",
                         "the colour changed steadily from root to ends",
                         "the colour now changes steadily from root to ends, without a line",
                         "the colour changes steadily from root to ends, as before, without a line", NULL},
    [TDM_COURSE_BLEND] = {"the colour changed$A$O, without a line that shows",
                          "the colour changed$A$O, without a line that shows",
                          "the colour now changes$A$O, without a line that shows", NULL,
                          "the width of the change of colour"},
    [TDM_COURSE_LINE] = {"the $Gline$C$V has gone", "there was a $Gline$C$W", "there is now a $Gline$C$W",
                         NULL, "the width of the line"},
    [TDM_COURSE_BAND] = {"the band of another colour$B has gone", "there was a band of another colour$B",
                         "there is now a band of another colour$B", NULL, "the width of that side"},
};

static const char *word_at(const tdm_zone_reading *zone, const char *path)
{
    return tdm_zone_word(zone, tdm_figure_find(path));
}

static double number_at(const tdm_zone_reading *zone, const char *path)
{
    tdm_value found;
    return tdm_zone_value(zone, tdm_figure_find(path), &found) ? found.value : (double)NAN;
}

static tdm_course_kind kind_of(const char *shape, const char *grade)
{
    static const struct {
        const char *shape;
        tdm_course_kind kind;
    } kinds[] = {{"uniform", TDM_COURSE_EVEN},
                 {"ramp", TDM_COURSE_RAMP},
                 {"transition", TDM_COURSE_LINE},
                 {"band", TDM_COURSE_BAND}};
    for (size_t i = 0; shape && i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strcmp(shape, kinds[i].shape) == 0)
            return kinds[i].kind == TDM_COURSE_LINE && grade && strcmp(grade, "none") == 0 ? TDM_COURSE_BLEND
                                                                                           : kinds[i].kind;
    }
    return TDM_COURSE_UNKNOWN;
}

tdm_course tdm_course_of(const tdm_zone_reading *zone, bool in_mm)
{
    const char *grade = word_at(zone, "demarcation.grade");
    return (tdm_course){
        .kind = kind_of(word_at(zone, "gradient.shape"), grade),
        /* Of a line that isn't there nothing is said; the side of a band may be too gentle to show. */
        .grade = grade && strcmp(grade, "none") == 0 ? "not showing" : grade,
        .centre = number_at(zone, in_mm ? "gradient.centre_mm" : "gradient.centre_share"),
        .width = number_at(zone, in_mm ? "gradient.width_mm" : "gradient.width_share"),
        .in_mm = in_mm,
    };
}

bool tdm_lacks_mm(const tdm_zone_reading *zone)
{
    return isnan(number_at(zone, "gradient.centre_mm")) && !isnan(number_at(zone, "gradient.centre_share"));
}

void tdm_add_length(tdm_text *text, const tdm_course *it, double length)
{
    tdm_text_number(text, it->in_mm ? length : 100 * length, it->digits, "");
    tdm_text_add(text, it->in_mm ? " mm" : " % of the length");
}

void tdm_add_phrase(tdm_text *text, const char *lead, const tdm_course *it, double length, const char *tail)
{
    if (isnan(length))
        return;
    tdm_text_add(text, lead);
    tdm_add_length(text, it, length);
    tdm_text_add(text, tail);
}

void tdm_course_expand(tdm_text *text, const char *template, const tdm_course *it)
{
    for (; *template; template ++) {
        if (*template != '$') {
            tdm_text_add_bytes(text, template, 1);
            continue;
        }
        switch (*++template) {
        case 'G':
            tdm_text_add(text, it->grade ? it->grade : "");
            tdm_text_add(text, it->grade ? " " : "");
            break;
        case 'C':
            tdm_add_phrase(text, " at ", it, it->centre, "");
            break;
        case 'A':
            tdm_add_phrase(text, " around ", it, it->centre, "");
            break;
        case 'B':
            tdm_add_phrase(text, " from ", it, it->centre, " on");
            break;
        case 'W':
            tdm_add_phrase(text, ", ", it, it->width, " wide");
            break;
        case 'V':
            tdm_add_phrase(text, ", ", it, it->width, " wide,");
            break;
        default:
            tdm_add_phrase(text, " over ", it, it->width, "");
            break;
        }
    }
}
