/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/flat_field.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/flat_parts.h"

enum { LONGEST = 768, FEWEST_CELLS = 60 };
static const double most_clipped = 0.02, most_odd = 0.1;        /* shares of the cells */
static const double most_misfit = 0.15, doubtful_misfit = 0.05; /* stops */
static const double other_shape = 0.01;

static tdm_code check_shape(const tdm_photo *flat, uint32_t width, uint32_t height, const char *file,
                            tdm_error *error)
{
    const tdm_photo_info *about = tdm_photo_about(flat);
    const double wanted = (double)width / height, found = (double)about->width / about->height;
    if (fabs(found / wanted - 1) <= other_shape)
        return TDM_OK;
    return tdm_fail(
        error, TDM_ERR_UNUSABLE, file, "",
        "the flat-field photograph is %u by %u, of another shape than the picture's %u by %u: take "
        "it with the same camera, held the same way, and don't crop either",
        about->width, about->height, width, height);
}

static tdm_code check_cells(const tdm_flat_cells *cells, const char *file, tdm_error *error)
{
    const double all = (double)(cells->count + cells->clipped + cells->dark);
    if ((double)cells->clipped > most_clipped * all)
        return tdm_fail(
            error, TDM_ERR_UNUSABLE, file, "",
            "the flat-field photograph is clipped in %ld %% of its area: retake with less exposure",
            lround(100 * (double)cells->clipped / all));
    if ((double)cells->dark > most_odd * all)
        return tdm_fail(error, TDM_ERR_UNUSABLE, file, "",
                        "the flat-field photograph is too dark: retake with more exposure, so that the card "
                        "is about middle grey or lighter");
    if (cells->count < FEWEST_CELLS)
        return tdm_fail(error, TDM_ERR_UNUSABLE, file, "", "the flat-field photograph is too small");
    return TDM_OK;
}

static tdm_code check_fit(const tdm_flat_cells *cells, const tdm_light *light, const char *file,
                          tdm_warnings *warnings, tdm_error *error)
{
    double kept = 0;
    for (size_t i = 0; i < cells->count; i++)
        kept += cells->list[i].weight;
    const double left_out = 1 - kept / (double)cells->count;
    const long hundredths = lround(100 * light->misfit);
    if (left_out > most_odd || light->misfit > most_misfit)
        return tdm_fail(
            error, TDM_ERR_UNUSABLE, file, "",
            "the flat-field photograph isn't plain card: %ld %% of it stands out and the rest is 0.%02ld "
            "stops "
            "off a smooth surface; fill the picture with one plain matt card in the light of the other "
            "photograph",
            lround(100 * left_out), hundredths < 99 ? hundredths : 99);
    if (light->misfit > doubtful_misfit)
        return tdm_warn(
            warnings, error, "flat-field-rough", NULL,
            "the flat-field photograph is 0.%02ld stops off a smooth surface: creases, shadows or "
            "texture of the card; use a smooth matt one",
            hundredths);
    return TDM_OK;
}

static tdm_code fit_pixels(const tdm_device *device, const tdm_pixels *pixels,
                           const tdm_calibration *calibration, const char *file, tdm_warnings *warnings,
                           tdm_light *light, tdm_error *error)
{
    tdm_flat_cells cells = {0};
    tdm_code code =
        tdm_flat_measure(device, pixels, calibration, light->width, light->height, file, &cells, error);
    if (code == TDM_OK)
        code = check_cells(&cells, file, error);
    if (code == TDM_OK)
        code = tdm_flat_fit(cells.list, cells.count, file, light, error);
    if (code == TDM_OK)
        code = check_fit(&cells, light, file, warnings, error);
    free(cells.list);
    return code;
}

tdm_code tdm_flat_field(const tdm_device *device, tdm_photo *flat, const tdm_calibration *calibration,
                        uint32_t width, uint32_t height, const double at[2], const char *file,
                        tdm_warnings *warnings, tdm_light *out, tdm_error *error)
{
    tdm_light light = {.width = width, .height = height};
    tdm_pixels pixels = {0};
    double factor = 1;
    tdm_code code = check_shape(flat, width, height, file, error);
    if (code == TDM_OK)
        code = tdm_photo_read_small(flat, LONGEST, &pixels, &factor, error);
    if (code != TDM_OK)
        return code;
    code = fit_pixels(device, &pixels, calibration, file, warnings, &light, error);
    tdm_pixels_free(&pixels);
    if (code != TDM_OK)
        return code;
    tdm_light_centre(&light, at[0], at[1]);
    if (!(tdm_light_most(&light) <= TDM_LIGHT_MOST))
        return tdm_fail(
            error, TDM_ERR_UNUSABLE, file, "",
            "the flat-field photograph's light falls by more than %d stops: light the card evenly",
            TDM_LIGHT_MOST);
    *out = light;
    return TDM_OK;
}
