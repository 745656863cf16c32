/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings and comparisons as text, JSON and CSV. Every call returns UTF-8 in *out, to be freed with
 * tdm_free; numbers have a full stop whatever the locale. */
#ifndef TIDEMARK_REPORT_H
#define TIDEMARK_REPORT_H

#include "tidemark/comparison.h"
#include "tidemark/plan.h"
#include "tidemark/swatches.h"
#include "tidemark/target.h"

TDM_BEGIN_DECLS

typedef struct tdm_text_style {
    bool colour;     /* ANSI bold and dim */
    bool truecolour; /* 24-bit swatches */
    bool unicode;    /* drawn profile in block characters; plain ASCII otherwise */
    unsigned width;  /* columns of the terminal, 40 to 200 */
} tdm_text_style;

TDM_API TDM_MUST_CHECK tdm_code tdm_reading_text(const tdm_reading *reading, const tdm_text_style *style,
                                                 char **out, tdm_error *error);
TDM_API TDM_MUST_CHECK tdm_code tdm_comparison_text(const tdm_comparison *comparison,
                                                    const tdm_text_style *style, char **out,
                                                    tdm_error *error);
TDM_API TDM_MUST_CHECK tdm_code tdm_reading_json(const tdm_reading *reading, char **out, tdm_error *error);
TDM_API TDM_MUST_CHECK tdm_code tdm_comparison_json(const tdm_comparison *comparison, char **out,
                                                    tdm_error *error);
/* One row a zone, and one for the head; a comparison has before, after and change columns. */
TDM_API TDM_MUST_CHECK tdm_code tdm_reading_csv(const tdm_reading *reading, char **out, tdm_error *error);
TDM_API TDM_MUST_CHECK tdm_code tdm_comparison_csv(const tdm_comparison *comparison, char **out,
                                                   tdm_error *error);

/* The uncertainty budget: for each zone a table of figure, u, and each component's size and share. */
TDM_API TDM_MUST_CHECK tdm_code tdm_reading_budget(const tdm_reading *reading, const tdm_text_style *style,
                                                   char **out, tdm_error *error);

TDM_API TDM_MUST_CHECK tdm_code tdm_target_text(const tdm_target_reading *target, const tdm_text_style *style,
                                                char **out, tdm_error *error);
TDM_API TDM_MUST_CHECK tdm_code tdm_target_json(const tdm_target_reading *target, char **out,
                                                tdm_error *error);
TDM_API TDM_MUST_CHECK tdm_code tdm_swatches_text(const tdm_swatches *swatches, const tdm_text_style *style,
                                                  char **out, tdm_error *error);
TDM_API TDM_MUST_CHECK tdm_code tdm_swatches_json(const tdm_swatches *swatches, char **out, tdm_error *error);

TDM_API TDM_MUST_CHECK tdm_code tdm_plan_text(const tdm_plan *plan, const tdm_text_style *style, char **out,
                                              tdm_error *error);
TDM_API TDM_MUST_CHECK tdm_code tdm_plan_json(const tdm_plan *plan, char **out, tdm_error *error);

/* A PNG picture of every zone laid straight: which hair not to lighten, how far the shade runs, what it would
 * look like; to be freed with tdm_free. TDM_ERR_UNUSABLE where no zone could be read. */
TDM_API TDM_MUST_CHECK tdm_code tdm_plan_map(const tdm_plan *plan, uint8_t **bytes, size_t *size,
                                             tdm_error *error);

/* As tdm_save, for what isn't text. */
TDM_API TDM_MUST_CHECK tdm_code tdm_save_bytes(const char *path, const void *bytes, size_t size,
                                               tdm_error *error);

/* Writes beside the file, syncs and renames, so that a crash leaves the old file or the new one. */
TDM_API TDM_MUST_CHECK tdm_code tdm_save(const char *path, const char *text, tdm_error *error);

TDM_END_DECLS

#endif
