/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture of light and dark strands, and what it is drawn from. Lengths in pixels of the picture where
 * not said. */
#ifndef TDM_REPORT_STRAND_MAP_PARTS_H
#define TDM_REPORT_STRAND_MAP_PARTS_H

#include "measure/reading_parts.h"
#include "plan/skip.h"
#include "report/overlay.h"
#include "report/strand_map_pens.h"
#include "strip/way.h"
#include "tidemark/strands.h"

/* What is kept of one zone. Lengths in the strip's units. */
typedef struct tdm_strand_piece {
    size_t index;      /* of the zone in the reading */
    size_t rows, cols; /* of hair */
    double cell;       /* of hair: the strip's or a whole multiple */
    double across;     /* the strip's columns */
    double unit;       /* px of the photograph */
    double root, length;
    bool scaled;
    uint32_t *hair; /* owned: rows * cols, opaque sRGB (cairo's ARGB32) or 0 where nothing is used */
    tdm_skip_map skip;
    tdm_strip_way way; /* with a photograph alone */
} tdm_strand_piece;

struct tdm_strand_view {
    const tdm_reading *reading; /* not owned */
    double skip_level;          /* NaN: by the light strands */
    tdm_overlay photo;          /* surface NULL where none is kept */
    tdm_strand_piece *pieces;
    size_t count;
};

void tdm_strand_piece_free(tdm_strand_piece *piece);

/* Where a piece is drawn: straight, or (way) on the photograph. */
typedef struct tdm_strand_place {
    cairo_t *cairo;
    const tdm_strand_piece *piece;
    const tdm_strand_map *map; /* NULL where no strands may be marked */
    bool judged;               /* what to skip is known, as far as the piece knows it */
    bool on_photo;
    double left, top, scale; /* straight: of the piece's corner, pixels to a unit; on the photograph: of the
                                picture's corner in it, pixels to a pixel */
} tdm_strand_place;

/* strand_map_marks.c: laid over the hair. */
void tdm_strand_tint(const tdm_strand_place *at);    /* light strands, and shade on the dark ones */
void tdm_strand_ribbons(const tdm_strand_place *at); /* outlines and starts */
void tdm_strand_hatch(const tdm_strand_place *at);   /* hair to skip, in lines that leave it seen */
void tdm_strand_border(const tdm_strand_place *at);  /* the zone's; on the photograph alone */
/* Straight alone: the hair; and the skip map for itself: ground and hatch where it isn't to be lightened, the
 * hair in grey where it may be, dots where nothing is known. The surfaces are the piece's hair and the same
 * in grey. */
void tdm_strand_hair(const tdm_strand_place *at, cairo_surface_t *hair);
void tdm_strand_skip_map(const tdm_strand_place *at, cairo_surface_t *hair, cairo_surface_t *grey);

/* One zone on the page: of which photograph, and which of its pieces; from the left: ruler, hair, light
 * strands, skip map. */
typedef struct tdm_strand_panel {
    size_t view, piece;
    double left, top; /* of the zone's field, words included */
    double pitch;     /* from one picture to the next */
    double width;     /* of the field */
} tdm_strand_panel;

enum { TDM_STRAND_RULER = 50, TDM_STRAND_HEAD = 132, TDM_STRAND_GAP = 14 };

typedef struct tdm_strand_page {
    const tdm_strand_view *const *views;
    size_t view_count;
    tdm_strand_panel *panels; /* owned */
    size_t count;
    double scale;         /* pixels to a unit */
    double width, bottom; /* of the panels */
} tdm_strand_page;

const tdm_strand_piece *tdm_strand_piece_of(const tdm_strand_page *page, const tdm_strand_panel *panel);
/* Without left, top and scale. No strands are marked and nothing is judged where the photograph isn't usable.
 */
tdm_strand_place tdm_strand_place_of(const tdm_strand_view *view, const tdm_strand_piece *piece,
                                     cairo_t *cairo);

/* strand_map_layout.c: room for every panel; sets scale, width, bottom. */
TDM_MUST_CHECK tdm_code tdm_strand_lay_out(tdm_strand_page *page, tdm_error *error);

/* strand_map_words.c: false when out of memory. */
bool tdm_strand_title(cairo_t *cairo, const tdm_strand_page *page, const tdm_strand_panel *panel);
/* Legend and caution; *height is what they take. Drawn where cairo isn't NULL. */
bool tdm_strand_foot(cairo_t *cairo, const tdm_strand_page *page, double left, double top, double width,
                     double *height);

/* strand_map_photo.c: the photographs that are kept, one beside the other. Returns their height, 0 without
 * any, and in *width what they take. Drawn where cairo isn't NULL. */
double tdm_strand_photos(cairo_t *cairo, const tdm_strand_page *page, double top, double *width);

#endif
