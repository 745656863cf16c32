/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The same on the photograph itself. */
#include <math.h>

#include "report/strand_map_parts.h"

static const double margin = 24;

static void mark_photo(cairo_t *cairo, const tdm_strand_view *view)
{
    for (size_t i = 0; i < view->count; i++) {
        tdm_strand_place at = tdm_strand_place_of(view, &view->pieces[i], cairo);
        at.on_photo = true;
        at.left = view->photo.left;
        at.top = view->photo.top;
        at.scale = view->photo.scale;
        tdm_strand_tint(&at);
        tdm_strand_hatch(&at);
        tdm_strand_ribbons(&at);
        tdm_strand_border(&at);
    }
}

static void put_photo(cairo_t *cairo, const tdm_strand_view *view, double left, double top)
{
    const double width = cairo_image_surface_get_width(view->photo.surface);
    const double height = cairo_image_surface_get_height(view->photo.surface);
    cairo_save(cairo);
    cairo_translate(cairo, left, top);
    cairo_rectangle(cairo, 0, 0, width, height);
    cairo_clip(cairo);
    cairo_set_source_surface(cairo, view->photo.surface, 0, 0);
    cairo_paint(cairo);
    mark_photo(cairo, view);
    cairo_restore(cairo);
}

double tdm_strand_photos(cairo_t *cairo, const tdm_strand_page *page, double top, double *width)
{
    double left = margin, height = 0;
    for (size_t i = 0; i < page->view_count; i++) {
        const tdm_strand_view *view = page->views[i];
        if (!view->photo.surface)
            continue;
        if (cairo)
            put_photo(cairo, view, left, top);
        left += cairo_image_surface_get_width(view->photo.surface) + margin;
        height = fmax(height, cairo_image_surface_get_height(view->photo.surface));
    }
    *width = left;
    return height;
}
