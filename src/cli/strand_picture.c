/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "strand_picture.h"

#include "tidemark/report.h"

tdm_code tdm_read_given(const tdm_options *options, size_t photo, tdm_reading **reading,
                        tdm_strand_view **view, tdm_error *error)
{
    const char *path = options->photos.at[photo], *marks = tdm_options_marks(options, photo);
    const tdm_read_options how = tdm_options_reading(options, photo);
    const tdm_strand_options strands = tdm_options_strands(options);
    if (!options->outputs[TDM_OUTPUT_STRANDS])
        return tdm_read_photo(path, marks, &how, reading, error);
    return tdm_read_strands(path, marks, &how, &strands, reading, view, error);
}

tdm_code tdm_put_strand_picture(const tdm_options *options, const tdm_strand_view *const *views, size_t count,
                                tdm_error *error)
{
    const char *path = options->outputs[TDM_OUTPUT_STRANDS];
    uint8_t *bytes = NULL;
    size_t size = 0;
    if (!path)
        return TDM_OK;
    tdm_code code = tdm_strand_picture(views, count, &bytes, &size, error);
    if (code == TDM_OK)
        code = tdm_save_bytes(path, bytes, size, error);
    tdm_free(bytes);
    return code;
}
