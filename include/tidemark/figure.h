/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of everything a reading says about a zone. Writers, comparisons and rubrics go through it and
 * know no measure by name. */
#ifndef TIDEMARK_FIGURE_H
#define TIDEMARK_FIGURE_H

#include <stdbool.h>
#include <stddef.h>

#include "tidemark/export.h"

TDM_BEGIN_DECLS

/* A value and its expanded uncertainty u, coverage factor 2 (JCGM 100:2008). NaN where it can't be given. */
typedef struct tdm_value {
    double value;
    double u;
} tdm_value;

/* What an uncertainty is made of (JCGM 100:2008, 8: an uncertainty budget). */
typedef enum tdm_part {
    TDM_PART_SAMPLING,    /* other strands, another half of the zone */
    TDM_PART_CALIBRATION, /* what the correction leaves near hair colours */
    TDM_PART_LIGHT,       /* other light at the zone than at the target */
    TDM_PART_SCALE,       /* mm a pixel */
    TDM_PART_PLANE,       /* hair that isn't in the target's or the scale's plane */
    TDM_PART_GLOSS,       /* white light off the hair's surface */
    TDM_PART_METHOD,      /* what the measure itself leaves, as found on drawn heads of known truth */
    TDM_PART_DATE,        /* hours that a day's date leaves open */
    TDM_PARTS
} tdm_part;

/* Standard uncertainties (k = 1) in the figure's unit. Twice the root of the sum of their squares is its u.
 */
typedef struct tdm_budget {
    double part[TDM_PARTS];
} tdm_budget;

/* "sampling", "calibration", "light", "scale", "plane", "gloss", "method", "date"; static storage. */
TDM_API const char *tdm_part_word(tdm_part part);

/* One point of the root-to-ends profile. */
typedef struct tdm_profile_point {
    double along;  /* from the root: mm, or share of the path's length without a scale */
    double lab[3]; /* CIELAB D50 */
    double u;      /* expanded uncertainty of L* from sampling */
} tdm_profile_point;

/* How well the line shows to an eye at a distance. */
typedef struct tdm_visibility {
    double distance_m;
    double dprime; /* NaN without a scale */
    double u;      /* expanded uncertainty of d' from sampling; NaN where it can't be given */
} tdm_visibility;

/* A spot or a stretch of a zone, by its middle. */
typedef struct tdm_place {
    double mm;        /* from the root */
    double across_mm; /* from the path, above 0 to the right of the direction root to ends in the picture */
    double length_mm; /* along the fall */
    double width_mm;  /* across */
} tdm_place;

typedef enum tdm_figure_kind {
    TDM_FIGURE_VALUE,      /* tdm_value */
    TDM_FIGURE_NUMBER,     /* double, no uncertainty of its own */
    TDM_FIGURE_FLAG,       /* yes or no */
    TDM_FIGURE_WORD,       /* one word of a closed list, or NULL */
    TDM_FIGURE_LAB,        /* CIELAB D50 */
    TDM_FIGURE_PROFILE,    /* tdm_profile_point list */
    TDM_FIGURE_VISIBILITY, /* tdm_visibility list */
    TDM_FIGURE_PLACES      /* tdm_place list, which may be empty */
} tdm_figure_kind;

typedef struct tdm_figure {
    const char *path;  /* place in the JSON zone object, as "gradient.centre_mm" */
    const char *label; /* plain words, as "line centre" */
    const char *unit;  /* "mm", "L*", "level", "" … */
    tdm_figure_kind kind;
    int digits;    /* decimals shown to a person */
    size_t offset; /* private: where the zone reading keeps it */
} tdm_figure;

/* Opaque: one zone's figures, owned by its reading. */
typedef struct tdm_zone_reading tdm_zone_reading;

/* The whole table, in the order of the JSON object; static storage. */
TDM_API const tdm_figure *tdm_figures(size_t *count);

/* NULL where no figure has that path. */
TDM_API const tdm_figure *tdm_figure_find(const char *path);

TDM_API const char *tdm_zone_name(const tdm_zone_reading *zone);
TDM_API const char *tdm_zone_side(const tdm_zone_reading *zone); /* NULL where the marks name none */

/* Each returns false, and leaves *out, where the figure is of another kind or null. VALUE and NUMBER figures
 * both come through tdm_zone_value; a NUMBER's u is NaN. */
TDM_API bool tdm_zone_value(const tdm_zone_reading *zone, const tdm_figure *figure, tdm_value *out);
TDM_API bool tdm_zone_flag(const tdm_zone_reading *zone, const tdm_figure *figure, bool *out);
TDM_API bool tdm_zone_lab(const tdm_zone_reading *zone, const tdm_figure *figure, double out[3]);

/* What the uncertainty of a VALUE figure is made of; false where it is null or has none. */
TDM_API bool tdm_zone_budget(const tdm_zone_reading *zone, const tdm_figure *figure, tdm_budget *out);

/* NULL where the figure is of another kind or null. */
TDM_API const char *tdm_zone_word(const tdm_zone_reading *zone, const tdm_figure *figure);
TDM_API const tdm_profile_point *tdm_zone_profile(const tdm_zone_reading *zone, const tdm_figure *figure,
                                                  size_t *count);
TDM_API const tdm_visibility *tdm_zone_visibility(const tdm_zone_reading *zone, const tdm_figure *figure,
                                                  size_t *count);
/* In the order of the zone, left to right; NULL where the figure is of another kind or null, with *count 0
 * and not NULL where there are none. */
TDM_API const tdm_place *tdm_zone_places(const tdm_zone_reading *zone, const tdm_figure *figure,
                                         size_t *count);

TDM_END_DECLS

#endif
