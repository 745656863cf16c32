/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spectra of lamps, surfaces and cameras. A surface is known by its XYZ D50 alone; its reflectance is taken
 * as the mix of three smooth ones that has that XYZ: flat, and two masses of hair. */
#include <math.h>
#include <string.h>

#include "light.h"
#include "spectra.h"

typedef struct {
    double v[SCN_WAVES];
} spectrum;

typedef struct {
    spectrum rows[3];
} triple;

static const double white[3] = {0.9642, 1.0, 0.8249}; /* ICC profile connection space */

static double nm(size_t i)
{
    return (double)(SCN_FIRST_NM + SCN_STEP_NM * (int)i);
}

/* CIE 15, illuminants of the D series; a nominal 5000 K is D50. */
static spectrum daylight(double nominal)
{
    const double t = nominal * 1.4388 / 1.4380;
    const double x = t <= 7000 ? ((-4.6070e9 / t + 2.9678e6) / t + 0.09911e3) / t + 0.244063
                               : ((-2.0064e9 / t + 1.9018e6) / t + 0.24748e3) / t + 0.237040;
    const double y = (2.870 - 3.000 * x) * x - 0.275, m = 0.0241 + 0.2562 * x - 0.7341 * y;
    const double m1 = (-1.3515 - 1.7703 * x + 5.9114 * y) / m, m2 = (0.0300 - 31.4424 * x + 30.0717 * y) / m;
    spectrum out;
    for (size_t i = 0; i < SCN_WAVES; i++)
        out.v[i] = scn_daylight[0][i] + m1 * scn_daylight[1][i] + m2 * scn_daylight[2][i];
    return out;
}

static spectrum planck(double kelvin)
{
    spectrum out;
    for (size_t i = 0; i < SCN_WAVES; i++)
        out.v[i] = pow(nm(i) / 560, -5) / (exp(1.4388e7 / (nm(i) * kelvin)) - 1);
    return out;
}

/* Lamps of equal luminance, so that mixing them changes colour and not exposure. */
static spectrum lamp_of(const scn_lamp *lamp)
{
    spectrum out =
        isfinite(lamp->planck) ? planck(lamp->planck) : daylight(isfinite(lamp->cct) ? lamp->cct : 5000);
    double y = 0;
    for (size_t i = 0; i < SCN_WAVES; i++)
        y += out.v[i] * scn_observer[1][i];
    for (size_t i = 0; i < SCN_WAVES; i++)
        out.v[i] /= y;
    return out;
}

static const double bradford[3][3] = {
    {0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}};

/* The ideal camera's three channels are Bradford's mixes of the colour-matching functions: no metameric
   error, and a white balance that adapts as lcms2 and ICC profiles do. */
static triple channels_of(scn_sensitivity_kind kind)
{
    triple out;
    for (size_t c = 0; c < 3; c++) {
        for (size_t i = 0; i < SCN_WAVES; i++)
            out.rows[c].v[i] = kind == SCN_IDEAL ? bradford[c][0] * scn_observer[0][i] +
                                                       bradford[c][1] * scn_observer[1][i] +
                                                       bradford[c][2] * scn_observer[2][i]
                                                 : scn_sensitivity[kind == SCN_CAMERA_B][c][i];
    }
    return out;
}

static triple observer(void)
{
    triple out;
    memcpy(out.rows, scn_observer, sizeof out.rows);
    return out;
}

/* Flat; and eumelanin at levels 4 and 9 (concentrations 0.619 and 0.098): absorption 6.6e10 nm^-3.33
   (Donner and Jensen 2006) scaled to that of d'Eon et al. 2011 in green, reflectance of the mass by Chiang et
   al. 2016, as the hair's own colour in colour.c. */
static triple basis(void)
{
    static const double concentration[3] = {0, 0.619, 0.098};
    triple out;
    for (size_t k = 0; k < 3; k++)
        for (size_t i = 0; i < SCN_WAVES; i++)
            out.rows[k].v[i] = exp(-5.88841475 * sqrt(0.697 * concentration[k] * pow(nm(i) / 550, -3.33)));
    return out;
}

static double response(const spectrum *lamp, const spectrum *channel, const double *reflectance)
{
    double sum = 0;
    for (size_t i = 0; i < SCN_WAVES; i++)
        sum += lamp->v[i] * channel->v[i] * (reflectance ? reflectance[i] : 1);
    return sum;
}

/* Responses to a reflectance under a lamp, each relative to that to flat 1 under the lamp balanced for. */
static void record(const triple *channels, const spectrum *lamp, const spectrum *balance,
                   const double *reflectance, double out[3])
{
    for (size_t c = 0; c < 3; c++)
        out[c] =
            response(lamp, &channels->rows[c], reflectance) / response(balance, &channels->rows[c], NULL);
}

/* Rows: weights of the basis from XYZ relative to white. */
static void weights_of(const triple *surfaces, double out[3][3])
{
    const scn_lamp fifty = {NAN, NAN};
    const spectrum d50 = lamp_of(&fifty);
    const triple xyz = observer();
    double seen[3][3], columns[3];
    for (int k = 0; k < 3; k++) {
        record(&xyz, &d50, &d50, surfaces->rows[k].v, columns);
        for (int i = 0; i < 3; i++)
            seen[i][k] = columns[i];
    }
    (void)scn_invert(seen, out); /* three fixed spectra that differ */
}

static void light_one(scn_lit *lit, const triple *channels, const spectrum *lamp, const spectrum *balance)
{
    const scn_lamp fifty = {NAN, NAN};
    const spectrum d50 = lamp_of(&fifty);
    const triple surfaces = basis(), eye = observer();
    double weights[3][3], seen[3][3], column[3], xyz[3];
    weights_of(&surfaces, weights);
    for (int k = 0; k < 3; k++) {
        record(channels, lamp, balance, surfaces.rows[k].v, column);
        for (int c = 0; c < 3; c++)
            seen[c][k] = column[c];
    }
    scn_multiply(seen, weights, lit->of_xyz);
    for (int p = 0; p < 24; p++) {
        record(channels, lamp, balance, scn_patch_spectra[p], lit->patches[p]);
        record(&eye, &d50, &d50, scn_patch_spectra[p], xyz);
        for (int c = 0; c < 3; c++)
            for (int i = 0; i < 3; i++)
                lit->patches[p][c] -= lit->of_xyz[c][i] * xyz[i];
    }
    for (int c = 0; c < 3; c++)
        for (int i = 0; i < 3; i++)
            lit->of_xyz[c][i] /= white[i];
}

/* As a camera maker would: least squares over the patches in daylight of 5500 K, a grey staying grey. */
static void fit_maker(const triple *channels, double to_xyz[3][3])
{
    const scn_lamp fifty = {NAN, NAN}, fifty_five = {5500, NAN};
    const spectrum d50 = lamp_of(&fifty), d55 = lamp_of(&fifty_five);
    const triple eye = observer();
    double rr = 0, rb = 0, bb = 0, tr[3] = {0}, tb[3] = {0};
    for (size_t p = 0; p < 24; p++) {
        double in[3], wanted[3];
        record(channels, &d55, &d55, scn_patch_spectra[p], in);
        record(&eye, &d50, &d50, scn_patch_spectra[p], wanted);
        const double r = in[0] - in[1], b = in[2] - in[1];
        rr += r * r;
        rb += r * b;
        bb += b * b;
        for (int i = 0; i < 3; i++) {
            tr[i] += (wanted[i] - in[1]) * r;
            tb[i] += (wanted[i] - in[1]) * b;
        }
    }
    const double det = rr * bb - rb * rb;
    for (int i = 0; i < 3; i++) {
        const double r = (tr[i] * bb - tb[i] * rb) / det, b = (tb[i] * rr - tr[i] * rb) / det;
        const double row[3] = {r, 1 - r - b, b};
        for (int c = 0; c < 3; c++)
            to_xyz[i][c] = white[i] * row[c];
    }
}

/* The ideal camera's channels turn into XYZ without a fit. */
static void undo_bradford(double to_xyz[3][3])
{
    const scn_lamp fifty = {NAN, NAN};
    const spectrum d50 = lamp_of(&fifty);
    const triple eye = observer();
    double seen[3], m[3][3];
    for (int i = 0; i < 3; i++)
        seen[i] = response(&d50, &eye.rows[i], NULL);
    for (int c = 0; c < 3; c++) {
        double sum = 0;
        for (int i = 0; i < 3; i++)
            sum += bradford[c][i] * seen[i];
        for (int i = 0; i < 3; i++)
            m[c][i] = bradford[c][i] * seen[i] / white[i] / sum;
    }
    (void)scn_invert(m, to_xyz);
}

void scn_light_make(scn_light *light, const scn_scene *scene)
{
    const triple channels = channels_of(scene->camera.sensitivity);
    const spectrum first = lamp_of(&scene->lamp), second = lamp_of(&scene->second_lamp);
    light_one(&light->lamps[0], &channels, &first, &first);
    light_one(&light->lamps[1], &channels, &second, &first);
    if (scene->camera.sensitivity == SCN_IDEAL)
        undo_bradford(light->to_xyz);
    else
        fit_maker(&channels, light->to_xyz);
}

double scn_light_share(const scn_scene *scene, double x, double y)
{
    const double angle = scene->second_turn * 3.14159265358979323846 / 180;
    const double w = (double)scene->width, h = (double)scene->height;
    /* 0 at the edge or corner that lies furthest against the direction, 1 at the opposite. */
    const double reach = 0.5 * (fabs(w * cos(angle)) + fabs(h * sin(angle)));
    const double place = ((x - 0.5 * w) * cos(angle) + (y - 0.5 * h) * sin(angle)) / reach;
    const double t = fmin(1, fmax(0, 0.5 + 0.5 * place));
    return scene->second_share[0] + t * (scene->second_share[1] - scene->second_share[0]);
}

scn_xyz scn_light_patch(const scn_light *light, size_t patch, scn_xyz xyz, double share)
{
    double mixed[3][3], back[3][3], more[3];
    const scn_lit *a = &light->lamps[0], *b = &light->lamps[1];
    for (int c = 0; c < 3; c++) {
        more[c] = a->patches[patch][c] + share * (b->patches[patch][c] - a->patches[patch][c]);
        for (int i = 0; i < 3; i++)
            mixed[c][i] = a->of_xyz[c][i] + share * (b->of_xyz[c][i] - a->of_xyz[c][i]);
    }
    if (scn_invert(mixed, back)) {
        for (int i = 0; i < 3; i++)
            xyz.v[i] += back[i][0] * more[0] + back[i][1] * more[1] + back[i][2] * more[2];
    }
    return xyz;
}
