/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: known widths read from the marks with their checks, and the scale from them, tilted or not. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "marks/size_scale.h"
#include "suite.h"

#define HEAD "{\"tidemark_marks\":1,\"photo\":\"a.jpg\",\"size\":[4000,3000],"
#define ZONES "\"zones\":[{\"name\":\"a\",\"path\":[[10,10],[10,200]],\"width_px\":20}]}"
#define TARGET(width)                                                                                        \
    HEAD "\"target\":{\"kind\":\"patch24\",\"corners\":[[100,100],[685,100],[685,485],[100,485]]" width      \
         "}," ZONES
#define GREY(width)                                                                                          \
    HEAD "\"grey\":[{\"polygon\":[[100,100],[300,100],[300,200],[100,200]],\"lstar\":50" width "}]," ZONES

static tdm_code parse(const char *text, tdm_marks *marks, tdm_error *error)
{
    const tdm_limits limits = tdm_limits_default();
    tdm_warnings warnings = {0};
    const tdm_code code =
        tdm_marks_parse(text, strlen(text), "a.marks.json", 4000, 3000, &limits, &warnings, marks, error);
    ck_assert_uint_eq(warnings.count, 0);
    return code;
}

/* 585 px by 385 px are 5.85 by 3.85 pitches: a target of 234 mm has 0.4 mm a pixel exactly. */
START_TEST(a_target_seen_squarely)
{
    tdm_marks marks;
    tdm_error error = {0};
    double scale, spread;
    const char *source;
    ck_assert_msg(parse(TARGET(",\"width_mm\":234"), &marks, &error) == TDM_OK, "%s", error.text);
    ck_assert(marks.target_width_mm == 234);
    tdm_scale_from_sizes(&marks, NULL, NAN, &scale, &spread, &source);
    ck_assert_double_eq_tol(scale, 0.4, 1e-12);
    ck_assert_double_eq_tol(spread, sqrt(2) / 585, 1e-9); /* the marking alone */
    ck_assert_str_eq(source, "target");
    tdm_scale_from_sizes(&marks, NULL, 117, &scale, &spread, &source); /* the caller's width counts first */
    ck_assert_double_eq_tol(scale, 0.2, 1e-12);
    const double half[8] = {0, 0, 292.5, 0, 292.5, 192.5, 0, 192.5};
    tdm_scale_from_sizes(&marks, half, NAN, &scale, &spread, &source); /* and so do its corners */
    ck_assert_double_eq_tol(scale, 0.8, 1e-12);
    tdm_marks_free(&marks);
}
END_TEST

START_TEST(nothing_of_known_size)
{
    const char *const texts[4] = {TARGET(""), TARGET(",\"width_mm\":null"), GREY(""), HEAD ZONES};
    for (int i = 0; i < 4; i++) {
        tdm_marks marks;
        double scale = 1, spread = 1;
        const char *source = "";
        ck_assert_int_eq(parse(texts[i], &marks, NULL), TDM_OK);
        ck_assert(isnan(marks.target_width_mm));
        ck_assert(marks.grey_count == 0 || isnan(marks.greys[0].width_mm));
        tdm_scale_from_sizes(&marks, NULL, NAN, &scale, &spread, &source);
        ck_assert(isnan(scale) && isnan(spread) && !source);
        tdm_marks_free(&marks);
    }
}
END_TEST

/* A pinhole camera 1 m from the target's middle, 2000 px of focal length: 2 px a mm there. */
static void project(double tilt, double turn, double width_mm, double corners[8])
{
    static const int around[8] = {-1, -1, 1, -1, 1, 1, -1, 1};
    const double height = width_mm * 3.85 / 5.85;
    for (int i = 0; i < 4; i++) {
        const double x = around[2 * i] * width_mm / 2, y = around[2 * i + 1] * height / 2;
        const double xt = x * cos(tilt), depth = 1000 + x * sin(tilt);
        const double px = 2000 * xt / depth, py = 2000 * y / depth;
        corners[2 * i] = 1500 + px * cos(turn) - py * sin(turn);
        corners[2 * i + 1] = 1500 + px * sin(turn) + py * cos(turn);
    }
}

/* Tilted by an angle the target is shorter by its cosine one way: the geometric mean is off by its root.
 * Turned in the picture's plane, nothing changes. 0.2 %: the middle of the tilted block isn't the lens's. */
START_TEST(a_tilted_target)
{
    tdm_marks marks = {.target_width_mm = 200};
    double last = 0;
    for (int degrees = 0; degrees <= 30; degrees += 10) {
        const double tilt = degrees * acos(-1) / 180;
        for (int turned = 0; turned < 3; turned++) {
            double corners[8], scale, spread;
            const char *source;
            project(tilt, turned * 1.1, 200, corners);
            tdm_scale_from_sizes(&marks, corners, NAN, &scale, &spread, &source);
            ck_assert_double_eq_tol(scale * 2 * sqrt(cos(tilt)), 1, 0.002);
            ck_assert(spread >= last - 1e-9); /* the more it tilts, the less sure */
            ck_assert_double_gt(2 * spread, fabs(scale * 2 - 1));
            last = turned == 2 ? spread : last;
        }
    }
}
END_TEST

/* 200 px of longest side, 300 mm: 1.5. A triangle has one such side. */
START_TEST(a_card_of_known_width)
{
    tdm_marks marks;
    tdm_error error = {0};
    double scale, spread;
    const char *source;
    ck_assert_msg(parse(GREY(",\"width_mm\":300"), &marks, &error) == TDM_OK, "%s", error.text);
    tdm_scale_from_sizes(&marks, NULL, NAN, &scale, &spread, &source);
    ck_assert_double_eq_tol(scale, 1.5, 1e-12);
    ck_assert_double_eq_tol(spread, sqrt(2) / 200, 1e-9);
    ck_assert_str_eq(source, "grey");
    marks.greys[0].polygon.count = 3; /* 100, 100; 300, 100; 300, 200: longest is the slanting one */
    tdm_scale_from_sizes(&marks, NULL, NAN, &scale, &spread, &source);
    ck_assert_double_eq_tol(scale, 300 / sqrt(200.0 * 200 + 100 * 100), 1e-12);
    marks.greys[0].polygon.count = 4;
    marks.greys[0].polygon.xy[4] = 280; /* far side 180 and a slope: the two long sides disagree */
    tdm_scale_from_sizes(&marks, NULL, NAN, &scale, &spread, &source);
    ck_assert_double_eq_tol(scale, 300 / 190.0, 1e-12);
    ck_assert_double_gt(spread, 0.07);
    tdm_marks_free(&marks);
}
END_TEST

START_TEST(the_target_counts_before_cards)
{
    tdm_marks marks;
    double scale, spread;
    const char *source;
    const char *text =
        HEAD "\"target\":{\"kind\":\"patch24\",\"width_mm\":234,"
             "\"corners\":[[100,100],[685,100],[685,485],[100,485]]},"
             "\"grey\":[{\"polygon\":[[700,100],[900,100],[900,200],[700,200]],\"lstar\":50,\"width_mm\":82},"
             "{\"polygon\":[[700,300],[900,300],[900,400],[700,400]],\"lstar\":50,\"width_mm\":78}]," ZONES;
    ck_assert_int_eq(parse(text, &marks, NULL), TDM_OK);
    tdm_scale_from_sizes(&marks, NULL, NAN, &scale, &spread, &source);
    ck_assert_str_eq(source, "target");
    marks.target_width_mm = NAN;
    tdm_scale_from_sizes(&marks, NULL, NAN, &scale, &spread, &source);
    ck_assert_str_eq(source, "grey");
    ck_assert_double_eq_tol(scale, 0.4, 1e-12); /* mean of 0.41 and 0.39 */
    ck_assert_double_gt(spread, 0.035);
    tdm_marks_free(&marks);
}
END_TEST

START_TEST(bad_widths_name_their_key)
{
    static const struct {
        const char *text, *place, *says;
    } bads[] = {
        {TARGET(",\"width_mm\":0"), "target.width_mm", "1 to 5000"},
        {TARGET(",\"width_mm\":-200"), "target.width_mm", "1 to 5000"},
        {TARGET(",\"width_mm\":6000"), "target.width_mm", "1 to 5000"},
        {TARGET(",\"width_mm\":0.2"), "target.width_mm", "1 to 5000"},
        {TARGET(",\"width_mm\":\"200\""), "target.width_mm", "number"},
        {TARGET(",\"width_mm\":[200]"), "target.width_mm", "number"},
        {TARGET(",\"width_mm\":1e999"), "line 1", "valid JSON"},
        {TARGET(",\"width_mm\":NaN"), "line 1", "valid JSON"},
        {GREY(",\"width_mm\":0"), "grey[0].width_mm", "longest side"},
        {GREY(",\"width_mm\":-1"), "grey[0].width_mm", "1 to 5000"},
        {GREY(",\"width_mm\":1e9"), "grey[0].width_mm", "1 to 5000"},
        {GREY(",\"width_mm\":true"), "grey[0].width_mm", "number"},
    };
    for (size_t i = 0; i < sizeof bads / sizeof bads[0]; i++) {
        tdm_marks marks;
        tdm_error error = {0};
        ck_assert_int_eq(parse(bads[i].text, &marks, &error), TDM_ERR_FORMAT);
        ck_assert_msg(strncmp(error.place, bads[i].place, strlen(bads[i].place)) == 0, "%zu: %s", i,
                      error.place);
        ck_assert_msg(strstr(error.text, bads[i].says) != NULL, "%zu: %s", i, error.text);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_target_seen_squarely,
                                  nothing_of_known_size,
                                  a_tilted_target,
                                  a_card_of_known_width,
                                  the_target_counts_before_cards,
                                  bad_widths_name_their_key,
                                  NULL};
    return run_suite("scale from known sizes", tests);
}
