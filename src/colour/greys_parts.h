/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of the fits to grey references. */
#ifndef TDM_COLOUR_GREYS_PARTS_H
#define TDM_COLOUR_GREYS_PARTS_H

#include "colour/greys.h"

double tdm_luminance_of(double lstar); /* Y of a neutral */
double tdm_lightness_of(double y);

/* What a camera's unknown contrast (standard uncertainty of the exponent) may do at lstar when the nearest
 * references are at below and above (either may be NaN): in L*. */
double tdm_contrast_error(double lstar, double below, double above, double exponent_u);

/* One reference in the fit of a plane: y = basis · (offset, slope along x, slope along y), in stops; x and y
 * over half the picture's longer side. */
typedef struct tdm_plane_row {
    double basis[3];
    double y[3]; /* a channel of working RGB */
    double weight;
} tdm_plane_row;

typedef struct tdm_plane {
    double terms[3][3];  /* a channel: offset, slopes */
    double variance[9];  /* of a channel's terms, stops² */
    double significance; /* slopes against their variance, chi-squared of 2, the strongest channel's */
} tdm_plane;

/* Least squares with the terms held to zero by their prior standard deviations: a direction that no
 * reference lies along keeps its prior, and a slope of 0. */
void tdm_plane_fit(const tdm_plane_row *rows, size_t count, const double prior[3], tdm_plane *out);

/* Huber weights from misfits in stops, on a scale of at least tdm_grey_noise. scratch: room for count. */
void tdm_huber_weights(const double *misfits, size_t count, double *scratch, double *weights);

extern const double tdm_grey_noise;     /* stops: standard uncertainty of one reference */
extern const double tdm_slope_prior;    /* stops over half the longer side */
extern const double tdm_clearly_uneven; /* significance from which a plane is taken out */

/* A plane as a light, 0 stops at `at`. */
tdm_light tdm_light_of_plane(const tdm_plane *plane, uint32_t width, uint32_t height, const double at[2],
                             double misfit);

/* What a plane may be off by, in stops; rms: from the references themselves. */
double tdm_plane_misfit(const tdm_light *light, const tdm_grey_measured *greys, size_t count, double rms);

/* The widest difference between two references' light, in stops, is beyond one: warning "light-uneven". */
TDM_MUST_CHECK tdm_code tdm_warn_uneven(const tdm_light *light, const tdm_grey_measured *greys, size_t count,
                                        tdm_warnings *warnings, tdm_error *error);

/* A curve a channel through the references in steps of lightness; light: what they stand in. False, and
 * *out as it was, where there are fewer than three steps or they don't rise together. */
bool tdm_greys_curve(const tdm_grey_measured *greys, size_t count, const tdm_light *light,
                     tdm_calibration *out);

/* How each step is met by a curve through the others: the worst excess over what is plausible for a camera
 * (L*, 0 where none), and the root mean square at the steps on either side of lstar. */
typedef struct tdm_step_check {
    double below, above; /* steps next to lstar, NaN where none */
    double worst, worst_lstar;
    double near;
} tdm_step_check;
tdm_step_check tdm_greys_check_steps(const tdm_calibration *curve, double lstar);

/* A fit to greys at work. Starts with room for count; greys, calibration and known are the caller's to fill.
 */
typedef struct tdm_grey_fit {
    tdm_grey_measured *greys;
    size_t count;
    uint32_t width, height;
    double at[2]; /* the references' middle, whose light counts as 1 */
    double half;  /* of the picture's longer side */
    size_t *group;
    tdm_plane_row *rows;
    double *misfits, *scratch, *weights;
    const tdm_light *known; /* NULL: to be found */
    bool pairs, curved;     /* references of one lightness; three steps or more */
    tdm_plane plane;
    tdm_calibration calibration;
} tdm_grey_fit;

/* False when out of memory. End it in either case. */
bool tdm_grey_fit_start(tdm_grey_fit *work, size_t count, uint32_t width, uint32_t height);
void tdm_grey_fit_end(tdm_grey_fit *work);
/* Fills calibration's curve or gains, its light, and plane. What is left, root mean square in L*. */
double tdm_grey_fit_run(tdm_grey_fit *work);

#endif
