/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jpeglib.h>
#include <setjmp.h>

#include "drawing.h"

typedef struct {
    struct jpeg_error_mgr base;
    jmp_buf back;
} trouble;

static void give_up(j_common_ptr info)
{
    info->err->output_message(info);
    longjmp(((trouble *)info->err)->back, 1);
}

static void mark_exif(struct jpeg_compress_struct *info, const scn_camera *camera)
{
    unsigned char block[6 + SCN_EXIF_MOST] = {'E', 'x', 'i', 'f', 0, 0};
    if (camera->orientation == 1 && !camera->taken)
        return;
    const size_t size = scn_exif_bytes(camera->orientation, camera->taken, block + 6);
    jpeg_write_marker(info, JPEG_APP0 + 1, block, (unsigned)(6 + size));
}

static void set_up(struct jpeg_compress_struct *info, const scn_camera *camera, size_t width, size_t height)
{
    info->image_width = (JDIMENSION)width;
    info->image_height = (JDIMENSION)height;
    info->input_components = 3;
    info->in_color_space = JCS_RGB;
    jpeg_set_defaults(info);
    jpeg_set_quality(info, camera->quality, TRUE);
    info->dct_method = JDCT_ISLOW;
    info->optimize_coding = TRUE;
    info->comp_info[0].h_samp_factor = camera->subsampling == 444 ? 1 : 2;
    info->comp_info[0].v_samp_factor = camera->subsampling == 420 ? 2 : 1;
}

static bool encode(struct jpeg_compress_struct *info, trouble *why, FILE *file, const scn_camera *camera,
                   const uint16_t *samples, size_t width, size_t height, unsigned char *row,
                   const unsigned char *icc, size_t icc_size)
{
    if (setjmp(why->back))
        return false;
    jpeg_stdio_dest(info, file);
    set_up(info, camera, width, height);
    jpeg_start_compress(info, TRUE);
    mark_exif(info, camera);
    if (icc)
        jpeg_write_icc_profile(info, icc, (unsigned)icc_size);
    while (info->next_scanline < info->image_height) {
        const uint16_t *from = samples + (size_t)info->next_scanline * 3 * width;
        for (size_t i = 0; i < 3 * width; i++)
            row[i] = (unsigned char)from[i];
        JSAMPROW rows[1] = {row};
        (void)jpeg_write_scanlines(info, rows, 1);
    }
    jpeg_finish_compress(info);
    return true;
}

bool scn_write_jpeg(const char *path, const scn_scene *scene, const uint16_t *samples, size_t width,
                    size_t height)
{
    struct jpeg_compress_struct info;
    trouble why;
    size_t icc_size = 0;
    unsigned char *row = malloc(3 * width);
    unsigned char *icc =
        scene->camera.profile == SCN_NO_PROFILE ? NULL : scn_profile_bytes(scene->camera.profile, &icc_size);
    FILE *file = fopen(path, "wb");
    bool good = row && file && (icc || scene->camera.profile == SCN_NO_PROFILE);
    if (good) {
        info.err = jpeg_std_error(&why.base);
        why.base.error_exit = give_up;
        jpeg_create_compress(&info);
        good = encode(&info, &why, file, &scene->camera, samples, width, height, row, icc, icc_size);
        jpeg_destroy_compress(&info);
    }
    if (file && fclose(file) != 0)
        good = false;
    free(icc);
    free(row);
    return good || scn_fail(path, "can't be written");
}
