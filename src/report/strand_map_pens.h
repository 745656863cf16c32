/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines and fillings of the picture of strands. Each drops the path that it fills or strokes. */
#ifndef TDM_REPORT_STRAND_MAP_PENS_H
#define TDM_REPORT_STRAND_MAP_PENS_H

#include <cairo.h>
#include <stddef.h>
#include <stdint.h>

void tdm_pen_tint(cairo_t *cairo, double strength); /* light strands */
void tdm_pen_outline(cairo_t *cairo, double width); /* white on black is seen on every hair */
void tdm_pen_hatch(cairo_t *cairo);                 /* over hair, which is seen between the lines */
void tdm_pen_ground(cairo_t *cairo);                /* hatch on a colour of its own */
void tdm_pen_dots(cairo_t *cairo);                  /* as the source */
/* A triangle with its tip at x, y, pointing along the unit vector: where a ribbon becomes light. */
void tdm_pen_start(cairo_t *cairo, double x, double y, double dx, double dy);

/* A pixel of ARGB32 in grey, lighter than the ground of the hatch; 0 stays 0. */
uint32_t tdm_strand_grey(uint32_t pixel);

/* What the legend shows, in a square. */
typedef enum tdm_strand_sample_kind {
    TDM_STRAND_LIGHT,
    TDM_STRAND_RIBBON,
    TDM_STRAND_START,
    TDM_STRAND_SKIP,
    TDM_STRAND_HATCH,
    TDM_STRAND_MAY,
    TDM_STRAND_UNKNOWN
} tdm_strand_sample_kind;
void tdm_strand_sample(cairo_t *cairo, tdm_strand_sample_kind which, double left, double top, double side);

#endif
