/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CIEDE2000: ISO/CIE 11664-6; Sharma, Wu and Dalal 2005 for the hue's special cases. */
#include <math.h>

#include "colour/lab.h"

static const double pi = 3.14159265358979323846;

typedef struct polar {
    double lightness, chroma, hue; /* L', C', h' in radians, 0 to 2 pi */
} polar;

static double power7(double x)
{
    return pow(x, 7);
}

static polar to_polar(const double lab[3], double red_scale)
{
    const double a = lab[1] * red_scale;
    const double chroma = hypot(a, lab[2]);
    double hue = chroma > 0 ? atan2(lab[2], a) : 0;
    if (hue < 0)
        hue += 2 * pi;
    return (polar){lab[0], chroma, hue};
}

static double hue_step(const polar *one, const polar *two)
{
    if (one->chroma * two->chroma == 0)
        return 0;
    double step = two->hue - one->hue;
    if (step > pi)
        step -= 2 * pi;
    else if (step < -pi)
        step += 2 * pi;
    return step;
}

static double mean_hue(const polar *one, const polar *two)
{
    const double sum = one->hue + two->hue;
    if (one->chroma * two->chroma == 0)
        return sum;
    if (fabs(one->hue - two->hue) <= pi)
        return sum / 2;
    return sum < 2 * pi ? (sum + 2 * pi) / 2 : (sum - 2 * pi) / 2;
}

static double hue_weight(double hue)
{
    const double degree = pi / 180;
    return 1 - 0.17 * cos(hue - 30 * degree) + 0.24 * cos(2 * hue) + 0.32 * cos(3 * hue + 6 * degree) -
           0.20 * cos(4 * hue - 63 * degree);
}

static double rotation(double hue, double chroma)
{
    const double degree = pi / 180;
    const double bell = (hue - 275 * degree) / (25 * degree);
    const double turn = 30 * degree * exp(-bell * bell);
    const double c7 = power7(chroma);
    return -2 * sqrt(c7 / (c7 + power7(25))) * sin(2 * turn);
}

/* The rotation term couples chroma and hue; completing the square turns the sum into plain squares. */
void tdm_de00_parts(const double lab1[3], const double lab2[3], double parts[3])
{
    const double c7 = power7((tdm_chroma(lab1) + tdm_chroma(lab2)) / 2);
    const double red_scale = 1 + 0.5 * (1 - sqrt(c7 / (c7 + power7(25))));
    const polar one = to_polar(lab1, red_scale), two = to_polar(lab2, red_scale);

    const double lightness = (one.lightness + two.lightness) / 2 - 50;
    const double chroma = (one.chroma + two.chroma) / 2;
    const double hue = mean_hue(&one, &two);
    const double sl = 1 + 0.015 * lightness * lightness / sqrt(20 + lightness * lightness);
    const double sc = 1 + 0.045 * chroma;
    const double sh = 1 + 0.015 * chroma * hue_weight(hue);

    const double dc = (two.chroma - one.chroma) / sc;
    const double dh = 2 * sqrt(one.chroma * two.chroma) * sin(hue_step(&one, &two) / 2) / sh;
    const double rt = rotation(hue, chroma);
    parts[0] = (two.lightness - one.lightness) / sl;
    parts[1] = dc + rt / 2 * dh;
    parts[2] = dh * sqrt(1 - rt * rt / 4);
}

double tdm_de00(const double lab1[3], const double lab2[3])
{
    double parts[3];
    tdm_de00_parts(lab1, lab2, parts);
    return sqrt(parts[0] * parts[0] + parts[1] * parts[1] + parts[2] * parts[2]);
}
