/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: gloss or light along the fall left in, a change of colour taken out with them, a course that
 * is matte and evenly lit changed. */
#include <math.h>
#include <stdlib.h>

#include "colour/lab.h"
#include "measure/matte.h"
#include "measure/shape_linear.h"
#include "measure/synthetic.h"
#include "suite.h"

enum { PLACES = 400 };

typedef struct world {
    double root[3], ends[3], centre, width; /* width 0: root throughout */
    double gloss, gloss_at, gloss_wide;     /* a normal bump */
    double fall;                            /* light rises by this share from root to ends */
} world;

typedef struct found {
    double along[PLACES], xyz[3 * PLACES], weight[PLACES], gloss[PLACES], light[PLACES];
    double scatter[PLACES];  /* two thirds of the gloss, which is what scatter tells of it */
    double body[3 * PLACES]; /* CIELAB without gloss and light: the truth */
    tdm_matte_shape shape;
} found;

static double bump(const world *on, double s)
{
    const double z = (s - on->gloss_at) / on->gloss_wide;
    return on->gloss > 0 ? on->gloss * exp(-0.5 * z * z) : 0;
}

static found *find(const world *on)
{
    found *it = calloc(1, sizeof *it);
    ck_assert_ptr_nonnull(it);
    for (size_t i = 0; i < PLACES; i++) {
        const double s = 0.5 * ((double)i + 0.5);
        const double way = on->width > 0 ? tdm_rise(s, on->centre, on->width / TDM_RISE_PER_SIGMA) : 0;
        double xyz[3];
        for (size_t k = 0; k < 3; k++)
            it->body[3 * i + k] = on->root[k] + way * (on->ends[k] - on->root[k]);
        tdm_lab_to_xyz(it->body + 3 * i, xyz);
        for (unsigned k = 0; k < 3; k++)
            it->xyz[3 * i + k] =
                xyz[k] * (1 + on->fall * (s / 200 - 0.5)) * (1 + 0.002 * synthetic_noise(k, (unsigned)i)) +
                bump(on, s) * tdm_white_d50[k];
        it->scatter[i] = 0.67 * bump(on, s);
        it->along[i] = s;
        it->weight[i] = 1;
    }
    const tdm_seen_course course = {.along = it->along,
                                    .xyz = it->xyz,
                                    .weight = it->weight,
                                    .gloss = it->scatter,
                                    .count = PLACES,
                                    .length = 200};
    tdm_error error = {0};
    ck_assert_int_eq(tdm_matte_find(&course, it->gloss, it->light, &it->shape, &error), TDM_OK);
    return it;
}

/* Root mean square of what is left, in L*, after the mean difference: light has no zero of its own. */
static double left(const found *it)
{
    double sum = 0, square = 0;
    for (size_t i = 0; i < PLACES; i++) {
        double xyz[3], lab[3];
        tdm_matte_colour(it->xyz + 3 * i, it->gloss[i], it->light[i], xyz);
        tdm_xyz_to_lab(xyz, lab);
        sum += lab[0] - it->body[3 * i];
        square += (lab[0] - it->body[3 * i]) * (lab[0] - it->body[3 * i]);
    }
    return sqrt(square / PLACES - sum * sum / PLACES / PLACES);
}

static const world line = {{26.5, 6.6, 12}, {44, 6.6, 20.8}, 70, 25, 0, 0, 0, 0};
static const world plain = {{38, 6.5, 18}, {38, 6.5, 18}, 0, 0, 0, 0, 0, 0};

START_TEST(what_is_matte_and_even_stays)
{
    found *it = find(&line);
    ck_assert_double_lt(left(it), 0.2);
    ck_assert_int_eq(it->shape.shape, TDM_SHAPE_TRANSITION);
    free(it);
    it = find(&plain);
    ck_assert_double_lt(left(it), 0.1);
    ck_assert_int_eq(it->shape.shape, TDM_SHAPE_UNIFORM);
    free(it);
}
END_TEST

/* A bump of 0.02 is 4 L* on the dark side of the line and 2.8 on the light one; 30 % of light along the fall
 * 5 L* from end to end. A quarter of that may stay. */
START_TEST(gloss_over_the_line_goes)
{
    world on = line;
    on.gloss = 0.02;
    on.gloss_at = 80;
    on.gloss_wide = 25;
    found *it = find(&on);
    ck_assert_double_lt(left(it), 0.6);
    ck_assert_double_eq_tol(it->gloss[160], 0.02, 0.006); /* at 80 mm */
    ck_assert_double_lt(it->gloss[390], 0.005);
    free(it);
}
END_TEST

START_TEST(light_along_the_line_goes)
{
    world on = line;
    on.fall = 0.3;
    found *it = find(&on);
    ck_assert_double_lt(left(it), 0.4);
    ck_assert_double_eq_tol(it->light[380] / it->light[20], 1.135 / 0.865, 0.06);
    free(it);
}
END_TEST

START_TEST(gloss_on_plain_hair_makes_no_line)
{
    world on = plain;
    on.gloss = 0.03;
    on.gloss_at = 60;
    on.gloss_wide = 20;
    found *it = find(&on);
    ck_assert_int_eq(it->shape.shape, TDM_SHAPE_UNIFORM);
    ck_assert_double_lt(left(it), 0.6); /* of 5.5 L* */
    free(it);
}
END_TEST

START_TEST(nothing_to_go_by_changes_nothing)
{
    double along[8] = {0}, xyz[24] = {0}, weight[8] = {0}, gloss[8], light[8];
    const tdm_seen_course course = {.along = along, .xyz = xyz, .weight = weight, .count = 8, .length = 10};
    tdm_matte_shape shape;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_matte_find(&course, gloss, light, &shape, &error), TDM_OK);
    for (int i = 0; i < 8; i++)
        ck_assert(gloss[i] == 0 && light[i] == 1);
    ck_assert_int_eq(shape.shape, TDM_SHAPE_UNIFORM);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {what_is_matte_and_even_stays,     gloss_over_the_line_goes,
                                  light_along_the_line_goes,        gloss_on_plain_hair_makes_no_line,
                                  nothing_to_go_by_changes_nothing, NULL};
    return run_suite("matte", tests);
}
