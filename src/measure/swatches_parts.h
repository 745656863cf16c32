/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The inside of a reading of swatches, for the code that fills it. */
#ifndef TDM_MEASURE_SWATCHES_PARTS_H
#define TDM_MEASURE_SWATCHES_PARTS_H

#include "base/text.h"
#include "base/warnings.h"
#include "colour/calibration.h"
#include "marks/marks.h"
#include "measure/budget.h"
#include "measure/swatch_order.h"
#include "tidemark/swatches.h"

typedef struct tdm_swatch_entry {
    double level;
    char *name; /* owned, or NULL */
    double lab[3];
    double u_sampling; /* standard (k = 1) */
    double u, spread;
    bool rising;
} tdm_swatch_entry;

struct tdm_swatches {
    char *file; /* owned */
    char sha256[65];
    uint32_t width, height;
    char *profile; /* owned */
    tdm_profile_source profile_source;
    char taken[24];
    tdm_warnings warnings;
    tdm_swatch_entry entries[TDM_SWATCHES]; /* by level */
    size_t count, falling;
};

/* Fills entries, count, falling and warnings: "swatch-unusable", "swatch-order", "swatch-close". pixels must
 * hold every swatch. sources: at each of the marks' swatches, lstar and stops. TDM_ERR_UNUSABLE where fewer
 * than two can be read; place "swatches", or "swatches[i]" of the first that can't. */
TDM_MUST_CHECK tdm_code tdm_swatches_measure(const tdm_device *device, const tdm_calibration *calibration,
                                             const tdm_pixels *pixels, const tdm_marks *marks,
                                             const tdm_sources *sources, const char *file,
                                             struct tdm_swatches *swatches, tdm_error *error);

/* "level 4 (medium brown)", cut to room. */
void tdm_swatch_words(const tdm_swatch_entry *entry, char *out, size_t room);
/* Those that aren't rising, with commas. */
void tdm_swatches_falling_words(const struct tdm_swatches *swatches, tdm_text *out);

#endif
