/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A target's reading for a person at a terminal: how well it was found, what the correction is worth. */
#include <math.h>
#include <string.h>

#include "report/grid.h"
#include "report/page.h"
#include "report/target_grid.h"
#include "report/warning_list.h"

/* Mean CIEDE2000 of patches that the fit didn't see: choices. A difference of 2 is noticed by the trained eye
 * (Mokrzycki and Tatol 2011), and levels of dark hair lie about 3 apart. */
static const double good_below = 2, usable_below = 4;

static const double surest = 99; /* %: a search is never sure beyond that */

static void add_place(tdm_text *text, const tdm_target_facts *facts)
{
    tdm_text_format(text, "24-patch target %s, %s",
                    strcmp(facts->how, "found") == 0 ? "found in the photograph" : "where it is marked",
                    facts->way);
    if (fabs(facts->turn_deg) >= 0.5) {
        tdm_text_add(text, " (turned ");
        tdm_text_number(text, fabs(facts->turn_deg), 0, "");
        tdm_text_format(text, " degree%s %s)", fabs(facts->turn_deg) < 1.5 ? "" : "s",
                        facts->turn_deg > 0 ? "clockwise" : "anticlockwise");
    }
    if (facts->mirrored)
        tdm_text_add(text, ", mirrored: is this a picture of a mirror?");
    if (isfinite(facts->confidence)) {
        tdm_text_add(text, "; sure to ");
        tdm_text_number(text, fmin(100 * facts->confidence, surest), 0, "");
        tdm_text_add(text, " %");
    }
}

static void add_row(tdm_grid *grid, const char *label, double mean, double worst)
{
    tdm_grid_row *row = tdm_grid_add(grid);
    if (!row)
        return;
    tdm_text_add(&row->label, label);
    tdm_text_number(&row->cells[0], mean, 1, "-");
    tdm_text_number(&row->cells[1], worst, 1, "-");
}

static void put_errors(tdm_page *page, const tdm_target_facts *facts)
{
    tdm_grid grid = {.cells = 2};
    tdm_grid_row *head = tdm_grid_add(&grid);
    if (head) {
        tdm_text_add(&head->label, "error, dE00");
        tdm_text_add(&head->cells[0], "mean");
        tdm_text_add(&head->cells[1], "worst");
    }
    add_row(&grid, "before the correction", facts->before_mean, facts->before_max);
    add_row(&grid, "after it", facts->residual_mean, facts->residual_max);
    add_row(&grid, "each patch by a fit without it", facts->left_out_mean, NAN);
    add_row(&grid, "the same, near hair colours", facts->hair_mean, NAN);
    tdm_grid_print(&grid, page);
}

static const char *advice(double left_out)
{
    if (isnan(left_out))
        return "How good it is can't be told: no patch could be left out of the fit.";
    if (left_out < good_below)
        return "Good: below 2 for a patch that the fit hasn't seen. Use it for the photographs of this "
               "light.";
    if (left_out <= usable_below)
        return "Usable: from 2 to 4 for a patch that the fit hasn't seen. More even light, no gloss on the "
               "target and a larger target in the picture make it better.";
    return "Retake: above 4 for a patch that the fit hasn't seen. Check that the light is one kind of light "
           "and even, that nothing shades or shines on the target, that it is clean and in focus, and that "
           "the camera adds no filter.";
}

static void put_correction(tdm_page *page, const tdm_target_facts *facts)
{
    tdm_text text = {0};
    tdm_page_line(page);
    tdm_page_rule(page, "correction");
    tdm_page_bold(page);
    tdm_page_wrap(page, "  ", 2, advice(facts->left_out_mean));
    tdm_page_plain(page);
    tdm_page_line(page);
    put_errors(page, facts);
    tdm_page_line(page);
    tdm_text_add(&text, "It leaves ");
    tdm_text_add(&text, page->style.unicode ? "\u00B1" : "+-");
    tdm_text_number(&text, facts->u_lstar, 1, "-");
    tdm_text_format(&text, " in L* of hair. Reference: %s.", facts->reference);
    tdm_page_put(page, &text, "  ", 2);
}

static const char *why(const char *state)
{
    static const struct {
        const char *state, *words;
    } reasons[] = {
        {"clipped", "a channel at its top: less exposure"},
        {"crushed", "a channel at its bottom: too dark, or too pure for the photograph's colour space"},
        {"odd", "far from what the other patches predict: dirty, glossy or shaded"}};
    for (size_t i = 0; i < sizeof reasons / sizeof reasons[0]; i++) {
        if (strcmp(state, reasons[i].state) == 0)
            return reasons[i].words;
    }
    return NULL;
}

static void put_left_out(tdm_page *page, const tdm_target_reading *target)
{
    for (size_t i = 0; i < TDM_TARGET_PATCHES; i++) {
        tdm_target_patch patch;
        tdm_text text = {0};
        tdm_target_patch_at(target, i, &patch);
        const char *reason = why(patch.state);
        if (!reason)
            continue;
        tdm_text_format(&text, "Left out: %zu %s, %s", i + 1, patch.name, reason);
        tdm_page_put(page, &text, "  ", 4);
    }
}

static void put_patches(tdm_page *page, const tdm_target_reading *target)
{
    tdm_page_line(page);
    tdm_page_rule(page, "patches");
    tdm_page_wrap(
        page, "  ", 2,
        page->style.truecolour
            ? "as they lie in the target, numbered as in --overlay; left half the reference, right "
              "half as read after the correction; below it each patch's error by a fit without it, "
              "dE00 (x: left out of the fit)"
            : "as they lie in the target, numbered as in --overlay, with each patch's error by a fit "
              "without it, dE00 (x: left out of the fit)");
    tdm_page_patches(page, target);
    put_left_out(page, target);
}

tdm_code tdm_target_text(const tdm_target_reading *target, const tdm_text_style *style, char **out,
                         tdm_error *error)
{
    tdm_page page = tdm_page_start(style);
    tdm_warning_source source = {.label = ""};
    tdm_photo_facts photo;
    tdm_target_facts facts;
    tdm_text text = {0};
    source.warnings = tdm_target_warnings(target, &source.count);
    tdm_target_photo(target, &photo);
    tdm_target_about(target, &facts);
    tdm_add_photo(&text, &photo);
    tdm_page_put(&page, &text, "", 2);
    add_place(&text, &facts);
    tdm_page_put(&page, &text, "  ", 2);
    put_correction(&page, &facts);
    put_patches(&page, target);
    tdm_page_warnings(&page, &source, 1);
    return tdm_page_finish(&page, out, error);
}
