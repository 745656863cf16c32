/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the trade takes for granted must come out of a drawn photograph. Would break: the level scale's
 * meaning, the order of weaves. Common practice, no source: a natural brunette root is called a level four;
 * weaves run from very fine to chunky. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "suite.h"
#include "tidemark/tidemark.h"
#include "world/drawn_scene.h"

static tdm_reading *draw_and_read(const char *name, const char *const *values)
{
    char photo[DRAWN_PATH];
    tdm_reading *reading = NULL;
    tdm_error error = {0};
    drawn_scene(name, values, photo);
    ck_assert_msg(tdm_read_photo(photo, NULL, NULL, &reading, &error) == TDM_OK, "%s", error.text);
    return reading;
}

static double figure(const tdm_zone_reading *zone, const char *path)
{
    tdm_value found = {NAN, NAN};
    ck_assert_msg(tdm_zone_value(zone, tdm_figure_find(path), &found), "%s isn't read", path);
    return found.value;
}

START_TEST(a_root_called_four_reads_four)
{
    const char *const values[] = {"size=[2000,1500]", "seed=41", "natural.level=4", NULL};
    tdm_reading *reading = draw_and_read("four", values);
    for (size_t i = 0; i < tdm_reading_zone_count(reading); i++) {
        const double level = figure(tdm_reading_zone(reading, i), "root.level");
        ck_assert_msg(level >= 3.5 && level <= 4.5, "zone %zu: level %g", i, level);
    }
    tdm_reading_free(reading);
}
END_TEST

START_TEST(weaves_come_out_in_order)
{
    static const char *const widths[] = {"light.ribbon_mm=1", "light.ribbon_mm=3", "light.ribbon_mm=6",
                                         "light.ribbon_mm=11"};
    double before = 0;
    for (size_t i = 0; i < 4; i++) {
        char name[16];
        (void)snprintf(name, sizeof name, "weave-%zu", i);
        const char *const values[] = {"size=[2000,1500]", "seed=52",         "gloss=0", "shading=0.35",
                                      "light.level=9",    "light.share=0.4", widths[i], NULL};
        tdm_reading *reading = draw_and_read(name, values);
        const double ribbon = figure(tdm_reading_head(reading), "strands.ribbon_mm.median");
        ck_assert_msg(ribbon > before, "%s reads %g, the finer one %g", widths[i], ribbon, before);
        before = ribbon;
        tdm_reading_free(reading);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_root_called_four_reads_four, weaves_come_out_in_order, NULL};
    return run_suite("trade", tests);
}
