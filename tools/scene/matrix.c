/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "light.h"

bool scn_invert(double m[3][3], double inverse[3][3])
{
    double cofactor[3][3];
    for (int i = 0; i < 3; i++) {
        for (int j = 0; j < 3; j++) {
            const int r = (i + 1) % 3, s = (i + 2) % 3, c = (j + 1) % 3, d = (j + 2) % 3;
            cofactor[i][j] = m[r][c] * m[s][d] - m[r][d] * m[s][c];
        }
    }
    const double det = m[0][0] * cofactor[0][0] + m[0][1] * cofactor[0][1] + m[0][2] * cofactor[0][2];
    if (!(fabs(det) > 1e-12))
        return false;
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            inverse[i][j] = cofactor[j][i] / det;
    return true;
}

void scn_multiply(double a[3][3], double b[3][3], double out[3][3])
{
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            out[i][j] = a[i][0] * b[0][j] + a[i][1] * b[1][j] + a[i][2] * b[2][j];
}
