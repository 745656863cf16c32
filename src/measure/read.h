/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a photograph while somebody looks on: for what is to be done with a zone's colours beside
 * measuring. */
#ifndef TDM_MEASURE_READ_H
#define TDM_MEASURE_READ_H

#include "measure/reading_parts.h"
#include "measure/sitting.h"
#include "strip/strip.h"

typedef struct tdm_read_watch {
    /* Called for every zone that could be measured, just after; the strip lives no longer than the call. An
     * error ends the reading, but TDM_ERR_UNUSABLE only becomes a warning of the zone. */
    tdm_code (*zone)(void *to, const tdm_reading *reading, size_t index, const tdm_strip *strip,
                     tdm_error *error);
    /* Called once after the zones; NULL where not wanted. The sitting lives no longer than the call. An error
     * ends the reading. */
    tdm_code (*photo)(void *to, const tdm_reading *reading, const tdm_sitting *sitting, tdm_error *error);
    void *to;
} tdm_read_watch;

/* As tdm_read_photo; watch may be NULL. */
TDM_MUST_CHECK tdm_code tdm_read_watched(const char *photo_path, const char *marks_path,
                                         const tdm_read_options *options, const tdm_read_watch *watch,
                                         tdm_reading **out, tdm_error *error);

#endif
