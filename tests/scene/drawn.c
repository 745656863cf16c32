/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawn.h"

#include <math.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

#include <png.h>

#include "suite.h"

extern char **environ;

int drawn_make(const char *name, const char *const *sets)
{
    char *arguments[64], base[512], program[] = SCENE_PROGRAM, empty[] = SCENE_FOLDER "/empty.json",
                                    set[] = "--set";
    size_t count = 0;
    pid_t child = 0;
    int status = 0;
    FILE *file = fopen(empty, "w");
    ck_assert_ptr_nonnull(file);
    ck_assert_int_eq(fputs("{}", file) >= 0 && fclose(file) == 0, 1);
    (void)snprintf(base, sizeof base, "%s/%s", SCENE_FOLDER, name);
    arguments[count++] = program;
    for (; *sets && count < 60; sets++) {
        arguments[count++] = set;
        arguments[count++] = (char *)(uintptr_t)*sets;
    }
    arguments[count++] = empty;
    arguments[count++] = base;
    arguments[count] = NULL;
    ck_assert_int_eq(posix_spawn(&child, program, NULL, NULL, arguments, environ), 0);
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

json_t *drawn_json(const char *name, const char *ending)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/%s.%s", SCENE_FOLDER, name, ending);
    json_t *value = json_load_file(path, 0, NULL);
    ck_assert_msg(value != NULL, "%s", path);
    return value;
}

void drawn_open(const char *name, drawn_picture *out)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/%s.png", SCENE_FOLDER, name);
    FILE *file = fopen(path, "rb");
    ck_assert_ptr_nonnull(file);
    png_structp png = png_create_read_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
    png_infop info = png_create_info_struct(png);
    ck_assert_ptr_nonnull(info);
    png_init_io(png, file);
    /* 8-bit samples are widened by 257, so that both depths are shares of 65535; this machine's own order. */
    png_read_info(png, info);
    png_set_expand_16(png);
    png_set_swap(png);
    png_read_update_info(png, info);
    *out =
        (drawn_picture){.width = png_get_image_width(png, info), .height = png_get_image_height(png, info)};
    out->rgb = malloc(6 * out->width * out->height);
    ck_assert_ptr_nonnull(out->rgb);
    for (size_t y = 0; y < out->height; y++)
        png_read_row(png, (png_bytep)(out->rgb + 3 * y * out->width), NULL);
    png_destroy_read_struct(&png, &info, NULL);
    ck_assert_int_eq(fclose(file), 0);
}

void drawn_close(drawn_picture *picture)
{
    free(picture->rgb);
    picture->rgb = NULL;
}

void drawn_made(const char *name, const char *const *sets, drawn_picture *out)
{
    ck_assert_int_eq(drawn_make(name, sets), 0);
    drawn_open(name, out);
}

void drawn_xyz(const drawn_picture *picture, size_t x0, size_t y0, size_t width, size_t height, double xyz[3])
{
    /* Linear sRGB to XYZ, adapted to D50 by Bradford (IEC 61966-2-1 primaries). */
    static const double m[3][3] = {{0.4360747, 0.3850649, 0.1430804},
                                   {0.2225045, 0.7168786, 0.0606169},
                                   {0.0139322, 0.0971045, 0.7141733}};
    double sum[3] = {0, 0, 0};
    ck_assert(x0 + width <= picture->width && y0 + height <= picture->height && width > 0 && height > 0);
    for (size_t y = y0; y < y0 + height; y++) {
        for (size_t i = 3 * x0; i < 3 * (x0 + width); i++) {
            const double v = picture->rgb[y * 3 * picture->width + i] / 65535.0;
            sum[i % 3] += v <= 0.04045 ? v / 12.92 : pow((v + 0.055) / 1.055, 2.4);
        }
    }
    for (int k = 0; k < 3; k++)
        xyz[k] = (m[k][0] * sum[0] + m[k][1] * sum[1] + m[k][2] * sum[2]) / (double)(width * height);
}

static const double white[3] = {0.9642, 1.0, 0.8249};

void drawn_lab_of(const double xyz[3], double lab[3])
{
    double f[3];
    for (int k = 0; k < 3; k++) {
        const double t = xyz[k] / white[k];
        f[k] = t > 216.0 / 24389 ? cbrt(t) : (24389.0 / 27 * t + 16) / 116;
    }
    lab[0] = 116 * f[1] - 16;
    lab[1] = 500 * (f[0] - f[1]);
    lab[2] = 200 * (f[1] - f[2]);
}

void drawn_xyz_of(const double lab[3], double xyz[3])
{
    const double y = (lab[0] + 16) / 116, f[3] = {y + lab[1] / 500, y, y - lab[2] / 200};
    for (int k = 0; k < 3; k++)
        xyz[k] = white[k] * (f[k] > 6.0 / 29 ? f[k] * f[k] * f[k] : (116 * f[k] - 16) * 27 / 24389);
}

void drawn_lab(const drawn_picture *picture, size_t x0, size_t y0, size_t width, size_t height, double lab[3])
{
    double xyz[3];
    drawn_xyz(picture, x0, y0, width, height, xyz);
    drawn_lab_of(xyz, lab);
}

json_t *drawn_key(json_t *root, const char *path)
{
    char part[64];
    while (root && *path) {
        const size_t length = strcspn(path, ".");
        ck_assert_uint_lt(length, sizeof part);
        memcpy(part, path, length);
        part[length] = 0;
        root = json_object_get(root, part);
        path += path[length] ? length + 1 : length;
    }
    return root;
}

double drawn_difference(const double a[3], const double b[3])
{
    return sqrt(pow(a[0] - b[0], 2) + pow(a[1] - b[1], 2) + pow(a[2] - b[2], 2));
}

void drawn_triple(const json_t *list, double out[3])
{
    ck_assert_uint_eq(json_array_size(list), 3);
    for (size_t i = 0; i < 3; i++)
        out[i] = json_number_value(json_array_get(list, i));
}

double drawn_zone_number(const json_t *truth, size_t zone, const char *path)
{
    json_t *one = json_array_get(json_object_get(truth, "zones"), zone);
    const json_t *value = drawn_key(one, path);
    ck_assert_msg(json_is_number(value), "%s", path);
    return json_number_value(value);
}
