/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "report/overlay.h"
#include "report/overlay_words.h"
#include "report/page.h"

/* Opaque lines of one colour on a dark edge are seen on every patch. */
static const double line_colour[3] = {1, 1, 1}, edge_colour[3] = {0, 0, 0};
static const double outer_colour[3] = {1, 1, 0}, out_colour[3] = {1, 0, 0};
static const double line_width = 2, edge_width = 4;
static const double smallest_text = 6; /* px: below it isn't read */

typedef struct pen {
    const tdm_overlay *overlay;
    cairo_t *cairo;
} pen;

static void to_picture(const pen *it, const double at[2], double out[2])
{
    out[0] = (at[0] - it->overlay->left) * it->overlay->scale;
    out[1] = (at[1] - it->overlay->top) * it->overlay->scale;
}

static void colour(const pen *it, const double rgb[3])
{
    cairo_set_source_rgb(it->cairo, rgb[0], rgb[1], rgb[2]);
}

/* Strokes the path twice, and drops it. */
static void stroke(const pen *it, const double rgb[3])
{
    colour(it, edge_colour);
    cairo_set_line_width(it->cairo, edge_width);
    cairo_stroke_preserve(it->cairo);
    colour(it, rgb);
    cairo_set_line_width(it->cairo, line_width);
    cairo_stroke(it->cairo);
}

static void corner(const pen *it, const double quad[8], size_t index, double out[2])
{
    to_picture(it, quad + 2 * index, out);
}

static void quad_path(const pen *it, const double quad[8])
{
    for (size_t i = 0; i < 4; i++) {
        double at[2];
        corner(it, quad, i, at);
        cairo_line_to(it->cairo, at[0], at[1]);
    }
    cairo_close_path(it->cairo);
}

static void cross_path(const pen *it, const double quad[8])
{
    for (size_t i = 0; i < 2; i++) {
        double from[2], to[2];
        corner(it, quad, i, from);
        corner(it, quad, i + 2, to);
        cairo_move_to(it->cairo, from[0], from[1]);
        cairo_line_to(it->cairo, to[0], to[1]);
    }
}

static void middle_of(const pen *it, const double quad[8], double out[2])
{
    double sum[2] = {0, 0};
    for (size_t i = 0; i < 8; i++)
        sum[i % 2] += quad[i] / 4;
    to_picture(it, sum, out);
}

/* Half of the shortest way from the middle to a side: the room for something in it. */
static double half_side(const pen *it, const double quad[8])
{
    double middle[2], least = INFINITY;
    middle_of(it, quad, middle);
    for (size_t i = 0; i < 4; i++) {
        double a[2], b[2];
        corner(it, quad, i, a);
        corner(it, quad, (i + 1) % 4, b);
        const double length = hypot(b[0] - a[0], b[1] - a[1]);
        const double area = fabs((b[0] - a[0]) * (middle[1] - a[1]) - (b[1] - a[1]) * (middle[0] - a[0]));
        least = fmin(least, length > 0 ? area / length : 0);
    }
    return least;
}

/* No edge around it: where the colours agree it can't be seen. */
static void reference_square(const pen *it, const double quad[8], const double lab[3])
{
    double middle[2];
    unsigned rgb[3];
    const double half = floor(half_side(it, quad) / 2);
    middle_of(it, quad, middle);
    tdm_lab_to_srgb8(lab, rgb);
    cairo_set_source_rgb(it->cairo, rgb[0] / 255.0, rgb[1] / 255.0, rgb[2] / 255.0);
    cairo_rectangle(it->cairo, round(middle[0]) - half, round(middle[1]) - half, 2 * half, 2 * half);
    cairo_fill(it->cairo);
}

/* Centred, held inside the picture. */
static void words(const pen *it, const char *text, const double at[2], double height, const double rgb[3])
{
    const double width = tdm_words_width(text, height), margin = edge_width;
    const double right = cairo_image_surface_get_width(it->overlay->surface) - margin - width;
    const double bottom = cairo_image_surface_get_height(it->overlay->surface) - margin - 1.25 * height;
    if (height < smallest_text)
        return;
    tdm_words_path(it->cairo, text, fmax(margin, fmin(at[0] - width / 2, right)),
                   fmax(margin, fmin(at[1] - height / 2, bottom)), height);
    stroke(it, rgb);
}

/* On the way out from the sampled area's first corner to the patch's: half of the side is sampled. */
static void number(const pen *it, const double quad[8], size_t index)
{
    char text[16];
    double middle[2], first[2], at[2];
    middle_of(it, quad, middle);
    corner(it, quad, 0, first);
    for (size_t k = 0; k < 2; k++)
        at[k] = middle[k] + 1.5 * (first[k] - middle[k]);
    (void)snprintf(text, sizeof text, "%zu", index + 1);
    words(it, text, at, fmin(0.5 * half_side(it, quad), 13), line_colour);
}

static void patch(const pen *it, const tdm_target_reading *target, size_t index)
{
    const tdm_patch_result *result = &target->results[index];
    const bool kept = result->state == TDM_PATCH_KEPT;
    if (kept)
        reference_square(it, result->outline, target->reference.lab[index]);
    quad_path(it, result->outline);
    stroke(it, kept ? line_colour : out_colour);
    if (!kept) {
        cross_path(it, result->outline);
        stroke(it, out_colour);
    }
    number(it, result->outline, index);
}

/* The dot at the dark skin patch, and which way round the target is taken to lie. */
static void way_round(const pen *it, const tdm_target_reading *target)
{
    tdm_target_facts facts;
    char text[64];
    double dot[2], middle[2], at[2];
    tdm_target_about(target, &facts);
    corner(it, facts.corners, 0, dot);
    middle_of(it, facts.corners, middle);
    cairo_arc(it->cairo, dot[0], dot[1], 7, 0, 8 * atan(1));
    colour(it, outer_colour);
    cairo_fill_preserve(it->cairo);
    colour(it, edge_colour);
    cairo_set_line_width(it->cairo, 2);
    cairo_stroke(it->cairo);
    const double away = hypot(dot[0] - middle[0], dot[1] - middle[1]);
    for (size_t k = 0; k < 2; k++)
        at[k] = dot[k] + (away > 0 ? 26 * (dot[k] - middle[k]) / away : 0);
    (void)snprintf(text, sizeof text, "%s%s", facts.way, facts.mirrored ? ", mirrored" : "");
    words(it, text, at, 16, outer_colour);
}

cairo_status_t tdm_overlay_draw(const tdm_target_reading *target, const tdm_overlay *overlay)
{
    const pen it = {.overlay = overlay, .cairo = cairo_create(overlay->surface)};
    cairo_set_line_join(it.cairo, CAIRO_LINE_JOIN_ROUND);
    cairo_set_line_cap(it.cairo, CAIRO_LINE_CAP_ROUND);
    quad_path(&it, target->found.corners);
    stroke(&it, outer_colour);
    for (size_t i = 0; i < TDM_PATCHES; i++)
        patch(&it, target, i);
    way_round(&it, target);
    const cairo_status_t status = cairo_status(it.cairo);
    cairo_destroy(it.cairo);
    return status;
}
