/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A picture of light and dark strands: where the light ones lie, and which hair isn't to be lightened
 * again. */
#ifndef TIDEMARK_STRANDS_H
#define TIDEMARK_STRANDS_H

#include "tidemark/reading.h"

TDM_BEGIN_DECLS

/* What is kept of a photograph to draw from: small pictures of its zones, and, only where asked for, the part
 * of the photograph that holds them. */
typedef struct tdm_strand_view tdm_strand_view;

typedef struct tdm_strand_options {
    double
        skip_level; /* hair at that level or lighter isn't to be lightened, 1 to 12; NaN: the light strands */
    bool on_photo;  /* keep the photograph too, and draw the same on it: it may show more than hair */
} tdm_strand_options;

TDM_API tdm_strand_options tdm_strand_options_default(void);

/* Reads the photograph as tdm_read_photo does. options and how NULL mean the defaults. On TDM_OK *out and
 * *view are the caller's, each to be freed; the reading must outlive the view. TDM_ERR_USAGE for a skip level
 * outside 1 to 12. */
TDM_API TDM_MUST_CHECK tdm_code tdm_read_strands(const char *photo_path, const char *marks_path,
                                                 const tdm_read_options *options,
                                                 const tdm_strand_options *how, tdm_reading **out,
                                                 tdm_strand_view **view, tdm_error *error);
TDM_API void tdm_strand_view_free(tdm_strand_view *view); /* NULL is allowed */

/* A PNG picture of one photograph's view, or of two: before and after, zones of one name side by side. Zones
 * are laid straight, root up: the hair, its light strands, and what to skip. *bytes is to be freed with
 * tdm_free. TDM_ERR_UNUSABLE where no zone could be read, TDM_ERR_USAGE for another count. */
TDM_API TDM_MUST_CHECK tdm_code tdm_strand_picture(const tdm_strand_view *const *views, size_t count,
                                                   uint8_t **bytes, size_t *size, tdm_error *error);

TDM_END_DECLS

#endif
