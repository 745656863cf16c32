/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the measures fill in for one zone. The figures' table (figures.c) says where each stands in the JSON.
 */
#ifndef TDM_MEASURE_ZONE_READING_H
#define TDM_MEASURE_ZONE_READING_H

#include "base/warnings.h"
#include "measure/strand_map.h"
#include "tidemark/reading.h"

/* Colour of an area: the mean of linear XYZ over its used cells, then CIELAB. lab[0] NaN means null. */
typedef struct tdm_area {
    double lab[3];
    tdm_value lstar;
    tdm_value level;
    const char *tone; /* static storage */
} tdm_area;

/* Strands of root, mid-lengths or ends. */
typedef struct tdm_strand_area {
    bool separable;
    tdm_value light_share, contrast_lstar;
    double ribbon_mm, spacing_mm, spacing_cv, count_per_100mm;
} tdm_strand_area;

typedef struct tdm_profile {
    tdm_profile_point *points; /* owned */
    size_t count;
} tdm_profile;

typedef struct tdm_places {
    tdm_place *items; /* owned; NULL is null, and not NULL for none */
    size_t count;
} tdm_places;

enum { TDM_DISTANCES = 3, TDM_MOST_FIGURES = 192 };

struct tdm_zone_reading {
    char *name; /* owned */
    char *side; /* owned or NULL */
    double weight;

    double length_mm, width_mm, used_share;
    double gloss_share; /* of the light from the hair */
    double root_mm;     /* from the root line to where the zone begins */
    tdm_area overall, root, mid, ends;

    struct {
        const char *shape; /* "uniform", "ramp", "transition", "band" */
        tdm_value centre_mm, width_mm;
        tdm_value centre_share, width_share; /* of the path's length: also there without a scale */
        tdm_value de00;                      /* between root side and ends side of the change */
        tdm_value slope_lstar_per_cm;
        double light_lstar;     /* change of lightness that was taken for light; NaN where none */
        const char *bound;      /* "at least" where the width runs off the zone, else NULL */
        const char *confidence; /* "good", "fair", "poor" */
        tdm_profile profile;
    } gradient;

    struct {
        tdm_value local_width_mm, stagger_mm;
        double span;
        const char *course; /* "straight", "curved", "zigzag", "broken" */
        tdm_value slope;    /* mm along the fall each 100 mm across, above 0: further down to the right */
        double course_mm;   /* curved: from its chord; zigzag: peak to peak */
        double zigzag_period_mm;
        double gap_count, bleed_count;
        tdm_places gaps, bleeds;
        tdm_visibility visibility[TDM_DISTANCES];
        double shows_from_m, hidden_from_m; /* 0.3 to 10 */
        const char *grade;                  /* "none", "soft", "visible", "hard" */
    } demarcation;

    struct {
        tdm_value length_mm;
        double days;
        tdm_value mm_per_month;
        const char *pace; /* "slow", "usual", "fast" */
    } regrowth;           /* since the last colour */

    struct {
        bool separable;
        double kinds;                        /* of strands: 2, or 3 with a middle one */
        tdm_value light_share, middle_share; /* of all that is lighter than the dark, the middle included */
        double light_lab[3], middle_lab[3], dark_lab[3];
        tdm_value contrast_lstar, contrast_de00, contrast_michelson;
        tdm_value separation; /* Ashman's D */
        tdm_strand_area root, mid, ends;
        double ribbon_median, ribbon_p25, ribbon_p75; /* mm */
        double ribbon_u;                              /* expanded, of the median */
        const char *weave;                            /* "fine", "medium", "chunky" */
        double spacing_median, spacing_cv;
        const char *pattern;               /* "regular", "random" */
        tdm_value count_per_100mm;         /* ribbons side by side */
        double period_mm, period_strength; /* the strongest across; 0 to 1 */
        double length_median, length_p25, length_p75;
        double start_median, start_p25, start_p75;
        double start_u; /* expanded, of the median */
        double onset_median, onset_p25, onset_p75;
        tdm_strand_map map; /* below the line; nothing where strands aren't separable */
    } strands;

    struct {
        tdm_value patchiness_de00, patchiness_lstar;
        double warm_count;
        tdm_value warmth; /* of the warmest patch, CIELAB units towards orange; null where there is none */
        tdm_places warm;
        /* The head's alone. Furthest that a zone lies from the mean of all; lengths are the ends'. */
        tdm_value between_lstar, between_de00, between_level, between_root_level;
        tdm_value between_share, between_contrast;
        /* Left less right, of the zones whose side is marked so. */
        tdm_value left_right_lstar, left_right_level, left_right_root_level;
        tdm_value left_right_share, left_right_contrast, left_right_centre_mm;
    } evenness;

    struct {
        tdm_value lstar_above_rest, level_above_rest, share_above_rest;
    } frame; /* the head's alone: zones of more weight less the others */

    struct {
        tdm_value share; /* of the hair at the root, 0 to 1 */
        double lab[3];   /* white hair's, at the L* it is taken for */
    } grey;

    tdm_budget budgets[TDM_MOST_FIGURES]; /* of the VALUE figures, by row of the figures' table */
};

/* Every figure null, nothing owned. */
void tdm_zone_reading_init(struct tdm_zone_reading *zone);
void tdm_zone_reading_clear(struct tdm_zone_reading *zone);

#endif
