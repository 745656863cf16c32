/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/matrix.h"

#include <math.h>
#include <string.h>

void tdm_matrix_apply(const double m[9], const double in[3], double out[3])
{
    const double x = in[0], y = in[1], z = in[2];
    for (int i = 0; i < 3; i++)
        out[i] = m[3 * i] * x + m[3 * i + 1] * y + m[3 * i + 2] * z;
}

void tdm_matrix_multiply(const double a[9], const double b[9], double out[9])
{
    double product[9];
    for (int i = 0; i < 3; i++) {
        for (int j = 0; j < 3; j++)
            product[3 * i + j] = a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j];
    }
    memcpy(out, product, sizeof product);
}

bool tdm_matrix_invert(const double m[9], double out[9])
{
    const double adjoint[9] = {
        m[4] * m[8] - m[5] * m[7], m[2] * m[7] - m[1] * m[8], m[1] * m[5] - m[2] * m[4],
        m[5] * m[6] - m[3] * m[8], m[0] * m[8] - m[2] * m[6], m[2] * m[3] - m[0] * m[5],
        m[3] * m[7] - m[4] * m[6], m[1] * m[6] - m[0] * m[7], m[0] * m[4] - m[1] * m[3]};
    const double determinant = m[0] * adjoint[0] + m[1] * adjoint[3] + m[2] * adjoint[6];
    double size = 0;
    for (int i = 0; i < 9; i++)
        size = fmax(size, fabs(m[i]));
    if (!isfinite(determinant) || fabs(determinant) <= 1e-9 * size * size * size)
        return false;
    for (int i = 0; i < 9; i++)
        out[i] = adjoint[i] / determinant;
    return true;
}
