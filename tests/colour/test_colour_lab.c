/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: the white, the cube root's join to the line, the fast path's own cube root. */
#include <lcms2.h>
#include <math.h>

#include "colour/drawn.h"
#include "colour/lab.h"
#include "suite.h"

enum { COLUMNS = 8, MOST = 32 };

/* The cases come with other whites; f is the same, so XYZ is moved to our white in proportion. Published to
 * eight decimals with XYZ to eight, and 1/X_n amplifies: 2e-5 is that rounding in the dark rows times 500 / 3
 * of the slope. */
START_TEST(published_cases)
{
    double cells[MOST][COLUMNS];
    const size_t rows = read_table("cielab_cases.csv", &cells[0][0], COLUMNS, MOST);
    ck_assert_uint_eq(rows, 17);
    for (size_t i = 0; i < rows; i++) {
        const double x = cells[i][3], y = cells[i][4];
        const double white[3] = {x / y, 1, (1 - x - y) / y};
        double xyz[3], lab[3];
        for (int k = 0; k < 3; k++)
            xyz[k] = cells[i][k] / white[k] * tdm_white_d50[k];
        tdm_xyz_to_lab(xyz, lab);
        for (int k = 0; k < 3; k++)
            ck_assert_double_eq_tol(lab[k], cells[i][5 + k], 2e-5);
    }
}
END_TEST

/* ICC.1's white, and CIE 15's D50 from its chromaticity 0.3457, 0.3585: the same to 5e-4. */
START_TEST(white_is_the_profile_connection_space_s)
{
    const double cie[3] = {0.3457 / 0.3585, 1, (1 - 0.3457 - 0.3585) / 0.3585};
    double lab[3];
    ck_assert_double_eq(tdm_white_d50[0], 0.9642);
    ck_assert_double_eq(tdm_white_d50[1], 1.0);
    ck_assert_double_eq(tdm_white_d50[2], 0.8249);
    for (int k = 0; k < 3; k++)
        ck_assert_double_eq_tol(tdm_white_d50[k], cie[k], 5e-4);
    tdm_xyz_to_lab(tdm_white_d50, lab);
    ck_assert_double_eq_tol(lab[0], 100, 1e-12);
    ck_assert_double_eq_tol(lab[1], 0, 1e-12);
    ck_assert_double_eq_tol(lab[2], 0, 1e-12);
}
END_TEST

/* lcms2's own CIELAB over a grid of XYZ, from below zero to beyond white. It approximates the join by
 * constants rather than fractions: 0.001. */
START_TEST(agrees_with_lcms2)
{
    const cmsCIEXYZ white = {tdm_white_d50[0], tdm_white_d50[1], tdm_white_d50[2]};
    enum { SIDE = 41 };
    for (int i = 0; i < SIDE * SIDE * SIDE; i++) {
        const int at[3] = {i % SIDE, i / SIDE % SIDE, i / (SIDE * SIDE)};
        double xyz[3], lab[3];
        for (int k = 0; k < 3; k++)
            xyz[k] = 1.1 * pow(at[k] / (SIDE - 1.0), 3) - 0.001;
        cmsCIELab theirs;
        const cmsCIEXYZ in = {xyz[0], xyz[1], xyz[2]};
        cmsXYZ2Lab(&white, &theirs, &in);
        tdm_xyz_to_lab(xyz, lab);
        ck_assert_double_eq_tol(lab[0], theirs.L, 0.001);
        ck_assert_double_eq_tol(lab[1], theirs.a, 0.001);
        ck_assert_double_eq_tol(lab[2], theirs.b, 0.001);
    }
}
END_TEST

/* There and back; 1e-9 of a unit is rounding. */
START_TEST(round_trip)
{
    for (int l = 0; l <= 100; l += 4) {
        for (int hue = 0; hue < 360; hue += 15) {
            const double lab[3] = {l, 60 * cos(hue * 0.0174533), 60 * sin(hue * 0.0174533)};
            double xyz[3], again[3];
            tdm_lab_to_xyz(lab, xyz);
            tdm_xyz_to_lab(xyz, again);
            for (int k = 0; k < 3; k++)
                ck_assert_double_eq_tol(again[k], lab[k], 1e-9);
        }
    }
}
END_TEST

/* The float path against the double one: 24 bits of XYZ carry L* to 1e-5 and a*, b* to 1e-4; 3e-4 leaves
 * room for three roundings. Every length, so that a vectorised loop's rest is reached. */
START_TEST(many_is_one_many_times)
{
    enum { COUNT = 1003 };
    static float xyz[3 * COUNT], lab[3 * COUNT];
    for (size_t i = 0; i < 3 * COUNT; i++)
        xyz[i] = (float)(pow((double)(i * 7919 % 1000) / 999, 4) * 1.2 - 0.002);
    for (size_t count = COUNT - 9; count <= COUNT; count++) {
        tdm_xyz_to_lab_many(xyz, lab, count);
        for (size_t i = 0; i < count; i++) {
            const double one[3] = {(double)xyz[3 * i], (double)xyz[3 * i + 1], (double)xyz[3 * i + 2]};
            double wanted[3];
            tdm_xyz_to_lab(one, wanted);
            for (size_t k = 0; k < 3; k++)
                ck_assert_double_eq_tol((double)lab[3 * i + k], wanted[k], 3e-4);
        }
    }
}
END_TEST

START_TEST(hue_and_chroma)
{
    const double lab[][3] = {{50, 3, 4}, {50, -3, 0}, {50, 0, -2}, {50, 1, -1}};
    const double hues[] = {53.130102354, 180, 270, 315}, chromas[] = {5, 3, 2, 1.414213562};
    for (int i = 0; i < 4; i++) {
        ck_assert_double_eq_tol(tdm_hue(lab[i]), hues[i], 1e-8);
        ck_assert_double_eq_tol(tdm_chroma(lab[i]), chromas[i], 1e-8);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {published_cases,
                                  white_is_the_profile_connection_space_s,
                                  agrees_with_lcms2,
                                  round_trip,
                                  many_is_one_many_times,
                                  hue_and_chroma,
                                  NULL};
    return run_suite("lab", tests);
}
