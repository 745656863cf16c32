/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a swatch's colour other than the mean of its light, calibration left out, exclusions and
 * clipped or black pixels taken in, an uncertainty that pixels rather than strands decide or that knows
 * nothing of the light, a wrong swatch let into a scale. */
#include <math.h>
#include <string.h>

#include "colour/drawn.h"
#include "colour/profiles.h"
#include "marks/scale_file.h"
#include "measure/swatches_parts.h"
#include "suite.h"

enum { SIDE = 120, GAP = 20, MOST = 5 };

/* Swatches side by side, each of vertical strands a few pixels wide, half of them lighter and half darker by
 * `strands` of their light. Neutral, so that L* of the mean light is known by the formula of CIELAB alone. */
typedef struct ring {
    size_t count;
    double levels[MOST], lstars[MOST], strands;
    double exposure; /* of the photograph */
    tdm_pixels pixels;
    double corners[MOST][8];
    tdm_swatch_marks swatches[MOST];
    tdm_marks marks;
    tdm_device *device;
    tdm_calibration calibration;
    double stops[MOST]; /* of light against that at the card */
    struct tdm_swatches *found;
} ring;

static double light_of(double lstar)
{
    const double f = (lstar + 16) / 116;
    return f * f * f;
}

static void paint(ring *it, size_t index)
{
    for (uint32_t y = GAP; y < GAP + SIDE; y++) {
        for (uint32_t x = 0; x < SIDE; x++) {
            const double strand = x / 3 % 2 ? 1 + it->strands : 1 - it->strands;
            const double e = encode_srgb(fmin(1, it->exposure * strand * light_of(it->lstars[index])));
            const double encoded[3] = {e, e, e};
            set_pixel(&it->pixels, (uint32_t)(GAP + index * (SIDE + GAP)) + x, y, encoded);
        }
    }
}

static void draw(ring *it)
{
    const double surround[3] = {0.5, 0.2, 0.2};
    it->pixels = draw_even(16, surround, (uint32_t)(GAP + it->count * (SIDE + GAP)), SIDE + 2 * GAP);
    it->marks = (tdm_marks){.width = it->pixels.rect.width,
                            .height = it->pixels.rect.height,
                            .swatches = it->swatches,
                            .swatch_count = it->count};
    for (size_t i = 0; i < it->count; i++) {
        const double left = (double)(GAP + i * (SIDE + GAP)), top = GAP;
        const double at[8] = {left, top, left + SIDE, top, left + SIDE, top + SIDE, left, top + SIDE};
        memcpy(it->corners[i], at, sizeof at);
        it->swatches[i] = (tdm_swatch_marks){.polygon = {it->corners[i], 4}, .level = it->levels[i]};
        paint(it, i);
    }
    it->device = srgb_device();
    it->calibration = tdm_calibration_none(it->device);
    it->calibration.method = TDM_CALIBRATION_GREY;
    for (int c = 0; c < 3; c++)
        it->calibration.gain[c] = 1 / it->exposure;
}

static tdm_code measure(ring *it, tdm_error *error)
{
    it->found = calloc(1, sizeof *it->found);
    ck_assert_ptr_nonnull(it->found);
    tdm_sources sources[MOST];
    for (size_t i = 0; i < MOST; i++)
        sources[i] = (tdm_sources){.lstar = 0.5, .stops = it->stops[i]};
    it->found->file = strdup("ring.jpg");
    return tdm_swatches_measure(it->device, &it->calibration, &it->pixels, &it->marks, sources, "ring.jpg",
                                it->found, error);
}

static void clear(ring *it)
{
    tdm_swatches_free(it->found);
    tdm_pixels_free(&it->pixels);
    tdm_device_free(it->device);
}

static ring five(void)
{
    return (ring){.count = 5,
                  .levels = {7, 3, 5, 4, 6},
                  .lstars = {41, 22, 30, 26, 35},
                  .strands = 0.2,
                  .exposure = 0.7};
}

/* 16-bit codes are worth under 0.01 L* here, single precision less. Trimming takes out as much of either kind
 * of strand. */
START_TEST(mean_light_of_strands)
{
    static const double want_level[] = {3, 4, 5, 6, 7}, want_lstar[] = {22, 26, 30, 35, 41};
    ring it = five();
    tdm_error error = {0};
    draw(&it);
    it.swatches[1].name = strdup("deep");
    ck_assert_msg(measure(&it, &error) == TDM_OK, "%s", error.text);
    ck_assert_uint_eq(tdm_swatches_count(it.found), 5);
    ck_assert(tdm_swatches_rising(it.found));
    ck_assert_uint_eq(it.found->warnings.count, 0);
    for (size_t i = 0; i < 5; i++) {
        tdm_swatch swatch;
        tdm_swatches_at(it.found, i, &swatch);
        ck_assert_double_eq(swatch.level, want_level[i]);
        ck_assert_double_eq_tol(swatch.lab[0], want_lstar[i], 0.02);
        ck_assert_double_eq_tol(swatch.lab[1], 0, 0.02);
        ck_assert(swatch.rising);
        /* half the difference between the two kinds of strands */
        const double light = 116 * cbrt(1.2 * light_of(want_lstar[i])),
                     dark = 116 * cbrt(0.8 * light_of(want_lstar[i]));
        ck_assert_double_eq_tol(swatch.spread, (light - dark) / 2, 0.05);
        ck_assert_double_ge(swatch.u, 2 * 0.5); /* what the calibration leaves */
        ck_assert_double_lt(swatch.u, 2 * 1.0); /* twenty strands of each kind lie in every other band */
    }
    tdm_swatch first;
    tdm_swatches_at(it.found, 0, &first);
    ck_assert_str_eq(first.name, "deep");
    free(it.swatches[1].name);
    clear(&it);
}
END_TEST

/* Strands as wide as a band: the uncertainty is that of a few strands, however many pixels they have. A mean
 * of n values of standard deviation s has s / sqrt(n); eight bands let that vary by about a half. */
START_TEST(uncertainty_is_of_strands)
{
    ring it = {.count = 2, .levels = {4, 6}, .lstars = {26, 35}, .strands = 0, .exposure = 1};
    tdm_error error = {0};
    draw(&it);
    static const double steps[8] = {1.1, 0.9, 0.95, 1.1, 0.85, 1.0, 1.15, 0.95};
    double sum = 0, square = 0;
    for (uint32_t x = 0; x < SIDE; x++) {
        const double e = encode_srgb(steps[x * 8 / SIDE] * light_of(26));
        const double encoded[3] = {e, e, e};
        for (uint32_t y = 0; y < SIDE; y++)
            set_pixel(&it.pixels, GAP + x, GAP + y, encoded);
    }
    for (size_t i = 0; i < 8; i++) {
        const double lstar = 116 * cbrt(steps[i] * light_of(26)) - 16;
        sum += lstar / 8;
        square += lstar * lstar / 8;
    }
    const double want = sqrt((square - sum * sum) * 8 / 7 / 8);
    ck_assert_int_eq(measure(&it, &error), TDM_OK);
    /* The trim takes an edge off the lightest and darkest band. */
    ck_assert_double_eq_tol(it.found->entries[0].u_sampling, want, 0.05 * want);
    ck_assert_double_eq_tol(it.found->entries[0].u, 2 * hypot(want, 0.5), 0.05);
    ck_assert_double_lt(it.found->entries[1].u_sampling, 0.01);
    clear(&it);
}
END_TEST

START_TEST(exclusions_are_left_out)
{
    ring it = five();
    tdm_error error = {0};
    const double white[3] = {0.9, 0.9, 0.9};
    /* a label over a third of the second swatch */
    double label[8] = {GAP + 140,        GAP,      GAP + 140 + SIDE, GAP,
                       GAP + 140 + SIDE, GAP + 40, GAP + 140,        GAP + 40};
    tdm_polyline exclude = {label, 4};
    draw(&it);
    for (uint32_t y = GAP; y < GAP + 40; y++) {
        for (uint32_t x = 0; x < SIDE; x++)
            set_pixel(&it.pixels, GAP + 140 + x, y, white);
    }
    it.marks.excludes = &exclude;
    it.marks.exclude_count = 1;
    ck_assert_int_eq(measure(&it, &error), TDM_OK);
    ck_assert_double_eq_tol(it.found->entries[0].lab[0], 22, 0.02);
    clear(&it);
}
END_TEST

static const tdm_warning *warning_of(const ring *it, const char *code)
{
    size_t count = 0;
    const tdm_warning *list = tdm_swatches_warnings(it->found, &count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(list[i].code, code) == 0)
            return &list[i];
    }
    return NULL;
}

/* A tenth of the third swatch burnt out: it is left out with a warning that names it; when only one is left,
 * that is an error. */
START_TEST(clipped_swatches)
{
    ring it = five();
    tdm_error error = {0};
    const double white[3] = {1, 1, 1};
    draw(&it);
    for (uint32_t y = GAP; y < GAP + SIDE / 10; y++) {
        for (uint32_t x = 0; x < SIDE; x++)
            set_pixel(&it.pixels, GAP + 280 + x, y, white);
    }
    ck_assert_int_eq(measure(&it, &error), TDM_OK);
    ck_assert_uint_eq(tdm_swatches_count(it.found), 4);
    ck_assert_ptr_nonnull(warning_of(&it, "swatch-unusable"));
    ck_assert_ptr_nonnull(strstr(warning_of(&it, "swatch-unusable")->text, "swatches[2] is clipped"));
    tdm_swatches_free(it.found);
    it.marks.swatches = it.swatches + 1;
    it.marks.swatch_count = 2;
    ck_assert_int_eq(measure(&it, &error), TDM_ERR_UNUSABLE);
    ck_assert_str_eq(error.place, "swatches[1]");
    ck_assert_str_eq(error.file, "ring.jpg");
    clear(&it);
}
END_TEST

/* A fifth of the third swatch without light: what is left would be lighter than the swatch. One in a hundred
 * is in any photograph. */
START_TEST(black_swatches)
{
    static const double black[3] = {0, 0, 0};
    for (uint32_t rows = 1; rows <= SIDE / 5; rows += SIDE / 5 - 1) {
        ring it = five();
        tdm_error error = {0};
        draw(&it);
        for (uint32_t y = GAP; y < GAP + rows; y++) {
            for (uint32_t x = 0; x < SIDE; x++)
                set_pixel(&it.pixels, GAP + 280 + x, y, black);
        }
        ck_assert_int_eq(measure(&it, &error), TDM_OK);
        const tdm_warning *warning = warning_of(&it, "swatch-unusable");
        ck_assert_int_eq(warning != NULL, rows > 1);
        ck_assert_uint_eq(tdm_swatches_count(it.found), rows > 1 ? 4 : 5);
        if (warning)
            ck_assert_str_eq(warning->text, "swatches[2] is black without detail: expose more");
        clear(&it);
    }
}
END_TEST

/* Light of 0.3 stops more multiplies Y by 2^0.3: the difference of L* that makes, by the formula of CIELAB
 * itself; its slope, which the budget takes, is within 4 % of that. Without strands and spread only the
 * calibration's half a unit stands beside it. */
START_TEST(light_is_in_the_uncertainty)
{
    ring it = five();
    tdm_error error = {0};
    it.strands = 0;
    it.stops[0] = 0.3; /* level 7, L* 41 */
    it.stops[3] = 0.1; /* level 4, L* 26 */
    draw(&it);
    ck_assert_int_eq(measure(&it, &error), TDM_OK);
    const double far = (41 + 16) * (cbrt(exp2(0.3)) - 1), near = (26 + 16) * (cbrt(exp2(0.1)) - 1);
    ck_assert_double_eq_tol(it.found->entries[4].u, 2 * hypot(0.5, far), 0.04 * 2 * far);
    ck_assert_double_eq_tol(it.found->entries[1].u, 2 * hypot(0.5, near), 0.04 * 2 * near);
    ck_assert_double_eq_tol(it.found->entries[0].u, 1, 0.01);
    clear(&it);
}
END_TEST

START_TEST(too_few_and_too_small)
{
    ring it = five();
    tdm_error error = {0};
    draw(&it);
    it.marks.swatch_count = 1;
    ck_assert_int_eq(measure(&it, &error), TDM_ERR_UNUSABLE);
    ck_assert_str_eq(error.place, "swatches");
    tdm_swatches_free(it.found);
    it.marks.swatch_count = 2;
    it.corners[0][2] = it.corners[0][4] = GAP + 9;
    it.corners[0][5] = it.corners[0][7] = GAP + 10;
    ck_assert_int_eq(measure(&it, &error), TDM_ERR_UNUSABLE);
    ck_assert_str_eq(error.place, "swatches[0]");
    ck_assert_ptr_nonnull(strstr(error.text, "too small"));
    clear(&it);
}
END_TEST

START_TEST(a_swatch_out_of_order)
{
    ring it = five();
    tdm_error error = {0};
    char *text = NULL, name[] = "hazel";
    it.lstars[2] = 18; /* level 5 */
    draw(&it);
    it.swatches[2].name = name;
    ck_assert_int_eq(measure(&it, &error), TDM_OK);
    ck_assert(!tdm_swatches_rising(it.found));
    for (size_t i = 0; i < 5; i++) {
        tdm_swatch swatch;
        tdm_swatches_at(it.found, i, &swatch);
        ck_assert(swatch.rising == (swatch.level != 5));
    }
    ck_assert_ptr_nonnull(warning_of(&it, "swatch-order"));
    ck_assert_ptr_nonnull(strstr(warning_of(&it, "swatch-order")->text, "out of order: level 5 (hazel)."));
    ck_assert_int_eq(tdm_swatches_scale(it.found, &text, &error), TDM_ERR_UNUSABLE);
    ck_assert_ptr_nonnull(strstr(error.text, "level 5 (hazel)"));
    ck_assert_ptr_null(text);
    clear(&it);
}
END_TEST

/* Half a unit apart, with bands that differ by more. */
START_TEST(swatches_hardly_apart)
{
    ring it = {.count = 3, .levels = {4, 4.5, 6}, .lstars = {26, 26.3, 35}, .strands = 0.2, .exposure = 1};
    tdm_error error = {0};
    draw(&it);
    ck_assert_int_eq(measure(&it, &error), TDM_OK);
    ck_assert_ptr_nonnull(warning_of(&it, "swatch-close"));
    ck_assert_ptr_nonnull(strstr(warning_of(&it, "swatch-close")->text, "level 4 and level 4.5"));
    clear(&it);
}
END_TEST

static void read_scale(const ring *it, tdm_level_scale *scale)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    tdm_error error = {0};
    char *text = NULL;
    ck_assert_int_eq(tdm_swatches_scale(it->found, &text, &error), TDM_OK);
    ck_assert_msg(tdm_scale_parse(text, strlen(text), "s", &limits, &warnings, scale, &error) == TDM_OK, "%s",
                  error.text);
    ck_assert_uint_eq(warnings.count, 0);
    tdm_free(text);
}

START_TEST(the_scale_of_the_swatches)
{
    ring it = five();
    tdm_error error = {0};
    tdm_level_scale scale;
    draw(&it);
    ck_assert_int_eq(measure(&it, &error), TDM_OK);
    strcpy(it.found->taken, "2026-03-14T09:26:53");
    read_scale(&it, &scale);
    ck_assert_str_eq(scale.note, "your swatches, ring.jpg, 2026-03-14");
    ck_assert_uint_eq(scale.count, 5);
    /* a swatch has its own level; hair between two lies between their levels, linear in ln L* */
    ck_assert_double_eq_tol(tdm_level_from_lstar(&scale, 30), 5, 0.01);
    ck_assert_double_eq_tol(tdm_level_from_lstar(&scale, sqrt(30.0 * 35)), 5.5, 0.01);
    it.found->taken[0] = '\0';
    read_scale(&it, &scale);
    ck_assert_str_eq(scale.note, "your swatches, ring.jpg");
    clear(&it);
}
END_TEST

START_TEST(a_long_file_name_is_cut_between_characters)
{
    ring it = five();
    tdm_error error = {0};
    tdm_level_scale scale;
    draw(&it);
    ck_assert_int_eq(measure(&it, &error), TDM_OK);
    strcpy(it.found->taken, "2026-03-14T09:26:53");
    for (size_t lead = 0; lead < 2; lead++) {
        char name[256] = "a";
        name[lead] = '\0';
        for (int i = 0; i < 100; i++)
            strcat(name, "\xc3\xa4");
        free(it.found->file);
        it.found->file = strdup(name);
        read_scale(&it, &scale); /* which must be UTF-8 */
        ck_assert_uint_le(strlen(scale.note), 95);
        ck_assert_uint_ge(strlen(scale.note), 94);
        ck_assert_ptr_null(strchr(scale.note, '?'));
        ck_assert_ptr_nonnull(strstr(scale.note, "..., 2026-03-14"));
    }
    clear(&it);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {mean_light_of_strands,
                                  uncertainty_is_of_strands,
                                  exclusions_are_left_out,
                                  clipped_swatches,
                                  black_swatches,
                                  light_is_in_the_uncertainty,
                                  too_few_and_too_small,
                                  a_swatch_out_of_order,
                                  swatches_hardly_apart,
                                  the_scale_of_the_swatches,
                                  a_long_file_name_is_cut_between_characters,
                                  NULL};
    return run_suite("swatches", tests);
}
