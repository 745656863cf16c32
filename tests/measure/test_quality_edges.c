/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: an edge spread that isn't the drawn one, be it sharper than the pixels or wider than the gaps,
 * or only because the corners were marked off their places, a smear that is missed, invented or told in a
 * wrong direction (the diagonal ones show in corners only), motion seen in round corners. */
#include <math.h>

#include "measure/drawn_target.h"
#include "measure/quality_edges.h"
#include "suite.h"

static const double pixel = 1.0 / 12; /* variance of a pixel's own width, px² */

static drawing plain(double pitch, double turn)
{
    drawing it = {.width = (uint32_t)(7 * pitch), .height = (uint32_t)(5 * pitch), .noise = 1};
    place_block(3.5 * pitch, 2.5 * pitch, pitch, turn, it.corners);
    return it;
}

/* With the target's corners marked so many px off. */
static tdm_edge_spread spread_at(drawn_photo *photo, const drawing *how, double dx, double dy)
{
    double marked[8];
    tdm_edge_spread spread;
    tdm_error error = {0};
    for (int i = 0; i < 8; i++)
        marked[i] = how->corners[i] + (i % 2 ? dy : dx);
    photo->input.corners = marked;
    ck_assert_int_eq(tdm_spread_of_target(&photo->input, &spread, &error), TDM_OK);
    photo->input.corners = NULL;
    return spread;
}

static tdm_edge_spread spread_of(const drawing *how)
{
    drawn_photo photo;
    draw(how, &photo);
    const tdm_edge_spread spread = spread_at(&photo, how, 0, 0);
    drawn_free(&photo);
    return spread;
}

/* 4 % of the standard deviation: a 2 % wider edge is lost in any figure of hair. */
START_TEST(blur)
{
    static const double sigmas[] = {0.5, 0.8, 1.2, 2, 3};
    static const double turns[] = {0, 1.5, 17, -40};
    for (size_t i = 0; i < sizeof sigmas / sizeof sigmas[0]; i++) {
        drawing how = plain(fmax(48, 24 * sigmas[i]), turns[i % 4]); /* a gap of 3.6 sigma at least */
        how.blur[0] = how.blur[2] = sigmas[i] * sigmas[i];
        const tdm_edge_spread seen = spread_of(&how);
        const double truth = sqrt(sigmas[i] * sigmas[i] + pixel);
        ck_assert_msg(fabs(seen.sharp / truth - 1) < 0.04, "%g: %g", truth, seen.sharp);
        ck_assert_msg(fabs(seen.smeared / truth - 1) < 0.04, "%g: %g", truth, seen.smeared);
    }
}
END_TEST

/* Sharper than pixels show: what is left is about the pixel's own width. 0.1 px is 0.25 px of rise. */
START_TEST(sharper_than_pixels)
{
    static const double sigmas[] = {0, 0.2}, turns[] = {0, 0.7, 17};
    for (size_t i = 0; i < 6; i++) {
        drawing how = plain(i < 3 ? 48 : 50, turns[i % 3]);
        how.blur[0] = how.blur[2] = sigmas[i / 3] * sigmas[i / 3];
        const tdm_edge_spread seen = spread_of(&how);
        const double truth = sqrt(how.blur[0] + pixel);
        ck_assert_msg(fabs(seen.sharp - truth) < 0.1, "%g at %g: %g", truth, turns[i % 3], seen.sharp);
        ck_assert_msg(tdm_smear_length(&seen) < 1.0, "%g: %g", truth, tdm_smear_length(&seen));
    }
}
END_TEST

/* Nobody's corners are exact: 5 to 20 % of the pitch off. The same 4 % as above. */
START_TEST(corners_off)
{
    static const double sigmas[] = {0.6, 1.2}, off[] = {0.05, 0.1, 0.15, 0.2};
    for (size_t i = 0; i < 2; i++) {
        drawn_photo photo;
        drawing how = plain(48, i ? 1.5 : 8);
        how.blur[0] = how.blur[2] = sigmas[i] * sigmas[i];
        draw(&how, &photo);
        for (size_t k = 0; k < 4; k++) {
            const double moved = off[k] * 48, truth = sqrt(sigmas[i] * sigmas[i] + pixel);
            const tdm_edge_spread seen = spread_at(&photo, &how, moved, -moved / 2);
            ck_assert_msg(fabs(seen.sharp / truth - 1) < 0.04, "%g off: %g, not %g", moved, seen.sharp,
                          truth);
            ck_assert_msg(tdm_smear_length(&seen) < 1.5, "%g off: %g", moved, tdm_smear_length(&seen));
        }
        drawn_free(&photo);
    }
}
END_TEST

/* So far off that patches are taken for gaps: what is said is right, or nothing is. */
START_TEST(corners_far_off)
{
    drawn_photo photo;
    drawing how = plain(48, 4);
    how.blur[0] = how.blur[2] = 1;
    draw(&how, &photo);
    for (int i = 3; i < 10; i++) {
        const tdm_edge_spread seen = spread_at(&photo, &how, 4.8 * i, 3.6 * i);
        ck_assert_msg(isnan(seen.sharp) || fabs(seen.sharp / sqrt(1 + pixel) - 1) < 0.2, "%g off: %g",
                      4.8 * i, seen.sharp);
    }
    drawn_free(&photo);
}
END_TEST

/* A gap of 7.2 px under a blur of 4.5 and more: half its width is the least that can be said. */
START_TEST(run_together)
{
    static const double sigmas[] = {4.5, 5.5, 7};
    for (int i = 0; i < 3; i++) {
        drawing how = plain(48, 3);
        how.blur[0] = how.blur[2] = sigmas[i] * sigmas[i];
        ck_assert_double_eq_tol(spread_of(&how).sharp, 3.6, 0.05);
    }
}
END_TEST

static double apart(double a, double b)
{
    const double off = fabs(remainder(a - b, 180));
    return off;
}

/* Length within 8 % or a third of a pixel, direction within 5: nobody holds a camera stiller for knowing it
 * better. */
START_TEST(smear)
{
    static const double degrees[] = {0, 30, 120, 45};
    static const double lengths[] = {4, 6, 5};
    for (size_t i = 0; i < sizeof degrees / sizeof degrees[0]; i++) {
        drawing how = plain(48, i % 2 ? 8 : 1.5);
        how.blur[0] = how.blur[2] = 0.7 * 0.7;
        how.smear = lengths[i % 3];
        how.degrees = degrees[i];
        const tdm_edge_spread seen = spread_of(&how);
        const double length = tdm_smear_length(&seen);
        ck_assert_msg(fabs(length - how.smear) < fmax(0.33, 0.08 * how.smear), "%g at %g: %g", how.smear,
                      how.degrees, length);
        ck_assert_msg(apart(seen.direction, how.degrees) < 5, "%g at %g: %g", how.smear, how.degrees,
                      seen.direction);
    }
}
END_TEST

/* A blur as wide along one diagonal as across, but drawn by its covariance. */
START_TEST(slanting_blur)
{
    drawing how = plain(48, 3);
    how.blur[0] = how.blur[2] = 2;
    how.blur[1] = -1.2; /* y points down: wider along 45 degrees; variances 3.2 and 0.8 */
    const tdm_edge_spread seen = spread_of(&how);
    ck_assert_double_eq_tol(seen.smeared, sqrt(3.2 + pixel), 0.1);
    ck_assert_double_eq_tol(seen.sharp, sqrt(0.8 + pixel), 0.12);
    ck_assert(apart(seen.direction, 45) < 3);
}
END_TEST

/* No smear of a sharp picture, nor of one with its patches' corners cut. */
START_TEST(no_smear)
{
    for (int i = 0; i < 4; i++) {
        drawing how = plain(48, i < 2 ? 2 : 25);
        how.blur[0] = how.blur[2] = 0.7 * 0.7;
        how.round = i % 2 ? 0.03 : 0;
        const tdm_edge_spread seen = spread_of(&how);
        ck_assert_msg(tdm_smear_length(&seen) < 1.0, "%d: %g", i, tdm_smear_length(&seen));
    }
}
END_TEST

/* Gaps of 0.9 px: nothing is said, and that is no error. */
START_TEST(too_small)
{
    drawing how = plain(6, 0);
    const tdm_edge_spread seen = spread_of(&how);
    ck_assert(isnan(seen.sharp));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {blur,  sharper_than_pixels, corners_off, corners_far_off, run_together,
                                  smear, slanting_blur,       no_smear,    too_small,       NULL};
    return run_suite("quality_edges", tests);
}
