/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a picture as in a mirror, in which left and right are exchanged, read without a word; one that
 * isn't warned of. */
#include <string.h>

#include "suite.h"
#include "tidemark/tidemark.h"
#include "world/drawn_scene.h"

static bool warned(const tdm_target_reading *target)
{
    size_t count = 0;
    const tdm_warning *warnings = tdm_target_warnings(target, &count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(warnings[i].code, "target-mirrored") == 0)
            return true;
    }
    return false;
}

/* Searched for without marks, and marked. */
static void check(const char *mirrored, const char *marked)
{
    const char *const values[] = {
        "only=swatches", "size=[1200,900]", "clutter.amount=0.3", mirrored, marked, NULL};
    char photo[DRAWN_PATH];
    tdm_target_reading *target = NULL;
    tdm_target_facts facts;
    tdm_error error = {0};
    drawn_scene("mirrored", values, photo);
    ck_assert_msg(tdm_read_target(photo, NULL, NULL, &target, &error) == TDM_OK, "%s", error.text);
    tdm_target_about(target, &facts);
    const bool expected = strstr(mirrored, "true") != NULL;
    ck_assert_str_eq(facts.how, strstr(marked, "true") ? "marked" : "found");
    ck_assert_int_eq(facts.mirrored, expected);
    ck_assert_int_eq(warned(target), expected);
    tdm_target_reading_free(target);
}

START_TEST(a_mirrored_target_is_told)
{
    check("target.mirrored=true", "target.in_marks=false");
    check("target.mirrored=true", "target.in_marks=true");
    check("target.mirrored=false", "target.in_marks=false");
    check("target.mirrored=false", "target.in_marks=true");
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_mirrored_target_is_told, NULL};
    return run_suite("mirrored", tests);
}
