/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: swatches in another colour than the hair's. */

#include "report/page.h"
#include "suite.h"

/* CIELAB D50 of sRGB colours, adapted by Bradford as in sRGB's ICC profile: white, black and mid grey by
 * definition; the primaries' Lab from the profile's colorants (0.4360 0.2225 0.0139; 0.3851 0.7169 0.0971;
 * 0.1431 0.0606 0.7141) by ISO/CIE 11664-4. Eight bits hold one step. */
static const struct {
    double lab[3];
    unsigned rgb[3];
} colours[] = {
    {{100, 0, 0}, {255, 255, 255}},        {{0, 0, 0}, {0, 0, 0}},
    {{53.585, 0, 0}, {128, 128, 128}},     {{54.29, 80.81, 69.89}, {255, 0, 0}},
    {{87.82, -79.27, 80.99}, {0, 255, 0}}, {{29.57, 68.30, -112.03}, {0, 0, 255}},
};

START_TEST(swatch_is_the_colour)
{
    unsigned rgb[3];
    tdm_lab_to_srgb8(colours[_i].lab, rgb);
    for (size_t k = 0; k < 3; k++) {
        ck_assert_uint_le(rgb[k], colours[_i].rgb[k] + 1);
        ck_assert_uint_le(colours[_i].rgb[k], rgb[k] + 1);
    }
}
END_TEST

/* Held at the gamut's edge, not wrapped round. */
START_TEST(colour_beyond_the_gamut)
{
    unsigned rgb[3];
    tdm_lab_to_srgb8((const double[3]){50, 200, 0}, rgb);
    ck_assert_uint_eq(rgb[0], 255);
    ck_assert_uint_eq(rgb[1], 0);
    ck_assert_uint_le(rgb[2], 255);
}
END_TEST

START_TEST(no_codes_without_colour)
{
    const tdm_text_style style = {.width = 80};
    tdm_page page = tdm_page_start(&style);
    tdm_page_bold(&page);
    tdm_page_dim(&page);
    tdm_page_plain(&page);
    ck_assert_uint_eq(page.text.size, 0);
}
END_TEST

START_TEST(width_is_held)
{
    const tdm_text_style narrow = {.width = 3}, wide = {.width = 1000};
    ck_assert_uint_eq(tdm_page_start(&narrow).style.width, 40);
    ck_assert_uint_eq(tdm_page_start(&wide).style.width, 200);
}
END_TEST

int main(void)
{
    TCase *tests = patient_case("paint");
    tcase_add_loop_test(tests, swatch_is_the_colour, 0, (int)(sizeof colours / sizeof colours[0]));
    tcase_add_test(tests, colour_beyond_the_gamut);
    tcase_add_test(tests, no_codes_without_colour);
    tcase_add_test(tests, width_is_held);
    return run_case("paint", tests);
}
