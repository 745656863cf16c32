/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The marks file: where scale, target, greys, exclusions and zones lie in the upright picture. */
#ifndef TDM_MARKS_MARKS_H
#define TDM_MARKS_MARKS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/warnings.h"
#include "tidemark/error.h"
#include "tidemark/limits.h"

/* count points, x y each, in upright pixel coordinates. */
typedef struct tdm_polyline {
    double *xy;
    size_t count;
} tdm_polyline;

typedef struct tdm_zone_marks {
    char *name;
    char *side;        /* NULL where none; "left", "right", "centre" or own */
    double weight;     /* default 1, above 0 */
    tdm_polyline path; /* root to ends, at least two points */
    bool width_in_mm;  /* widths are in mm (else px) */
    double *widths;    /* full width, one a path point */
    double root_mm;    /* from the root line to where the path begins, 0 to 1000; default 0 */
} tdm_zone_marks;

typedef struct tdm_grey_marks {
    tdm_polyline polygon;
    double lstar;
    double width_mm; /* longest side of the polygon, NaN where not given */
} tdm_grey_marks;

typedef struct tdm_swatch_marks {
    tdm_polyline polygon;
    double level; /* 1 to 12, whole or half */
    char *name;   /* NULL where none */
} tdm_swatch_marks;

typedef struct tdm_marks {
    char *photo; /* file name in the marks */
    uint32_t width, height;
    bool has_scale;
    double mm_per_px; /* from the scale; NaN without one */
    double scale_px;  /* length of the marked scale */
    bool has_target;
    double corners[8];
    double target_width_mm; /* outer width of the block of patches, NaN where not given */
    tdm_grey_marks *greys;
    size_t grey_count;
    tdm_swatch_marks *swatches; /* each of its own level */
    size_t swatch_count;
    tdm_polyline *excludes;
    size_t exclude_count;
    tdm_zone_marks *zones;
    size_t zone_count;
    void *json; /* the parsed file as it was, so that keys unknown here survive rewriting */
} tdm_marks;

/* Parses a marks file. Everything is checked: types, finite numbers, points inside the picture (target, grey
 * and exclusions may touch its edge), a non-zero scale, distinct zone names (there may be no zone), a zone of
 * non-zero length, width_mm only with a scale. Zones may be missing where there is a target or a swatch.
 * Errors name the key
 * ("zones[1].path[0]"); JSON syntax errors name line and column. Unknown keys give the warning
 * "marks-unknown-key". photo_width and photo_height 0 skip the check of size. */
TDM_MUST_CHECK tdm_code tdm_marks_parse(const char *data, size_t size, const char *file, uint32_t photo_width,
                                        uint32_t photo_height, const tdm_limits *limits,
                                        tdm_warnings *warnings, tdm_marks *out, tdm_error *error);
TDM_MUST_CHECK tdm_code tdm_marks_load(const char *path, uint32_t photo_width, uint32_t photo_height,
                                       const tdm_limits *limits, tdm_warnings *warnings, tdm_marks *out,
                                       tdm_error *error);
/* The marks as a JSON text to be freed with tdm_free, unknown keys kept. */
TDM_MUST_CHECK tdm_code tdm_marks_text(const tdm_marks *marks, char **out, tdm_error *error);
void tdm_marks_free(tdm_marks *marks);

/* "dir/before.jpg" -> "dir/before.marks.json"; malloc'ed, NULL when out of memory. */
char *tdm_marks_path(const char *photo_path);

#endif
