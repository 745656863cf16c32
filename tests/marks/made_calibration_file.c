/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "marks/made_calibration_file.h"

#include <math.h>
#include <string.h>

#include "suite.h"

const tdm_calibration_origin made_origin = {
    .photo = "before.jpg",
    .sha256 = "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff",
    .profile = "Display P3",
    .reference = "measured, mine.txt",
    .taken = "2026:03:14 10:20:30"};

/* Working RGB here is XYZ over its white. */
tdm_calibration numbered_calibration(void)
{
    static const double white[3] = {0.9642, 1, 0.8249}; /* ICC.1's D50 */
    tdm_calibration made = {.method = TDM_CALIBRATION_TARGET,
                            .knots = TDM_CURVE_KNOTS,
                            .gain = {1.0 / 3, 2.0 / 3, 1.1},
                            .rooted = true,
                            .light = {.degree = 3, .width = 4000, .height = 3000, .misfit = 0.01 / 3},
                            .drift = {1e-5 / 3, -2e-7 / 3},
                            .drift_var = {1e-12 / 7, -1e-13 / 7, 2e-12 / 7},
                            .middle = {1000.0 / 3, 0.1},
                            .before_mean = 10.0 / 3,
                            .before_max = 20.0 / 3,
                            .residual_mean = 0.7,
                            .residual_max = 2.1,
                            .left_out_mean = 1.1,
                            .hair_mean = 0.3,
                            .u_lstar = 0.5 / 3,
                            .u_ab = 0.6 / 7};
    for (int c = 0; c < 3; c++) {
        made.to_rgb[4 * c] = 1 / white[c];
        for (int k = 0; k < 3; k++) {
            made.from_rgb[3 * c + k] = white[c] * (k == c ? 1.1 : 0.05);
            made.from_roots[3 * c + k] = white[c] * -0.2 / 3;
        }
        for (int i = 0; i < TDM_CURVE_KNOTS; i++) {
            made.curve_in[c][i] = i / 7.0;
            made.curve_out[c][i] = pow(i / 7.0, 1.1 + 0.1 * c);
            made.curve_slope[c][i] = 1 + i / 70.0;
        }
        for (int i = 0; i < tdm_light_terms(3); i++)
            made.light.stops[c][i] = (i - 4) / 30.0;
    }
    return made;
}

tdm_code parse_calibration(const char *text, tdm_warnings *warnings, tdm_calibration *out,
                           tdm_calibration_origin *origin, tdm_error *error)
{
    const tdm_limits limits = tdm_limits_default();
    return tdm_calibration_parse(text, strlen(text), "day.json", &limits, warnings, out, origin, error);
}

char *calibration_text(const tdm_calibration *calibration, const tdm_calibration_origin *origin)
{
    char *text = NULL;
    tdm_error error = {0};
    ck_assert_msg(tdm_calibration_text(calibration, origin, &text, &error) == TDM_OK, "%s", error.text);
    return text;
}
