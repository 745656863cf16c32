/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the line, or the course of colour from root to ends, was and is. */
#include <math.h>
#include <string.h>

#include "compare/course.h"
#include "compare/meaning.h"

/* The kind of course differs, or isn't known on one side. */
static void other_course(tdm_text *text, const tdm_course *before, const tdm_course *after)
{
    const tdm_course_words *was = &tdm_course_table[before->kind];
    tdm_course_expand(text, after->kind == TDM_COURSE_UNKNOWN ? was->was : was->gone, before);
    tdm_text_add(text, "; ");
    tdm_course_expand(text, tdm_course_table[after->kind].now, after);
}

static void grade_and_width(tdm_text *text, const tdm_course *it, bool width)
{
    tdm_text_add(text, it->grade);
    if (width)
        tdm_add_phrase(text, ", ", it, it->width, " wide");
}

/* "has gone from hard, 5 mm wide, to soft, 41 mm wide" */
static void changed_grade(tdm_text *text, const tdm_course *before, const tdm_course *after, bool width)
{
    tdm_text_add(text, " has gone from ");
    grade_and_width(text, before, width);
    tdm_text_add(text, width ? ", to " : " to ");
    grade_and_width(text, after, width);
}

static void changed_width(tdm_text *text, const tdm_course *before, const tdm_course *after)
{
    tdm_text_add(text, after->width > before->width ? " wider: " : " narrower: ");
    tdm_add_length(text, after, after->width);
    tdm_text_add(text, " instead of ");
    tdm_add_length(text, before, before->width);
}

static bool has_changed(tdm_verdict verdict)
{
    return verdict == TDM_VERDICT_UP || verdict == TDM_VERDICT_DOWN;
}

/* A line before and after. `width` says whether its width has changed. */
static void line_and_line(tdm_text *text, const tdm_course *before, const tdm_course *after,
                          tdm_verdict width)
{
    const bool changed = has_changed(width);
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
            tdm_add_phrase(text, ", ", after, after->width, " wide");
    } else {
        tdm_text_add(text, " is still there");
    }
}

/* A blend without a line before and after. */
static void blend_and_blend(tdm_text *text, const tdm_course *before, const tdm_course *after,
                            tdm_verdict width)
{
    tdm_text_add(text, " is still without a line that shows");
    if (!has_changed(width))
        return;
    tdm_text_add(text, " and");
    changed_width(text, before, after);
}

/* The same kind before and after, with a place: "the line at 34 mm", "the line has moved from … to … and". */
static void same_place(tdm_text *text, const char *noun, const tdm_course *before, const tdm_course *after,
                       tdm_verdict centre)
{
    tdm_text_add(text, noun);
    if (!has_changed(centre)) {
        tdm_add_phrase(text, " at ", before, before->centre, "");
        return;
    }
    tdm_text_add(text, " has moved from ");
    tdm_add_length(text, before, before->centre);
    tdm_text_add(text, " to ");
    tdm_add_length(text, after, after->centre);
    tdm_text_add(text, " and");
}

static void same_course(tdm_text *text, const tdm_course *before, const tdm_course *after, tdm_verdict centre,
                        tdm_verdict width)
{
    if (before->kind == TDM_COURSE_LINE) {
        same_place(text, "the line", before, after, centre);
        line_and_line(text, before, after, width);
    } else if (before->kind == TDM_COURSE_BAND) {
        same_place(text, "the side of the band nearer the root", before, after, centre);
        line_and_line(text, before, after, width);
    } else if (before->kind == TDM_COURSE_BLEND) {
        same_place(text, "the change of colour", before, after, centre);
        blend_and_blend(text, before, after, width);
    } else {
        tdm_course_expand(text, tdm_course_table[before->kind].still, before);
    }
}

/* One decimal more where whole units could print two changed lengths alike. */
static int digits_for(const tdm_course *before, const tdm_course *after, tdm_verdict centre,
                      tdm_verdict width)
{
    const double unit = before->in_mm ? 1 : 0.01;
    const bool close = (has_changed(centre) && fabs(before->centre - after->centre) < unit) ||
                       (has_changed(width) && fabs(before->width - after->width) < unit);
    return close ? 1 : 0;
}

void tdm_line_words(tdm_text *text, const tdm_zone_change *change, tdm_unchanged *unchanged)
{
    const bool in_mm = !tdm_lacks_mm(change->before) && !tdm_lacks_mm(change->after);
    const tdm_verdict centre = tdm_verdict_of(change, in_mm ? "gradient.centre_mm" : "gradient.centre_share");
    const tdm_verdict width = tdm_verdict_of(change, in_mm ? "gradient.width_mm" : "gradient.width_share");
    tdm_course before = tdm_course_of(change->before, in_mm);
    tdm_course after = tdm_course_of(change->after, in_mm);
    if (before.kind == TDM_COURSE_UNKNOWN && after.kind == TDM_COURSE_UNKNOWN)
        return;
    if (before.kind != after.kind) {
        other_course(text, &before, &after);
        return;
    }
    before.digits = after.digits = digits_for(&before, &after, centre, width);
    same_course(text, &before, &after, centre, width);
    if (width == TDM_VERDICT_SAME && tdm_course_table[before.kind].width)
        unchanged->items[unchanged->count++] = tdm_course_table[before.kind].width;
}
