/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page that a text report is written on, and its parts. */
#ifndef TDM_REPORT_PAGE_H
#define TDM_REPORT_PAGE_H

#include "base/text.h"
#include "tidemark/report.h"

typedef struct tdm_page {
    tdm_text text;
    tdm_text_style style; /* width held to 40 … 200 */
} tdm_page;

/* page.c */
tdm_page tdm_page_start(const tdm_text_style *style);
TDM_MUST_CHECK tdm_code tdm_page_finish(tdm_page *page, char **out, tdm_error *error);
void tdm_page_line(tdm_page *page); /* ends a line */
void tdm_page_spaces(tdm_page *page, size_t count);
/* Words broken at spaces to the page's width, behind a lead on the first line and an indent on the others. */
void tdm_page_wrap(tdm_page *page, const char *lead, size_t indent, const char *sentence);
/* "── title ───…" in bold. */
void tdm_page_rule(tdm_page *page, const char *title);

/* paint.c: nothing is added where the style has no colour. */
void tdm_page_bold(tdm_page *page);
void tdm_page_dim(tdm_page *page);
void tdm_page_plain(tdm_page *page);
/* `columns` spaces on the colour, in 24 bits. */
void tdm_page_swatch(tdm_page *page, const double lab[3], size_t columns);
/* CIELAB D50 to sRGB of 8 bits, cut to its gamut. */
void tdm_lab_to_srgb8(const double lab[3], unsigned rgb[3]);
void tdm_xyz_to_srgb8(const double xyz[3], unsigned rgb[3]);

/* facts.c: what is said of a photograph before its zones; label may be NULL. */
void tdm_page_facts(tdm_page *page, const tdm_reading *reading, const char *label);
void tdm_add_photo(tdm_text *text, const tdm_photo_facts *facts);
/* text as tdm_page_wrap puts it; frees text. */
void tdm_page_put(tdm_page *page, tdm_text *text, const char *lead, size_t indent);

/* quality_lines.c: nothing where nothing was looked at. */
void tdm_page_quality(tdm_page *page, const tdm_reading *reading);

/* zone_block.c: after and change are NULL for one photograph alone; title NULL means the zone's name. */
typedef struct tdm_block {
    const char *title;
    const tdm_zone_reading *before;
    const tdm_zone_reading *after;
    const tdm_zone_change *change;
    const char *level_note;
    bool before_in_mm, after_in_mm; /* what profiles are measured along */
} tdm_block;
void tdm_page_block(tdm_page *page, const tdm_block *block);

/* zone_rows.c */
bool tdm_block_shows(const tdm_block *block, const tdm_figure *figure);
/* A letter that figures of one group share; groups are set apart. */
char tdm_figure_group(const tdm_figure *figure);

/* zone_places.c: nothing where there are none, or too many for words. */
void tdm_page_places(tdm_page *page, const tdm_block *block);

/* profile_plot.c */
void tdm_page_profiles(tdm_page *page, const tdm_block *block);

#endif
