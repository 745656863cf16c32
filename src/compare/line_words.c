/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the line, or the course of colour from root to ends, was and is. */
#include <math.h>
#include <string.h>

#include "compare/meaning.h"

typedef enum course_kind {
    COURSE_UNKNOWN,
    COURSE_EVEN,
    COURSE_RAMP,
    COURSE_BLEND,
    COURSE_LINE,
    COURSE_BAND
} course_kind;

/* Everything the words need of one side. */
typedef struct course {
    course_kind kind;
    const char *grade; /* of a line that shows, or NULL */
    double centre;     /* NaN where null; mm, or share of the length */
    double width;
    bool in_mm;
    int digits; /* of lengths in mm */
} course;

/* Templates: $G "hard " or "", $C " at 34 mm" or "", $A " around 34 mm" or "", $B " from 34 mm on" or "", $W
 * ", 5 mm wide" or "", $O " over 41 mm" or "". */
typedef struct course_words {
    const char *gone;  /* begins the sentence: another course has taken its place */
    const char *was;   /* begins the sentence: what became of it is unknown */
    const char *now;   /* goes on after a semicolon */
    const char *still; /* the whole part, where the kind is the same before and after */
} course_words;

static const course_words words[] = {
    [COURSE_UNKNOWN] = {"the first photograph can't tell how the colour ran", NULL,
                        "the second photograph can't tell how it runs now", NULL},
    [COURSE_EVEN] = {"the colour was even from root to ends", "the colour was even from root to ends",
                     "the colour is now even from root to ends",
                     "the colour is even from root to ends, as before"},
    [COURSE_RAMP] = {"the colour changed steadily from root to ends",
                     "the colour changed steadily from root to ends",
                     "the colour now changes steadily from root to ends, without a line",
                     "the colour changes steadily from root to ends, as before, without a line"},
    [COURSE_BLEND] = {"the colour changed$A$O, without a line that shows",
                      "the colour changed$A$O, without a line that shows",
                      "the colour now changes$A$O, without a line that shows", NULL},
    [COURSE_LINE] = {"the $Gline$C$W has gone", "there was a $Gline$C$W", "there is now a $Gline$C$W", NULL},
    [COURSE_BAND] = {"the band of another colour$B has gone", "there was a band of another colour$B",
                     "there is now a band of another colour$B", NULL},
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

static course_kind kind_of(const char *shape, const char *grade)
{
    static const struct {
        const char *shape;
        course_kind kind;
    } kinds[] = {
        {"uniform", COURSE_EVEN}, {"ramp", COURSE_RAMP}, {"transition", COURSE_LINE}, {"band", COURSE_BAND}};
    for (size_t i = 0; shape && i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strcmp(shape, kinds[i].shape) == 0)
            return kinds[i].kind == COURSE_LINE && grade && strcmp(grade, "none") == 0 ? COURSE_BLEND
                                                                                       : kinds[i].kind;
    }
    return COURSE_UNKNOWN;
}

static course course_of(const tdm_zone_reading *zone, bool in_mm)
{
    const char *grade = word_at(zone, "demarcation.grade");
    return (course){
        .kind = kind_of(word_at(zone, "gradient.shape"), grade),
        /* Of a line that isn't there nothing is said; the side of a band may be too gentle to show. */
        .grade = grade && strcmp(grade, "none") == 0 ? "not showing" : grade,
        .centre = number_at(zone, in_mm ? "gradient.centre_mm" : "gradient.centre_share"),
        .width = number_at(zone, in_mm ? "gradient.width_mm" : "gradient.width_share"),
        .in_mm = in_mm,
    };
}

/* A side that has the share but not the millimetres would have to be compared in shares. */
static bool lacks_mm(const tdm_zone_reading *zone)
{
    return isnan(number_at(zone, "gradient.centre_mm")) && !isnan(number_at(zone, "gradient.centre_share"));
}

static void add_length(tdm_text *text, const course *it, double length)
{
    tdm_text_number(text, it->in_mm ? length : 100 * length, it->digits, "");
    tdm_text_add(text, it->in_mm ? " mm" : " % of the length");
}

/* An optional phrase: nothing at all where the length is null. */
static void add_phrase(tdm_text *text, const char *lead, const course *it, double length, const char *tail)
{
    if (isnan(length))
        return;
    tdm_text_add(text, lead);
    add_length(text, it, length);
    tdm_text_add(text, tail);
}

static void expand(tdm_text *text, const char *template, const course *it)
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
            add_phrase(text, " at ", it, it->centre, "");
            break;
        case 'A':
            add_phrase(text, " around ", it, it->centre, "");
            break;
        case 'B':
            add_phrase(text, " from ", it, it->centre, " on");
            break;
        case 'W':
            add_phrase(text, ", ", it, it->width, " wide");
            break;
        default:
            add_phrase(text, " over ", it, it->width, "");
            break;
        }
    }
}

/* The kind of course differs, or isn't known on one side. */
static void other_course(tdm_text *text, const course *before, const course *after)
{
    const course_words *was = &words[before->kind];
    expand(text, after->kind == COURSE_UNKNOWN ? was->was : was->gone, before);
    tdm_text_add(text, "; ");
    expand(text, words[after->kind].now, after);
}

static void grade_and_width(tdm_text *text, const course *it, bool width)
{
    tdm_text_add(text, it->grade);
    if (width)
        add_phrase(text, ", ", it, it->width, " wide");
}

/* "has gone from hard, 5 mm wide, to soft, 41 mm wide" */
static void changed_grade(tdm_text *text, const course *before, const course *after, bool width)
{
    tdm_text_add(text, " has gone from ");
    grade_and_width(text, before, width);
    tdm_text_add(text, width ? ", to " : " to ");
    grade_and_width(text, after, width);
}

static void changed_width(tdm_text *text, const course *before, const course *after)
{
    tdm_text_add(text, after->width > before->width ? " wider: " : " narrower: ");
    add_length(text, after, after->width);
    tdm_text_add(text, " instead of ");
    add_length(text, before, before->width);
}

/* A line before and after. `width` says whether its width has changed. */
static void line_and_line(tdm_text *text, const course *before, const course *after, tdm_verdict width)
{
    const bool changed = width == TDM_VERDICT_UP || width == TDM_VERDICT_DOWN;
    const bool graded = before->grade && after->grade;
    if (graded && strcmp(before->grade, after->grade) != 0) {
        changed_grade(text, before, after, changed);
    } else if (changed) {
        tdm_text_add(text, " is ");
        if (graded)
            tdm_text_format(text, "still %s but", before->grade);
        else
            tdm_text_add(text, "now");
        changed_width(text, before, after);
    } else if (graded) {
        tdm_text_format(text, " is still %s", before->grade);
        if (width == TDM_VERDICT_SAME)
            add_phrase(text, ", ", after, after->width, " wide");
    } else {
        tdm_text_add(text, " is still there");
    }
}

/* A blend without a line before and after. */
static void blend_and_blend(tdm_text *text, const course *before, const course *after, tdm_verdict width)
{
    tdm_text_add(text, " is still without a line that shows");
    if (width != TDM_VERDICT_UP && width != TDM_VERDICT_DOWN)
        return;
    tdm_text_add(text, " and");
    changed_width(text, before, after);
}

/* The same kind before and after, with a place: "the line at 34 mm", "the line has moved from … to … and". */
static void same_place(tdm_text *text, const char *noun, const course *before, const course *after,
                       tdm_verdict centre)
{
    tdm_text_add(text, noun);
    if (centre != TDM_VERDICT_UP && centre != TDM_VERDICT_DOWN) {
        add_phrase(text, " at ", before, before->centre, "");
        return;
    }
    tdm_text_add(text, " has moved from ");
    add_length(text, before, before->centre);
    tdm_text_add(text, " to ");
    add_length(text, after, after->centre);
    tdm_text_add(text, " and");
}

static void same_course(tdm_text *text, const course *before, const course *after, tdm_verdict centre,
                        tdm_verdict width)
{
    if (before->kind == COURSE_LINE) {
        same_place(text, "the line", before, after, centre);
        line_and_line(text, before, after, width);
    } else if (before->kind == COURSE_BAND) {
        same_place(text, "the side of the band nearer the root", before, after, centre);
        line_and_line(text, before, after, width);
    } else if (before->kind == COURSE_BLEND) {
        same_place(text, "the change of colour", before, after, centre);
        blend_and_blend(text, before, after, width);
    } else {
        expand(text, words[before->kind].still, before);
    }
}

/* One decimal more where whole units would print two changed lengths alike. */
static int digits_for(const course *before, const course *after)
{
    const double unit = before->in_mm ? 1 : 0.01;
    const bool close =
        fabs(before->centre - after->centre) < unit || fabs(before->width - after->width) < unit;
    return close ? 1 : 0;
}

void tdm_line_words(tdm_text *text, const tdm_zone_change *change, tdm_unchanged *unchanged)
{
    const bool in_mm = !lacks_mm(change->before) && !lacks_mm(change->after);
    const tdm_verdict centre = tdm_verdict_of(change, in_mm ? "gradient.centre_mm" : "gradient.centre_share");
    const tdm_verdict width = tdm_verdict_of(change, in_mm ? "gradient.width_mm" : "gradient.width_share");
    course before = course_of(change->before, in_mm);
    course after = course_of(change->after, in_mm);
    if (before.kind == COURSE_UNKNOWN && after.kind == COURSE_UNKNOWN)
        return;
    if (before.kind != after.kind) {
        other_course(text, &before, &after);
        return;
    }
    before.digits = after.digits = digits_for(&before, &after);
    same_course(text, &before, &after, centre, width);
    const bool placed = before.kind != COURSE_EVEN && before.kind != COURSE_RAMP;
    if (width == TDM_VERDICT_SAME && placed)
        unchanged->items[unchanged->count++] = "its width";
}
