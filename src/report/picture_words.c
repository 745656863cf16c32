/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/picture_words.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "report/overlay_words.h"

static const double ink = 0.1, tick_mm = 10, number_mm = 20;
static const double line_of = 1.7, weight_of = 0.13; /* a paragraph's lines and strokes, to its letters */

/* Small letters are all that there are strokes for. */
static void lower(const char *text, char *out, size_t room)
{
    size_t i = 0;
    for (; text[i] && i + 1 < room; i++)
        out[i] = (char)(text[i] >= 'A' && text[i] <= 'Z' ? text[i] + ('a' - 'A') : text[i]);
    out[i] = 0;
}

double tdm_picture_write(cairo_t *cairo, const char *text, double x, double y, double height, double weight)
{
    char letters[512];
    lower(text, letters, sizeof letters);
    cairo_set_source_rgb(cairo, ink, ink, ink);
    cairo_set_line_width(cairo, weight);
    tdm_words_path(cairo, letters, x, y, height);
    cairo_stroke(cairo);
    return tdm_words_width(letters, height);
}

double tdm_picture_paragraph(cairo_t *cairo, const char *words, double left, double top, double width,
                             double height)
{
    char line[512] = "", longer[512];
    double y = top;
    for (const char *at = words; *at;) {
        const size_t bytes = strcspn(at, " ");
        (void)snprintf(longer, sizeof longer, "%.400s%s%.*s", line, line[0] ? " " : "",
                       (int)(bytes < 100 ? bytes : 100), at);
        if (line[0] && tdm_words_width(longer, height) > width) {
            if (cairo)
                (void)tdm_picture_write(cairo, line, left, y, height, weight_of * height);
            y += line_of * height;
            (void)snprintf(line, sizeof line, "%.*s", (int)(bytes < 100 ? bytes : 100), at);
        } else {
            memcpy(line, longer, sizeof line);
        }
        at += bytes + (at[bytes] == ' ');
    }
    if (cairo)
        (void)tdm_picture_write(cairo, line, left, y, height, weight_of * height);
    return y + line_of * height - top;
}

/* Whether every letter of a name has its stroke; a blank doesn't tell one zone from another. */
static bool all_drawn(const char *name)
{
    for (; *name; name++) {
        if (!strchr("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789.:;'-()%, ", *name))
            return false;
    }
    return true;
}

void tdm_picture_name(tdm_text *text, const char *name, size_t number)
{
    if (!all_drawn(name))
        tdm_text_format(text, "zone %zu  ", number);
    tdm_text_add(text, name);
}

void tdm_picture_ruler(cairo_t *cairo, double x, double y, double per_mm, double root, double length)
{
    for (double mm = ceil(root / tick_mm) * tick_mm; mm <= root + length; mm += tick_mm) {
        const double at = round(y + (mm - root) * per_mm) + 0.5;
        const bool named = fmod(mm, number_mm) == 0;
        char text[16];
        cairo_move_to(cairo, x - (named ? 10 : 5), at);
        cairo_line_to(cairo, x, at);
        cairo_set_source_rgb(cairo, ink, ink, ink);
        cairo_set_line_width(cairo, 1);
        cairo_stroke(cairo);
        (void)snprintf(text, sizeof text, "%.0f", mm);
        if (named)
            (void)tdm_picture_write(cairo, text, x - 14 - tdm_words_width(text, 9), at - 4.5, 9, 1.3);
    }
}
