/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: the sense of slant, angles of slanted and waving strands, a line or a hole taken for a strand,
 * directions made up where there are none, the following of a strand. */
#include <gsl/gsl_math.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "measure/strand_field.h"
#include "measure/strand_tensor.h"
#include "measure/synthetic.h"
#include "suite.h"

#define RADIANS (M_PI / 180)

/* Strands that run along `across - course(s)`: the truth is the course's derivative. */
typedef struct strands {
    double slant;                 /* slope of all */
    double amplitude, wavelength; /* of a wave of all, mm; 0 for none */
    double pitch;           /* of stripes, mm; 0: strands of random width and lightness, about a millimetre */
    double contrast, noise; /* L*; standard deviation of the noise, a cell */
    double line;            /* from here on 25 L* lighter, mm; 0 for none */
} strands;

static double course(const strands *of, double s)
{
    return of->slant * s + (of->amplitude > 0 ? of->amplitude * sin(2 * M_PI * s / of->wavelength) : 0);
}

static double slope(const strands *of, double s)
{
    const double turn = of->amplitude > 0 ? 2 * M_PI / of->wavelength : 0;
    return of->slant + of->amplitude * turn * cos(turn * s);
}

/* About -1 to 1. */
static double lightness(const strands *of, double u)
{
    if (of->pitch > 0)
        return sin(2 * M_PI * u / of->pitch);
    const double cell = 0.5, at = (u + 1000) / cell;
    double sum = 0;
    for (int k = -3; k <= 3; k++) { /* bumps half a millimetre apart, of random lightness */
        const double i = floor(at) + k, far = at - i - 0.5;
        sum += exp(-far * far) * synthetic_noise((unsigned)i, 11);
    }
    return 0.5 * sum;
}

static void colour(double s, double t, const void *about, double lab[3])
{
    const strands *of = about;
    lab[0] = 35 + of->contrast * lightness(of, t - course(of, s)) + (of->line > 0 && s > of->line ? 25 : 0) +
             of->noise * synthetic_noise((unsigned)(s * 4), (unsigned)(t * 4) + 5000);
    lab[1] = 6;
    lab[2] = 15;
}

typedef struct errors {
    double mean, most; /* degrees, over all nodes */
} errors;

static errors judge_strip(const strands *of, const tdm_strip *strip)
{
    tdm_strand_field field;
    tdm_error error = {0};
    errors found = {0, 0};
    ck_assert_int_eq(tdm_strand_field_make(strip, &field, &error), TDM_OK);
    ck_assert_uint_gt(field.rows * field.cols, 0);
    for (size_t i = 0; i < field.rows * field.cols; i++) {
        const double s = ((double)(i / field.cols) + 0.5) * field.step;
        const double off = fabs(atan(field.slope[i]) - atan(slope(of, s))) / RADIANS;
        found.mean += off / (double)(field.rows * field.cols);
        found.most = fmax(found.most, off);
    }
    tdm_strand_field_free(&field);
    return found;
}

static void clear(tdm_strip *strip)
{
    free(strip->xyz);
    free(strip->lab);
    free(strip->use);
}

static errors judge(const strands *of, bool holes)
{
    tdm_strip strip = synthetic_strip(120, 60, colour, of);
    for (size_t i = 0; holes && i < strip.rows * strip.cols; i++) {
        const double s = 0.25 * (double)(i / strip.cols), t = 0.25 * (double)(i % strip.cols);
        if ((s > 40 && s < 60 && t > 20 && t < 35) || (s > 80 && s < 82) ||
            synthetic_noise((unsigned)i, 3) > 1.3) {
            strip.use[i] = 0;
            strip.lab[3 * i] = 0; /* what is masked mustn't matter */
        }
    }
    const errors found = judge_strip(of, &strip);
    clear(&strip);
    return found;
}

static strands slanted(double degrees)
{
    return (strands){.slant = tan(degrees * RADIANS), .contrast = 8, .noise = 1};
}

/* The bounds are the use's: a strand 2 mm wide followed over 20 mm at 1 degree off is off by 0.35 mm. */
START_TEST(slanted_strands)
{
    static const double slants[] = {0, 10, -20, 30, -45};
    for (int i = 0; i < 5; i++) {
        strands truth = slanted(slants[i]);
        ck_assert_double_lt(judge(&truth, false).mean, 1);
        truth.pitch = i % 2 ? 1.5 : 4;
        const errors stripes = judge(&truth, false);
        ck_assert_double_lt(stripes.mean, 1);
        ck_assert_double_lt(stripes.most, 3);
    }
}
END_TEST

START_TEST(waves)
{
    strands truth = {.amplitude = 8, .wavelength = 60, .contrast = 8, .noise = 1};
    ck_assert_double_lt(judge(&truth, false).mean, 3);
    truth.pitch = 4;
    ck_assert_double_lt(judge(&truth, false).mean, 3);
}
END_TEST

/* A camera in poor light: 6 L* a cell, above what the strands differ by. */
START_TEST(noise)
{
    strands truth = slanted(30);
    truth.noise = 6;
    ck_assert_double_lt(judge(&truth, false).mean, 2);
}
END_TEST

/* Holes in mid-strip, a band across, one cell in ten, and a line of 25 L* where strands differ by 2: nodes in
 * the hole have only their neighbours to go by. */
START_TEST(lines_and_holes_are_not_strands)
{
    for (int degrees = 0; degrees <= 30; degrees += 15) {
        strands truth = slanted(degrees);
        truth.line = 60;
        ck_assert_double_lt(judge(&truth, false).mean, 1);
        ck_assert_double_lt(judge(&truth, true).mean, 1);
        truth.contrast = 2;
        const errors faint = judge(&truth, true);
        ck_assert_double_lt(faint.mean, 1);
        ck_assert_double_lt(faint.most, 6);
    }
}
END_TEST

/* Hair of one colour tells nothing: straight down is the answer, not noise. */
START_TEST(no_strands_no_slant)
{
    strands none = {.line = 60};
    const errors still = judge(&none, false);
    ck_assert_double_lt(still.most, 0.1);
    none.noise = 2;
    ck_assert_double_lt(judge(&none, true).mean, 6);
}
END_TEST

START_TEST(a_strand_is_followed_both_ways)
{
    const strands truth = {.amplitude = 8, .wavelength = 60, .pitch = 4, .contrast = 8};
    tdm_strip strip = synthetic_strip(120, 60, colour, &truth);
    tdm_strand_field field;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_strand_field_make(&strip, &field, &error), TDM_OK);
    const double start = 30 + course(&truth, 20);
    for (double to = 5; to <= 110; to += 15) /* a wave's slope is smoothed by up to 8 %: 8 mm times that */
        ck_assert_double_eq_tol(tdm_strand_field_follow(&field, 20, start, to), 30 + course(&truth, to), 1);
    const double there = tdm_strand_field_follow(&field, 20, start, 90);
    ck_assert_double_eq_tol(tdm_strand_field_follow(&field, 90, there, 20), start, 0.05); /* midpoint rule */
    ck_assert_double_eq_tol(tdm_strand_field_follow(&field, 20, start, 20), start, 1e-12);
    ck_assert_double_eq_tol(tdm_strand_field_slope(&field, -50, 30), tdm_strand_field_slope(&field, 0, 30),
                            1e-12);
    tdm_strand_field_free(&field);
    clear(&strip);
}
END_TEST

/* Mean products, and slope and coherence of their eigenvectors and eigenvalues by scikit-image and numpy; six
 * digits are stored. */
START_TEST(tensors_as_scikit_image_reads_them)
{
    FILE *file = fopen(TEST_DATA "/measure/tensor_reference.csv", "r");
    char line[256];
    int rows = 0;
    ck_assert_ptr_nonnull(file);
    while (fgets(line, sizeof line, file)) {
        tdm_tensor of;
        double steep, coherence;
        if (sscanf(line, "%lf,%lf,%lf,%lf,%lf", &of.ss, &of.st, &of.tt, &steep, &coherence) != 5)
            continue;
        ck_assert_double_eq_tol(tan(tdm_tensor_angle(&of)), steep, 2e-6);
        ck_assert_double_eq_tol(tdm_tensor_coherence(&of), coherence, 2e-6);
        rows++;
    }
    fclose(file);
    ck_assert_int_gt(rows, 20);
}
END_TEST

/* As picture() in the script that made the reference. */
static void reference_colour(double s, double t, const void *about, double lab[3])
{
    const char *name = about;
    const double u =
        name[0] == 'w' ? t - 6 * sin(2 * M_PI * s / 70) : (t - 30) / (1 + s / 100); /* wave or fan */
    lab[0] = 35 + 6 * sin(2 * M_PI * u / 4) + 3 * sin(2 * M_PI * u / 2.3 + 1);
    if (name[0] == 'c')
        lab[0] = 35 + 8 * sin(2 * M_PI * (t - 0.3 * s) / 5) + 2 * sin(2 * M_PI * (t + 0.2 * s) / 2.5);
    lab[1] = 6;
    lab[2] = 15;
}

/* Means over 3 mm, before nodes get equal votes and wider means are added. */
static void plain_field(const tdm_strip *strip, tdm_strand_field *out)
{
    tdm_tensor_grid grid;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_tensor_grid_make(strip, &grid, &error), TDM_OK);
    const size_t count = grid.rows * grid.cols;
    tdm_tensor *mean = calloc(count, sizeof *mean);
    *out = (tdm_strand_field){.rows = grid.rows, .cols = grid.cols, .step = grid.step};
    out->slope = calloc(count, sizeof *out->slope);
    ck_assert(mean && out->slope);
    ck_assert_int_eq(tdm_tensor_spread(&grid, 3 / grid.step, 1, mean, &error), TDM_OK);
    for (size_t i = 0; i < count; i++)
        out->slope[i] = tan(tdm_tensor_angle(mean + i));
    tdm_tensor_grid_free(&grid);
    free(mean);
}

/* Greatest difference of angles from the stored ones, degrees. */
static double compare_picture(const char *name, const tdm_strand_field *field)
{
    FILE *file = fopen(TEST_DATA "/measure/strand_direction_reference.csv", "r");
    char line[256], key[16];
    double s, t, steep, most = 0;
    int rows = 0;
    ck_assert_ptr_nonnull(file);
    while (fgets(line, sizeof line, file)) {
        if (sscanf(line, "%15[a-z],%lf,%lf,%lf", key, &s, &t, &steep) != 4 || strcmp(key, name) != 0)
            continue;
        most = fmax(most, fabs(atan(tdm_strand_field_slope(field, s, t)) - atan(steep)) / RADIANS);
        rows++;
    }
    fclose(file);
    ck_assert_int_eq(rows, 40);
    return most;
}

/* scikit-image's structure tensor over the same 3 mm; it takes Sobel's derivatives, which hold for what is
 * wide to cells only, and hence half a degree. Where one direction is all there is, the whole field is within
 * a degree of it; where two lie over one another its equal votes rightly differ. */
START_TEST(fields_as_scikit_image_has_them)
{
    static const char *const names[] = {"wave", "fan", "crossing"};
    for (int i = 0; i < 3; i++) {
        tdm_strip strip = synthetic_strip(120, 60, reference_colour, names[i]);
        tdm_strand_field field;
        tdm_error error = {0};
        plain_field(&strip, &field);
        const double plain = compare_picture(names[i], &field);
        ck_assert_double_lt(plain, 0.5);
        tdm_strand_field_free(&field);
        ck_assert_int_eq(tdm_strand_field_make(&strip, &field, &error), TDM_OK);
        const double whole = compare_picture(names[i], &field);
        if (i < 2)
            ck_assert_double_lt(whole, 1);
        tdm_strand_field_free(&field);
        clear(&strip);
    }
}
END_TEST

/* Without a scale the cells are a pixel each, of any size in the path's 200 units. */
START_TEST(large_cells)
{
    strands truth = slanted(20);
    truth.pitch = 9;
    tdm_strip strip = synthetic_strip_of(200, 80, 1.6, colour, &truth);
    strip.scaled = false;
    ck_assert_double_lt(judge_strip(&truth, &strip).mean, 1);
    clear(&strip);
}
END_TEST

START_TEST(next_to_nothing)
{
    const strands truth = slanted(0);
    static const double sides[] = {0.25, 0.5, 3};
    for (int i = 0; i < 3; i++) {
        tdm_strip strip = synthetic_strip(sides[i], sides[2 - i], colour, &truth);
        ck_assert_double_lt(judge_strip(&truth, &strip).most, 60.1);
        memset(strip.use, 0, strip.rows * strip.cols);
        ck_assert_double_lt(judge_strip(&truth, &strip).most, 1e-12);
        clear(&strip);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {slanted_strands,
                                  waves,
                                  noise,
                                  lines_and_holes_are_not_strands,
                                  no_strands_no_slant,
                                  a_strand_is_followed_both_ways,
                                  large_cells,
                                  next_to_nothing,
                                  tensors_as_scikit_image_reads_them,
                                  fields_as_scikit_image_has_them,
                                  NULL};
    return run_suite("strand_field", tests);
}
