/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A salon's own level scale from a photograph of its swatch ring. */
#ifndef TIDEMARK_SWATCHES_H
#define TIDEMARK_SWATCHES_H

#include "tidemark/reading.h"

TDM_BEGIN_DECLS

typedef struct tdm_swatches tdm_swatches;

/* The marks file's "swatches", each an area with its level, in a photograph with a target or grey card.
 * TDM_ERR_UNUSABLE where fewer than two can be read, or where there is neither target nor card nor
 * calibration. Swatches that don't get lighter with their level are TDM_OK, with tdm_swatches_rising() false.
 */
TDM_API TDM_MUST_CHECK tdm_code tdm_read_swatches(const char *photo_path, const char *marks_path,
                                                  const tdm_read_options *options, tdm_swatches **out,
                                                  tdm_error *error);
TDM_API void tdm_swatches_free(tdm_swatches *swatches); /* NULL is allowed */

typedef struct tdm_swatch {
    double level;
    const char *name; /* or NULL */
    double lab[3];    /* CIELAB D50 */
    double u;         /* expanded uncertainty of L* */
    double spread;    /* standard deviation of L* inside the area */
    bool rising; /* false for the fewest swatches whose removal leaves the rest lighter with each level */
} tdm_swatch;

TDM_API void tdm_swatches_photo(const tdm_swatches *swatches, tdm_photo_facts *out);
TDM_API size_t tdm_swatches_count(const tdm_swatches *swatches); /* in the order of their levels */
TDM_API void tdm_swatches_at(const tdm_swatches *swatches, size_t index, tdm_swatch *out);
TDM_API bool tdm_swatches_rising(const tdm_swatches *swatches);
TDM_API const tdm_warning *tdm_swatches_warnings(const tdm_swatches *swatches, size_t *count);

/* The scale file's text, to be freed with tdm_free. TDM_ERR_UNUSABLE, naming the swatches, where they don't
 * rise. */
TDM_API TDM_MUST_CHECK tdm_code tdm_swatches_scale(const tdm_swatches *swatches, char **out,
                                                   tdm_error *error);

TDM_END_DECLS

#endif
