/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a photograph to what its strands are drawn from. */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "measure/read.h"
#include "report/page.h"
#include "report/strand_map_parts.h"

static const double least_level = 1, most_level = 12;
static const double most_cells = 1e6; /* kept of one zone: more than a picture of it shows */

tdm_strand_options tdm_strand_options_default(void)
{
    return (tdm_strand_options){.skip_level = (double)NAN};
}

void tdm_strand_piece_free(tdm_strand_piece *piece)
{
    free(piece->hair);
    tdm_skip_map_free(&piece->skip);
    tdm_strip_way_free(&piece->way);
}

void tdm_strand_view_free(tdm_strand_view *view)
{
    if (!view)
        return;
    for (size_t i = 0; i < view->count; i++)
        tdm_strand_piece_free(&view->pieces[i]);
    free(view->pieces);
    if (view->photo.surface)
        cairo_surface_destroy(view->photo.surface);
    free(view);
}

/* Mean light of a square of the strip's used cells, as a pixel. */
static uint32_t pixel_of(const tdm_strip *strip, size_t row, size_t col, size_t side)
{
    double sum[3] = {0, 0, 0}, cells = 0;
    unsigned rgb[3];
    for (size_t y = row; y < row + side && y < strip->rows; y++) {
        for (size_t x = col; x < col + side && x < strip->cols; x++) {
            const size_t cell = y * strip->cols + x;
            for (size_t k = 0; strip->use[cell] && k < 3; k++)
                sum[k] += (double)strip->xyz[3 * cell + k];
            cells += strip->use[cell];
        }
    }
    if (cells <= 0)
        return 0;
    for (size_t k = 0; k < 3; k++)
        sum[k] /= cells;
    tdm_xyz_to_srgb8(sum, rgb);
    return UINT32_C(0xff000000) | rgb[0] << 16 | rgb[1] << 8 | rgb[2];
}

static tdm_code keep_hair(const tdm_strip *strip, tdm_strand_piece *out, tdm_error *error)
{
    const size_t side = (size_t)ceil(sqrt((double)(strip->rows * strip->cols) / most_cells));
    out->rows = (strip->rows + side - 1) / side;
    out->cols = (strip->cols + side - 1) / side;
    out->cell = (double)side * strip->cell;
    out->across = (double)strip->cols * strip->cell;
    out->unit = strip->cell_px / strip->cell;
    out->root = strip->root;
    out->length = strip->length;
    out->scaled = strip->scaled;
    out->hair = malloc(out->rows * out->cols * sizeof *out->hair);
    if (!out->hair)
        return tdm_fail_memory(error, NULL);
    for (size_t i = 0; i < out->rows * out->cols; i++)
        out->hair[i] = pixel_of(strip, i / out->cols * side, i % out->cols * side, side);
    return TDM_OK;
}

static tdm_code take_zone(void *to, const tdm_reading *reading, size_t index, const tdm_strip *strip,
                          tdm_error *error)
{
    tdm_strand_view *view = to;
    const struct tdm_zone_reading *zone = &reading->zones[index];
    tdm_strand_piece *grown = realloc(view->pieces, (view->count + 1) * sizeof *grown);
    if (!grown)
        return tdm_fail_memory(error, NULL);
    view->pieces = grown;
    tdm_strand_piece *piece = &grown[view->count++];
    *piece = (tdm_strand_piece){.index = index};
    tdm_code code = keep_hair(strip, piece, error);
    if (code == TDM_OK)
        code = isfinite(view->skip_level) ? tdm_skip_by_level(strip, &reading->scale, view->skip_level,
                                                              zone->overall.level.u, &piece->skip, error)
                                          : tdm_skip_by_strands(zone, &piece->skip, error);
    return code;
}

/* The rectangle that holds both. */
static tdm_rect both(tdm_rect a, tdm_rect b)
{
    const uint32_t left = a.x < b.x ? a.x : b.x, top = a.y < b.y ? a.y : b.y;
    const uint32_t right = a.x + a.width > b.x + b.width ? a.x + a.width : b.x + b.width;
    const uint32_t bottom = a.y + a.height > b.y + b.height ? a.y + a.height : b.y + b.height;
    return (tdm_rect){left, top, right - left, bottom - top};
}

/* Of the photograph no more than the zones need. */
static tdm_code take_photo(void *to, const tdm_reading *reading, const tdm_sitting *sitting, tdm_error *error)
{
    tdm_strand_view *view = to;
    tdm_rect whole = {0};
    for (size_t i = 0; i < view->count; i++) {
        tdm_strand_piece *piece = &view->pieces[i];
        tdm_rect part;
        tdm_code code = tdm_strip_rect(&sitting->marks, piece->index, &part, error);
        if (code == TDM_OK)
            code = tdm_strip_way_make(&sitting->marks, piece->index, piece->unit, &piece->way, error);
        if (code != TDM_OK)
            return code;
        whole = whole.width > 0 ? both(whole, part) : part;
    }
    if (view->count == 0)
        return TDM_OK;
    return tdm_overlay_photo(sitting->device, &sitting->calibration, &sitting->pixels, whole, reading->file,
                             &view->photo, error);
}

tdm_code tdm_read_strands(const char *photo_path, const char *marks_path, const tdm_read_options *options,
                          const tdm_strand_options *how, tdm_reading **out, tdm_strand_view **view,
                          tdm_error *error)
{
    const tdm_strand_options wanted = how ? *how : tdm_strand_options_default();
    if (wanted.skip_level < least_level || wanted.skip_level > most_level)
        return tdm_fail(error, TDM_ERR_USAGE, NULL, "skip level", "must be 1 to 12");
    tdm_strand_view *made = calloc(1, sizeof *made);
    if (!made)
        return tdm_fail_memory(error, photo_path);
    made->skip_level = wanted.skip_level;
    const tdm_read_watch watch = {
        .zone = take_zone, .photo = wanted.on_photo ? take_photo : NULL, .to = made};
    tdm_reading *reading = NULL;
    const tdm_code code = tdm_read_watched(photo_path, marks_path, options, &watch, &reading, error);
    if (code != TDM_OK) {
        tdm_strand_view_free(made);
        return code;
    }
    made->reading = reading;
    *out = reading;
    *view = made;
    return TDM_OK;
}
