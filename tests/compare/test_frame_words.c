/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a frame said to have changed within its uncertainty, or the wrong way, or of a head without
 * one. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "compare/made_reading.h"
#include "compare/meaning.h"
#include "suite.h"

static void put_frame(struct tdm_zone_reading *head, double lstar)
{
    tdm_zone_reading_init(head);
    head->frame.lstar_above_rest = (tdm_value){.value = lstar, .u = 1};
}

static char *sentence_of(double was, double is)
{
    struct tdm_zone_reading before, after;
    const char *sentence = NULL;
    tdm_error error = {0};
    put_frame(&before, was);
    put_frame(&after, is);
    const tdm_zone_change change = {.before = &before, .after = &after};
    ck_assert_int_eq(tdm_meaning(&change, &sentence, &error), TDM_OK);
    return (char *)sentence;
}

START_TEST(says_which_way_and_how_it_stands)
{
    static const struct {
        double was, is;
        const char *sentence;
    } cases[] = {
        {1, 5.04,
         "Against the rest the face frame has become brighter: it is 5.0 L* brighter than the rest, and was "
         "1.0 "
         "L* brighter than the rest."},
        {0.01, -3, /* a sign of its own would say that 0.0 is darker */
         "Against the rest the face frame has become darker: it is 3.0 L* darker than the rest, and was as "
         "bright "
         "as the rest."},
        {2, 3, "The photographs can't tell what has changed here."}, /* u of the change is 1.4 */
        {NAN, 9, "The photographs can't tell what has changed here."},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char *sentence = sentence_of(cases[i].was, cases[i].is);
        ck_assert_str_eq(sentence, cases[i].sentence);
        free(sentence);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {says_which_way_and_how_it_stands, NULL};
    return run_suite("frame_words", tests);
}
