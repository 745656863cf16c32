/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One photograph's figures. */
#ifndef TIDEMARK_READING_H
#define TIDEMARK_READING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "tidemark/error.h"
#include "tidemark/figure.h"
#include "tidemark/limits.h"

TDM_BEGIN_DECLS

typedef struct tdm_reading tdm_reading;

typedef struct tdm_read_options {
    tdm_limits limits;
    bool ignore_profile; /* read the numbers as sRGB whatever the file says of its colours */
    unsigned resamples;  /* bootstrap resamples, 50 to 2000, default 200 */
    uint64_t seed;       /* of the bootstrap; the same seed gives the same bytes */
    /* Paths, NULL where not wanted. */
    const char
        *calibration; /* calibration file of another photograph of the same sitting, in place of a target */
    const char *reference;   /* CGATS.17 file measured on the target, in place of the published values */
    const char *flat_field;  /* photograph of plain card in the same light, against uneven light */
    const char *level_scale; /* level scale file, in place of the default scale */
    double target_width_mm;  /* outer width of the target's block of patches; 0 where not known */
    /* Days as "2026-03-14" (ISO 8601), NULL where not known. Then growth since the last colour is told. */
    const char *coloured_on; /* when the hair was last coloured, to the root; not after the photograph */
    const char *taken_on;    /* when the photograph was taken, in place of what its EXIF says */
} tdm_read_options;

TDM_API tdm_read_options tdm_read_options_default(void);

/* Whether the text is a real day of the calendar, as the options want it. */
TDM_API bool tdm_is_date(const char *text);

/* Reads the photograph at photo_path. marks_path NULL means the marks file beside it: "before.jpg" has
 * "before.marks.json". options NULL means the defaults. On TDM_OK *out is the caller's, to be freed. A
 * photograph of poor quality is TDM_OK with tdm_reading_usable() false and warnings that say why. */
TDM_API TDM_MUST_CHECK tdm_code tdm_read_photo(const char *photo_path, const char *marks_path,
                                               const tdm_read_options *options, tdm_reading **out,
                                               tdm_error *error);

TDM_API void tdm_reading_free(tdm_reading *reading); /* NULL is allowed */

/* What is said of the photograph as a whole. Strings belong to the reading. */
typedef struct tdm_photo_facts {
    const char *file;   /* as given by the caller, without its folder */
    const char *sha256; /* lower-case hex of the file's bytes */
    uint32_t width;     /* upright */
    uint32_t height;
    const char *profile;        /* description of the colour space that was used, as "sRGB" */
    const char *profile_source; /* "embedded", "declared", "implied" or "assumed" */
    const char *taken;          /* "2026-03-14T09:26:53" from EXIF, local time as recorded; the day alone, as
                                   "2026-03-14", where it was given; or NULL */
    const char *taken_source;   /* "exif", "given", or NULL where it isn't known */
    const char *coloured_on;    /* "2026-01-10", the day of the last colour as given, or NULL */
} tdm_photo_facts;

typedef struct tdm_calibration_facts {
    const char *method; /* "icc", "grey" or "target" */
    double mm_per_px;   /* NaN without a scale */
    const char *scale;  /* "marked", "target", "grey", or NULL without a scale */
    const char
        *from; /* file name of the photograph that the calibration was fitted on, or NULL: on this one */
    double before_mean;   /* CIEDE2000 of the target's patches before the correction; NaN without a target */
    double residual_mean; /* after it */
    double residual_max;
    double left_out_mean; /* each patch predicted by a fit without it */
    double u_lstar;       /* expanded uncertainty that the calibration leaves in L* of hair */
} tdm_calibration_facts;

typedef struct tdm_warning {
    const char *code; /* short and fixed, as "no-target"; documented in src/measure/METHODS.md */
    const char *text; /* one sentence for a person */
    const char *zone; /* zone name, or NULL for the whole photograph */
} tdm_warning;

/* What was looked at to say whether the photograph is good enough. */
typedef struct tdm_quality_figure {
    const char *code;   /* that of the warning it gives when beyond its threshold, as "focus" */
    const char *label;  /* plain words */
    const char *unit;   /* "px", "%" … or "" */
    const char *zone;   /* zone name, or NULL for the whole photograph */
    double value;       /* NaN where it can't be told */
    double threshold;   /* a warning beyond it; NaN where only stated */
    double unusable;    /* nothing is measured beyond it: of the photograph, or in the zone; NaN: never so */
    bool below;         /* the warning is for values below the threshold, not above */
    bool good;          /* within the threshold, or not to be told */
    const char *advice; /* one sentence: how to retake */
} tdm_quality_figure;

TDM_API void tdm_reading_photo(const tdm_reading *reading, tdm_photo_facts *out);
TDM_API void tdm_reading_calibration(const tdm_reading *reading, tdm_calibration_facts *out);
TDM_API bool tdm_reading_usable(const tdm_reading *reading);
TDM_API const tdm_warning *tdm_reading_warnings(const tdm_reading *reading, size_t *count);

TDM_API const tdm_quality_figure *tdm_reading_quality(const tdm_reading *reading, size_t *count);

/* "default scale, not calibrated to your swatches". */
TDM_API const char *tdm_reading_level_scale(const tdm_reading *reading);

/* Zones in the order of the marks file. NULL beyond the last. Owned by the reading. */
TDM_API size_t tdm_reading_zone_count(const tdm_reading *reading);
TDM_API const tdm_zone_reading *tdm_reading_zone(const tdm_reading *reading, size_t index);

/* The zones taken together, by their weights. Owned by the reading. */
TDM_API const tdm_zone_reading *tdm_reading_head(const tdm_reading *reading);

TDM_END_DECLS

#endif
