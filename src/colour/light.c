/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/light.h"

#include <math.h>

enum { DEGREES = 5 };

static double scale_of(const tdm_light *light)
{
    return 2.0 / (light->width > light->height ? light->width : light->height);
}

int tdm_light_terms(int degree)
{
    return (degree + 1) * (degree + 2) / 2;
}

void tdm_light_basis(const tdm_light *light, double x, double y, double terms[TDM_LIGHT_TERMS])
{
    const double scale = scale_of(light);
    const double u = scale * (x - light->width / 2.0), v = scale * (y - light->height / 2.0);
    int at = 0;
    for (int total = 0; total <= light->degree; total++) {
        for (int of_y = 0; of_y <= total; of_y++)
            terms[at++] = pow(u, total - of_y) * pow(v, of_y);
    }
}

static double stops_at(const tdm_light *light, int channel, const double terms[TDM_LIGHT_TERMS])
{
    double sum = 0;
    for (int i = 0; i < tdm_light_terms(light->degree); i++)
        sum += light->stops[channel][i] * terms[i];
    return sum;
}

void tdm_light_at(const tdm_light *light, double x, double y, double factors[3])
{
    double terms[TDM_LIGHT_TERMS];
    factors[0] = factors[1] = factors[2] = 1;
    if (light->degree == 0)
        return;
    tdm_light_basis(light, x, y, terms);
    for (int c = 0; c < 3; c++)
        factors[c] = exp2(-stops_at(light, c, terms));
}

double tdm_light_most(const tdm_light *light)
{
    enum { STEPS = 32 };
    double most = 0;
    for (int i = 0; light->degree > 0 && i < (STEPS + 1) * (STEPS + 1); i++) {
        double terms[TDM_LIGHT_TERMS];
        tdm_light_basis(light, (double)light->width * (i % (STEPS + 1)) / STEPS,
                        (double)light->height * (i / (STEPS + 1)) / STEPS, terms);
        for (int c = 0; c < 3; c++)
            most = fmax(most, fabs(stops_at(light, c, terms)));
    }
    return most;
}

void tdm_light_centre(tdm_light *light, double x, double y)
{
    double terms[TDM_LIGHT_TERMS];
    if (light->degree == 0)
        return;
    tdm_light_basis(light, x, y, terms);
    for (int c = 0; c < 3; c++)
        light->stops[c][0] -= stops_at(light, c, terms);
}

/* One channel along a row: the coefficients of 1, u, u² … there. */
static void along_row(const tdm_light *light, int channel, double v, double of_u[DEGREES])
{
    int at = 0;
    for (int i = 0; i < DEGREES; i++)
        of_u[i] = 0;
    for (int total = 0; total <= light->degree; total++) {
        double power = 1;
        for (int of_y = 0; of_y <= total; of_y++, power *= v)
            of_u[total - of_y] += light->stops[channel][at++] * power;
    }
}

void tdm_light_row(const tdm_light *light, double x, double y, size_t count, float *factors)
{
    for (size_t i = 0; light->degree == 0 && i < 3 * count; i++)
        factors[i] = 1;
    if (light->degree == 0)
        return;
    const double scale = scale_of(light);
    const double v = scale * (y - light->height / 2.0);
    for (size_t c = 0; c < 3; c++) {
        double of_u[DEGREES];
        along_row(light, (int)c, v, of_u);
        for (size_t i = 0; i < count; i++) {
            const double u = scale * (x + (double)i - light->width / 2.0);
            double stops = 0;
            for (int k = light->degree; k >= 0; k--)
                stops = stops * u + of_u[k];
            factors[3 * i + c] = exp2f((float)-stops);
        }
    }
}
