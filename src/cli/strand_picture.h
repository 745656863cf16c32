/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading with an eye to the picture of the strands, where --strands asks for one. */
#ifndef TDM_CLI_STRAND_PICTURE_H
#define TDM_CLI_STRAND_PICTURE_H

#include "options.h"

/* One of the photographs. *view stays NULL where no picture is asked for. */
TDM_MUST_CHECK tdm_code tdm_read_given(const tdm_options *options, size_t photo, tdm_reading **reading,
                                       tdm_strand_view **view, tdm_error *error);

/* Nothing where no picture is asked for. */
TDM_MUST_CHECK tdm_code tdm_put_strand_picture(const tdm_options *options,
                                               const tdm_strand_view *const *views, size_t count,
                                               tdm_error *error);

#endif
