/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a failed allocation of the fits to greys or flat field were overlooked, or leaked what was
 * there before it (seen under the address sanitizer). GSL's own allocations aren't reached. */
#include <gsl/gsl_errno.h>
#include <stdlib.h>

#include "colour/drawn.h"
#include "colour/flat_field.h"
#include "colour/greys.h"
#include "colour/profiles.h"
#include "failing.h"
#include "photo/made.h"
#include "suite.h"

/* Two cards, the one half as bright: uneven light, and a warning where they are compared. */
typedef struct scene {
    tdm_pixels pixels;
    tdm_grey greys[2];
    tdm_device *device;
    made flat;
} scene;

static const double left[8] = {5, 5, 25, 5, 25, 35, 5, 35}, right[8] = {75, 5, 95, 5, 95, 35, 75, 35};

static unsigned card(unsigned x, unsigned y, int channel)
{
    (void)y, (void)channel;
    return 120 + x / 4;
}

static scene made_scene(void)
{
    static const double bright[3] = {0.46, 0.46, 0.46}, dim[3] = {0.3, 0.3, 0.3};
    scene out = {.pixels = draw_even(16, bright, 100, 40), .device = srgb_device()};
    for (uint32_t y = 0; y < 40; y++) {
        for (uint32_t x = 50; x < 100; x++)
            set_pixel(&out.pixels, x, y, dim);
    }
    out.greys[0] = (tdm_grey){left, 4, 50};
    out.greys[1] = (tdm_grey){right, 4, 50};
    out.flat = made_png(&(made_png_plan){.width = 100, .height = 40, .depth = 8, .type = 2, .sample = card});
    return out;
}

typedef tdm_code attempt(const scene *drawn, tdm_warnings *warnings, tdm_error *error);

static tdm_code try_greys(const scene *drawn, tdm_warnings *warnings, tdm_error *error)
{
    tdm_calibration fitted;
    return tdm_calibrate_grey(drawn->device, &drawn->pixels, drawn->greys, 2, 100, 40, NULL, "f", warnings,
                              &fitted, error);
}

static tdm_code try_beside(const scene *drawn, tdm_warnings *warnings, tdm_error *error)
{
    static const double at[2] = {50, 20};
    const tdm_calibration none = tdm_calibration_none(drawn->device);
    tdm_light light;
    bool used;
    tdm_code code = tdm_greys_light(drawn->device, &drawn->pixels, &none, drawn->greys, 2, 100, 40, at, "f",
                                    warnings, &light, &used, error);
    if (code == TDM_OK)
        code = tdm_greys_check(drawn->device, &drawn->pixels, &none, drawn->greys, 2, "f", warnings, error);
    return code;
}

static tdm_code try_flat(const scene *drawn, tdm_warnings *warnings, tdm_error *error)
{
    static const double at[2] = {50, 20};
    const tdm_calibration none = tdm_calibration_none(drawn->device);
    const tdm_limits limits = tdm_limits_default();
    tdm_photo *photo = NULL;
    tdm_light light;
    tdm_code code =
        tdm_photo_open_memory(drawn->flat.data, drawn->flat.size, "f", &limits, warnings, &photo, error);
    if (code == TDM_OK)
        code = tdm_flat_field(drawn->device, photo, &none, 100, 40, at, "f", warnings, &light, error);
    tdm_photo_close(photo);
    return code;
}

/* Fails the first allocation, then the second, and so on until the fit gets through. */
static void check_each(attempt *fit, long least)
{
    scene drawn = made_scene();
    long count = 0;
    for (bool through = false; !through; count++) {
        tdm_warnings warnings = {0};
        tdm_error error = {0};
        fail_allocation(count);
        const tdm_code code = fit(&drawn, &warnings, &error);
        through = failure_is_due();
        fail_allocation(-1);
        ck_assert_msg(code == (through ? TDM_OK : TDM_ERR_MEMORY), "allocation %ld: %d %s", count, code,
                      error.text);
        tdm_warnings_free(&warnings);
    }
    ck_assert_int_gt(count, least);
    tdm_device_free(drawn.device);
    free(drawn.pixels.rgb16);
    free(drawn.flat.data);
}

START_TEST(greys_alone)
{
    check_each(try_greys, 5);
}
END_TEST

START_TEST(greys_beside_a_target)
{
    check_each(try_beside, 7);
}
END_TEST

START_TEST(flat_field)
{
    check_each(try_flat, 50); /* each cell is an allocation */
}
END_TEST

int main(void)
{
    (void)gsl_set_error_handler_off();
    const TTest *const tests[] = {greys_alone, greys_beside_a_target, flat_field, NULL};
    return run_suite("memory of light", tests);
}
