/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a figure that the documented JSON names but the table lacks, two rows for one place, a null
 * shown. */
#include <math.h>
#include <string.h>

#include "measure/zone_reading.h"
#include "suite.h"

/* The names fixed by the documented reading object. */
static const char *const documented[] = {"length_mm",
                                         "width_mm",
                                         "used_share",
                                         "overall.lab",
                                         "overall.level",
                                         "overall.tone",
                                         "root.lab",
                                         "root.level",
                                         "root.tone",
                                         "ends.lab",
                                         "ends.level",
                                         "ends.tone",
                                         "gradient.shape",
                                         "gradient.centre_mm",
                                         "gradient.width_mm",
                                         "gradient.de00",
                                         "gradient.slope_lstar_per_cm",
                                         "gradient.profile",
                                         "demarcation.local_width_mm",
                                         "demarcation.stagger_mm",
                                         "demarcation.span",
                                         "demarcation.course",
                                         "demarcation.slope",
                                         "demarcation.course_mm",
                                         "demarcation.zigzag_period_mm",
                                         "demarcation.gap_count",
                                         "demarcation.gaps",
                                         "demarcation.bleed_count",
                                         "demarcation.bleeds",
                                         "root_mm",
                                         "demarcation.visibility",
                                         "demarcation.grade",
                                         "strands.separable",
                                         "strands.light_share",
                                         "strands.light_lab",
                                         "strands.dark_lab",
                                         "strands.contrast_lstar",
                                         "strands.contrast_de00",
                                         "strands.kinds",
                                         "strands.middle_share",
                                         "strands.middle_lab",
                                         "strands.contrast_michelson",
                                         "strands.separation",
                                         "strands.root.separable",
                                         "strands.root.light_share",
                                         "strands.root.contrast_lstar",
                                         "strands.root.ribbon_mm",
                                         "strands.root.spacing_mm",
                                         "strands.root.spacing_cv",
                                         "strands.root.count_per_100mm",
                                         "strands.mid.separable",
                                         "strands.mid.light_share",
                                         "strands.mid.contrast_lstar",
                                         "strands.mid.ribbon_mm",
                                         "strands.mid.spacing_mm",
                                         "strands.mid.spacing_cv",
                                         "strands.mid.count_per_100mm",
                                         "strands.ends.separable",
                                         "strands.ends.light_share",
                                         "strands.ends.contrast_lstar",
                                         "strands.ends.ribbon_mm",
                                         "strands.ends.spacing_mm",
                                         "strands.ends.spacing_cv",
                                         "strands.ends.count_per_100mm",
                                         "strands.ribbon_mm.median",
                                         "strands.ribbon_mm.p25",
                                         "strands.ribbon_mm.p75",
                                         "strands.ribbon_mm.u",
                                         "strands.weave",
                                         "strands.spacing_mm.median",
                                         "strands.spacing_mm.cv",
                                         "strands.spacing_mm.pattern",
                                         "strands.count_per_100mm",
                                         "strands.period_mm",
                                         "strands.period_strength",
                                         "strands.length_mm.median",
                                         "strands.length_mm.p25",
                                         "strands.length_mm.p75",
                                         "strands.start_mm.median",
                                         "strands.start_mm.p25",
                                         "strands.start_mm.p75",
                                         "strands.start_mm.u",
                                         "strands.onset_mm.median",
                                         "strands.onset_mm.p25",
                                         "strands.onset_mm.p75",
                                         "evenness.patchiness_de00",
                                         "evenness.patchiness_lstar",
                                         "evenness.warm_count",
                                         "evenness.warmth",
                                         "evenness.warm",
                                         "evenness.between_de00",
                                         "evenness.between_lstar",
                                         "evenness.between_level",
                                         "evenness.between_root_level",
                                         "evenness.between_share",
                                         "evenness.between_contrast",
                                         "evenness.left_right_lstar",
                                         "evenness.left_right_level",
                                         "evenness.left_right_root_level",
                                         "evenness.left_right_share",
                                         "evenness.left_right_contrast",
                                         "evenness.left_right_centre_mm",
                                         "frame.lstar_above_rest",
                                         "frame.level_above_rest",
                                         "frame.share_above_rest",

                                         "grey.share",
                                         "grey.lab"};

START_TEST(every_documented_name_has_a_row)
{
    for (size_t i = 0; i < sizeof documented / sizeof documented[0]; i++)
        ck_assert_msg(tdm_figure_find(documented[i]) != NULL, "%s", documented[i]);
    ck_assert_ptr_null(tdm_figure_find("gradient.colour"));
}
END_TEST

START_TEST(rows_have_their_own_path_and_place)
{
    size_t count = 0;
    const tdm_figure *rows = tdm_figures(&count);
    for (size_t i = 0; i < count; i++) {
        ck_assert_ptr_eq(tdm_figure_find(rows[i].path), &rows[i]);
        for (size_t j = 0; j < i; j++)
            ck_assert_msg(rows[i].offset != rows[j].offset, "%s and %s", rows[i].path, rows[j].path);
    }
}
END_TEST

START_TEST(a_fresh_zone_is_all_null)
{
    struct tdm_zone_reading zone;
    tdm_zone_reading_init(&zone);
    size_t count = 0;
    const tdm_figure *rows = tdm_figures(&count);
    for (size_t i = 0; i < count; i++) {
        tdm_value value;
        double lab[3];
        ck_assert_msg(!tdm_zone_value(&zone, &rows[i], &value), "%s", rows[i].path);
        ck_assert_msg(!tdm_zone_lab(&zone, &rows[i], lab), "%s", rows[i].path);
        ck_assert_msg(tdm_zone_word(&zone, &rows[i]) == NULL, "%s", rows[i].path);
        size_t places = 0;
        ck_assert_msg(tdm_zone_places(&zone, &rows[i], &places) == NULL, "%s", rows[i].path);
    }
    tdm_zone_reading_clear(&zone);
}
END_TEST

START_TEST(values_come_back_from_their_own_place)
{
    struct tdm_zone_reading zone;
    tdm_zone_reading_init(&zone);
    zone.gradient.width_mm = (tdm_value){41, 3};
    zone.strands.ribbon_median = 2.5;
    zone.strands.separable = true;
    zone.ends.tone = "gold";
    tdm_value value;
    bool flag = false;
    ck_assert(tdm_zone_value(&zone, tdm_figure_find("gradient.width_mm"), &value));
    ck_assert(value.value == 41 && value.u == 3);
    ck_assert(tdm_zone_value(&zone, tdm_figure_find("strands.ribbon_mm.median"), &value));
    ck_assert(value.value == 2.5 && isnan(value.u));
    ck_assert(tdm_zone_flag(&zone, tdm_figure_find("strands.separable"), &flag) && flag);
    ck_assert_str_eq(tdm_zone_word(&zone, tdm_figure_find("ends.tone")), "gold");
    ck_assert(!tdm_zone_value(&zone, tdm_figure_find("ends.tone"), &value));
    tdm_zone_reading_clear(&zone);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {every_documented_name_has_a_row, rows_have_their_own_path_and_place,
                                  a_fresh_zone_is_all_null, values_come_back_from_their_own_place, NULL};
    return run_suite("figures", tests);
}
