/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/strand_unmix.h"

#include <math.h>
#include <stddef.h>

#include "colour/lab.h"

void tdm_unmix_add(tdm_unmix *sums, double light, double count, const double xyz[3])
{
    sums->light += count * light * light;
    sums->both += count * light * (1 - light);
    sums->dark += count * (1 - light) * (1 - light);
    for (size_t k = 0; k < 3; k++) {
        sums->of_light[k] += light * xyz[k];
        sums->of_dark[k] += (1 - light) * xyz[k];
    }
}

bool tdm_unmix_solve(const tdm_unmix *sums, double light[3], double dark[3])
{
    const double all = sums->light + 2 * sums->both + sums->dark;
    const double determinant = sums->light * sums->dark - sums->both * sums->both;
    double pure[2][3];
    if (!(determinant > 1e-6 * all * all))
        return false;
    for (size_t k = 0; k < 3; k++) {
        pure[1][k] = (sums->of_light[k] * sums->dark - sums->of_dark[k] * sums->both) / determinant;
        pure[0][k] = (sums->of_dark[k] * sums->light - sums->of_light[k] * sums->both) / determinant;
    }
    if (!(pure[0][1] > 0) || !(pure[1][1] > pure[0][1]))
        return false;
    tdm_xyz_to_lab(pure[1], light);
    tdm_xyz_to_lab(pure[0], dark);
    return true;
}
