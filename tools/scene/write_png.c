/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>

#include <png.h>
#include <setjmp.h>

#include "drawing.h"

static void describe(png_structp png, png_infop info, const scn_camera *camera, size_t width, size_t height)
{
    png_set_IHDR(png, info, (png_uint_32)width, (png_uint_32)height, camera->bits, PNG_COLOR_TYPE_RGB,
                 PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
    if (camera->profile != SCN_NO_PROFILE) {
        size_t size = 0;
        unsigned char *icc = scn_profile_bytes(camera->profile, &size);
        if (!icc)
            png_error(png, "no profile");
        png_set_iCCP(png, info, camera->profile == SCN_SRGB ? "sRGB" : "Display P3",
                     PNG_COMPRESSION_TYPE_BASE, icc, (png_uint_32)size);
        free(icc);
    }
    if (camera->orientation != 1 || camera->taken) {
        unsigned char block[SCN_EXIF_MOST];
        const size_t size = scn_exif_bytes(camera->orientation, camera->taken, block);
        png_set_eXIf_1(png, info, (png_uint_32)size, block);
    }
}

static bool encode(png_structp png, png_infop info, FILE *file, const scn_camera *camera,
                   const uint16_t *samples, size_t width, size_t height, unsigned char *row)
{
    if (setjmp(png_jmpbuf(png)))
        return false;
    png_init_io(png, file);
    png_set_compression_level(png, 3);
    describe(png, info, camera, width, height);
    png_write_info(png, info);
    for (size_t y = 0; y < height; y++) {
        const uint16_t *from = samples + y * 3 * width;
        for (size_t i = 0; i < 3 * width; i++) {
            if (camera->bits == 16) {
                row[2 * i] = (unsigned char)(from[i] >> 8);
                row[2 * i + 1] = (unsigned char)(from[i] & 0xff);
            } else
                row[i] = (unsigned char)from[i];
        }
        png_write_row(png, row);
    }
    png_write_end(png, info);
    return true;
}

bool scn_write_png(const char *path, const scn_scene *scene, const uint16_t *samples, size_t width,
                   size_t height)
{
    unsigned char *row = malloc(6 * width);
    FILE *file = fopen(path, "wb");
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
    png_infop info = png ? png_create_info_struct(png) : NULL;
    bool good = row && file && info && encode(png, info, file, &scene->camera, samples, width, height, row);
    png_destroy_write_struct(&png, &info);
    if (file && fclose(file) != 0)
        good = false;
    free(row);
    return good || scn_fail(path, "can't be written");
}
