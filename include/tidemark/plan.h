/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Before a root blend: where it is needed, how far the root shade should run down, and which hair isn't
 * to be lightened. Figures of colour only. */
#ifndef TIDEMARK_PLAN_H
#define TIDEMARK_PLAN_H

#include "tidemark/reading.h"

TDM_BEGIN_DECLS

/* The distance that a plan looks from, and the d' from which a line is visible there. */
#define TDM_PLAN_METRES 1.2
#define TDM_PLAN_VISIBLE 2.0

typedef struct tdm_plan tdm_plan;

typedef struct tdm_plan_options {
    tdm_read_options read;
    double target_level; /* hair at or above it isn't lightened; NaN: half a level under the zone's light
                            strands, or under its lengths where these are lighter than the root */
} tdm_plan_options;

TDM_API tdm_plan_options tdm_plan_options_default(void);

/* Reads the photograph as tdm_read_photo does, and plans a blend for every zone. options NULL means the
 * defaults. A photograph that can't carry a plan is TDM_OK; its zones then say why. On TDM_OK *out is the
 * caller's, to be freed. TDM_ERR_USAGE for a target level outside 1 to 12. */
TDM_API TDM_MUST_CHECK tdm_code tdm_plan_photo(const char *photo_path, const char *marks_path,
                                               const tdm_plan_options *options, tdm_plan **out,
                                               tdm_error *error);
TDM_API void tdm_plan_free(tdm_plan *plan); /* NULL is allowed */

/* A root shade and its run. Places in mm from the root, along the hair. */
typedef struct tdm_root_shade {
    double from_mm;         /* where it starts: 0, or where the zone begins below the root */
    double feather_from_mm; /* the shade is full down to here (at least 90 % of it), then runs out */
    double to_mm;           /* half of it is left here */
    double feather_to_mm;   /* a tenth of it is left here; below it the hair stays as it is */
    double feather_mm;      /* from 90 % to 10 % */
    double lab[3];          /* CIELAB D50, on the straight line between root and lengths */
    double way;             /* how far along that line: 0 the root's colour, 1 the lengths' */
    tdm_value level;
    const char *tone; /* static storage */
} tdm_root_shade;

/* What a reading of the zone would say of its line after the blend, by simulation. */
typedef struct tdm_simulation {
    const char *shape; /* as gradient.shape of a reading */
    tdm_value centre_mm, width_mm;
    tdm_value dprime;  /* at 1.2 m */
    const char *grade; /* of that d' */
} tdm_simulation;

/* Hair that is as light as it should be. NaN where it can't be said. */
typedef struct tdm_light_hair {
    double target_level;
    tdm_value share;                          /* of the zone's hair at or above it */
    double root_share, mid_share, ends_share; /* of that in the root, mid-lengths and ends of the reading */
    double from_mm, to_mm; /* nine tenths of it lie between, as far from the root; NaN without a scale */
} tdm_light_hair;

typedef struct tdm_zone_plan {
    const char *name;
    double weight;     /* of the marks */
    const char *need;  /* "needed", "optional", "not needed", "not planned" or "no plan possible" */
    const char *why;   /* one plain sentence for each of these; NULL where there is nothing to say */
    const char *blend; /* what to blend, and what it would look like */
    const char *leave; /* which hair not to lighten */
    double dprime;     /* of the line as it is, at 1.2 m; NaN where it can't be said */
    bool planned;      /* shade and after are given */
    bool enough; /* after it d' at 1.2 m is under 2 with a margin, be it of a line or of a steady fall */
    tdm_root_shade shade;
    tdm_simulation after;
    tdm_light_hair light;
    unsigned order; /* 1 for the zone to do first; 0 for one that needs nothing */
} tdm_zone_plan;

/* Zones in the order of the marks file. NULL beyond the last. Owned by the plan. */
TDM_API size_t tdm_plan_zone_count(const tdm_plan *plan);
TDM_API const tdm_zone_plan *tdm_plan_zone(const tdm_plan *plan, size_t index);

/* Where to begin and how the zones differ: a few plain sentences, owned by the plan. */
TDM_API const char *tdm_plan_summary(const tdm_plan *plan);

/* The reading that the plan rests on, owned by the plan. */
TDM_API const tdm_reading *tdm_plan_reading(const tdm_plan *plan);

TDM_END_DECLS

#endif
