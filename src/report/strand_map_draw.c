/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture of strands, put together. */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "report/picture.h"
#include "report/picture_words.h"
#include "report/strand_map_parts.h"

static const double margin = 24, paper = 0.93, least_foot = 600;

static cairo_surface_t *surface_of(const tdm_strand_piece *piece, uint32_t *pixels)
{
    return cairo_image_surface_create_for_data((unsigned char *)(void *)pixels, CAIRO_FORMAT_ARGB32,
                                               (int)piece->cols, (int)piece->rows, 4 * (int)piece->cols);
}

static uint32_t *in_grey(const tdm_strand_piece *piece)
{
    const size_t cells = piece->rows * piece->cols;
    uint32_t *grey = malloc(cells * sizeof *grey);
    for (size_t i = 0; grey && i < cells; i++)
        grey[i] = tdm_strand_grey(piece->hair[i]);
    return grey;
}

static void put_pictures(cairo_t *cairo, const tdm_strand_page *page, const tdm_strand_panel *panel,
                         cairo_surface_t *hair, cairo_surface_t *grey)
{
    const tdm_strand_piece *piece = tdm_strand_piece_of(page, panel);
    tdm_strand_place at = tdm_strand_place_of(page->views[panel->view], piece, cairo);
    at.left = panel->left + TDM_STRAND_RULER;
    at.top = panel->top + TDM_STRAND_HEAD;
    at.scale = page->scale;
    if (piece->scaled)
        tdm_picture_ruler(cairo, at.left - 6, at.top, at.scale, piece->root, piece->length);
    tdm_strand_hair(&at, hair);
    at.left += panel->pitch;
    tdm_strand_hair(&at, hair);
    tdm_strand_tint(&at);
    tdm_strand_ribbons(&at);
    at.left += panel->pitch;
    tdm_strand_skip_map(&at, hair, grey);
}

static tdm_code put_panel(cairo_t *cairo, const tdm_strand_page *page, const tdm_strand_panel *panel,
                          tdm_error *error)
{
    const tdm_strand_piece *piece = tdm_strand_piece_of(page, panel);
    uint32_t *grey_pixels = in_grey(piece);
    if (!grey_pixels)
        return tdm_fail_memory(error, page->views[panel->view]->reading->file);
    cairo_surface_t *hair = surface_of(piece, piece->hair), *grey = surface_of(piece, grey_pixels);
    put_pictures(cairo, page, panel, hair, grey);
    cairo_surface_finish(hair);
    cairo_surface_finish(grey);
    cairo_surface_destroy(hair);
    cairo_surface_destroy(grey);
    free(grey_pixels);
    return tdm_strand_title(cairo, page, panel)
               ? TDM_OK
               : tdm_fail_memory(error, page->views[panel->view]->reading->file);
}

/* Where the parts of the page begin. */
typedef struct sheet {
    double width, height, photos;
    double foot_left, foot, foot_width;
} sheet;

static tdm_code measure(const tdm_strand_page *page, sheet *out, tdm_error *error)
{
    double photos_width = 0, foot = 0;
    const double photos = tdm_strand_photos(NULL, page, 0, &photos_width);
    out->photos = page->bottom + margin;
    out->width = ceil(fmax(page->width, photos_width));
    /* The words beside the photograph where there is room, else below. */
    const bool beside = photos > 0 && out->width - photos_width >= least_foot;
    out->foot_left = beside ? photos_width : margin;
    out->foot = out->photos + (photos > 0 && !beside ? photos + margin : 0);
    out->foot_width = out->width - margin - out->foot_left;
    if (!tdm_strand_foot(NULL, page, out->foot_left, out->foot, out->foot_width, &foot))
        return tdm_fail_memory(error, page->views[0]->reading->file);
    out->height = ceil(fmax(out->foot + foot, out->photos + photos) + margin);
    return TDM_OK;
}

static tdm_code draw(const tdm_strand_page *page, const sheet *on, cairo_surface_t *surface, tdm_error *error)
{
    cairo_t *cairo = cairo_create(surface);
    tdm_code code = TDM_OK;
    double ignored = 0;
    cairo_set_source_rgb(cairo, paper, paper, paper);
    cairo_paint(cairo);
    cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
    cairo_set_line_cap(cairo, CAIRO_LINE_CAP_ROUND);
    for (size_t i = 0; code == TDM_OK && i < page->count; i++)
        code = put_panel(cairo, page, &page->panels[i], error);
    (void)tdm_strand_photos(cairo, page, on->photos, &ignored);
    if (code == TDM_OK && !tdm_strand_foot(cairo, page, on->foot_left, on->foot, on->foot_width, &ignored))
        code = tdm_fail_memory(error, page->views[0]->reading->file);
    const cairo_status_t status = cairo_status(cairo);
    cairo_destroy(cairo);
    return code == TDM_OK && status != CAIRO_STATUS_SUCCESS ? tdm_picture_fail(status, "the picture", error)
                                                            : code;
}

static tdm_code draw_page(const tdm_strand_page *page, uint8_t **bytes, size_t *size, tdm_error *error)
{
    const char *file = page->views[0]->reading->file;
    sheet on = {0};
    tdm_code code = measure(page, &on, error);
    if (code != TDM_OK)
        return code;
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)on.width, (int)on.height);
    if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS)
        code = tdm_picture_fail(cairo_surface_status(surface), file, error);
    if (code == TDM_OK)
        code = draw(page, &on, surface, error);
    if (code == TDM_OK)
        code = tdm_picture_png(surface, file, bytes, size, error);
    cairo_surface_destroy(surface);
    return code;
}

tdm_code tdm_strand_picture(const tdm_strand_view *const *views, size_t count, uint8_t **bytes, size_t *size,
                            tdm_error *error)
{
    tdm_strand_page page = {.views = views, .view_count = count};
    if (count < 1 || count > 2)
        return tdm_fail(error, TDM_ERR_USAGE, NULL, "strands", "a picture is of one photograph or of two");
    tdm_code code = tdm_strand_lay_out(&page, error);
    if (code == TDM_OK)
        code = draw_page(&page, bytes, size, error);
    free(page.panels);
    return code;
}
