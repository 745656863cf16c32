/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if light strands weren't drawn as asked, or the truth told other ribbons, shares or directions
   than were drawn. */
#include <math.h>
#include <string.h>

#include "drawn.h"
#include "suite.h"

/* 4 px a mm, lights from root to tip, even light. */
#define EVEN                                                                                                 \
    "size=[1000,750]", "field_mm=[250,187.5]", "quick=true", DRAWN_CLEAN, "gloss=0", "shading=0",            \
        "texture_l=0", "course.shape=uniform", "natural.level=4", "light.level=9", "hair.length_mm=130",     \
        "hair.span_mm=120", "marks.target=false", "marks.grey=false", "marks.scale=false"
#define ZONE "zones=[{\"name\":\"a\",\"at_mm\":60,\"width_mm\":60,\"length_mm\":110}]"

/* Breaks if ribbons are measured wrongly: near the root they are the designed ones, 4 mm wide and one each
   10 mm (12 over 120 mm of root line). 0.4 mm: wisps stick out of a ribbon by their half width, either way;
   the hair spreads by a few percent. */
START_TEST(ribbons_are_the_designed_ones_near_the_root)
{
    const char *const sets[] = {EVEN, ZONE, "light.share=0.4", "light.ribbon_mm=4", "light.spacing=regular",
                                NULL};
    ck_assert_int_eq(drawn_make("ribbons", sets), 0);
    json_t *truth = drawn_json("ribbons", "truth.json");
    ck_assert_double_eq_tol(drawn_zone_number(truth, 0, "strands.root.seen_ribbon_mm.median"), 4, 0.4);
    ck_assert_double_eq_tol(drawn_zone_number(truth, 0, "strands.root.seen_spacing_mm.median"), 10, 0.4);
    ck_assert_double_lt(drawn_zone_number(truth, 0, "strands.root.seen_spacing_mm.cv"), 0.1);
    ck_assert_double_eq_tol(drawn_zone_number(truth, 0, "strands.root.seen_count_per_100mm"), 10, 0.8);
    ck_assert_double_eq_tol(drawn_zone_number(truth, 0, "strands.root.light_share"), 0.4, 0.05);
    json_decref(truth);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {ribbons_are_the_designed_ones_near_the_root, NULL};
    return run_suite("scene strands", tests);
}
