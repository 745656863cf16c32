/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if grey hair weren't drawn as designed, or the truth didn't know it. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "drawn.h"
#include "suite.h"

#define SMALL "size=[800,600]", "quick=true", DRAWN_CLEAN
#define PLAIN                                                                                                \
    SMALL, "light.share=0", "course.shape=uniform", "natural.lab=[26,6,12]", "gloss=0", "shading=0",         \
        "texture_l=0", "grey.share=0.3", "grey.lab=[70,0,14]"

/* Breaks if white strands are too many or few, of another colour, or mixed otherwise than in light. Box of 20
   x 10 cm of the head; the share there is the designed one, to 0.02 for strands by chance and those seen. */
START_TEST(picture_holds_the_mix)
{
    static const double natural[3] = {26, 6, 12}, white[3] = {70, 0, 14};
    const char *const sets[] = {PLAIN, NULL};
    drawn_picture picture;
    double seen[3], from[3], to[3], share[3];
    drawn_made("mix", sets, &picture);
    drawn_xyz(&picture, 200, 150, 200, 200, seen);
    drawn_close(&picture);
    drawn_xyz_of(natural, from);
    drawn_xyz_of(white, to);
    for (int i = 0; i < 3; i++) {
        share[i] = (seen[i] - from[i]) / (to[i] - from[i]);
        ck_assert_double_eq_tol(share[i], 0.3, 0.02);
        ck_assert_double_eq_tol(share[i], share[0], 0.005); /* one mix in all three */
    }
}
END_TEST

/* Breaks if the truth's share isn't of what is visible at the root, or its root's colour lacks the white. */
START_TEST(truth_has_the_share)
{
    const char *const strands[] = {PLAIN, NULL};
    const char *const wisps[] = {PLAIN, "grey.clump_mm=6", NULL};
    double lab[3];
    ck_assert_int_eq(drawn_make("strands", strands), 0);
    ck_assert_int_eq(drawn_make("wisps", wisps), 0);
    json_t *a = drawn_json("strands", "truth.json"), *b = drawn_json("wisps", "truth.json");
    /* 0.05: few broad strands in 6 by 2 cm; 0.2: ten wisps with none or twice the share. */
    ck_assert_double_eq_tol(drawn_zone_number(a, 1, "grey.share"), 0.3, 0.05);
    ck_assert_double_eq_tol(drawn_zone_number(b, 1, "grey.share"), 0.3, 0.2);
    /* L* of 0.3 white and 0.7 natural in linear light is 46.5; the share found may differ by 0.05. */
    drawn_triple(drawn_key(json_array_get(json_object_get(a, "zones"), 1), "root.lab"), lab);
    ck_assert_double_eq_tol(lab[0], 46.5, 3);
    json_decref(a);
    json_decref(b);
}
END_TEST

#define DYED SMALL, "course.centre_mm=30", "course.width_mm=4", "course.lock_jitter_mm=0"

/* Breaks if dye leaves white hair white, or undyed hair loses it: 90 mm below the root line and on, where the
   course has long ended, dyed hair is the same to the pixel with and without. */
START_TEST(dye_takes_white_hair)
{
    const char *const without[] = {DYED, NULL};
    const char *const dyed[] = {DYED, "grey.share=0.3", NULL};
    const char *const undyed[] = {DYED, "grey.share=0.3", "grey.to_ends=true", NULL};
    drawn_picture a, b, c;
    drawn_made("without", without, &a);
    drawn_made("dyed", dyed, &b);
    drawn_made("undyed", undyed, &c);
    const size_t row = 3 * a.width, from = 2 * (44 + 90) * row, size = 2 * (a.height * row - from);
    ck_assert_int_ne(memcmp(a.rgb, b.rgb, 2 * from), 0);
    ck_assert_int_eq(memcmp(a.rgb + from, b.rgb + from, size), 0);
    ck_assert_int_ne(memcmp(a.rgb + from, c.rgb + from, size), 0);
    drawn_close(&a);
    drawn_close(&b);
    drawn_close(&c);
}
END_TEST

/* Breaks if a head without grey hair is another than before the keys were there. */
START_TEST(without_it_nothing_is_told)
{
    const char *const sets[] = {SMALL, NULL};
    ck_assert_int_eq(drawn_make("none", sets), 0);
    json_t *truth = drawn_json("none", "truth.json");
    ck_assert_ptr_null(drawn_key(truth, "params.grey"));
    ck_assert_ptr_null(json_object_get(json_array_get(json_object_get(truth, "zones"), 1), "grey"));
    json_decref(truth);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {picture_holds_the_mix, truth_has_the_share, dye_takes_white_hair,
                                  without_it_nothing_is_told, NULL};
    return run_suite("scene grey", tests);
}
