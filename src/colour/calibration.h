/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The correction from the photograph's XYZ to that of the surface, fitted to references in the hair's light.
 */
#ifndef TDM_COLOUR_CALIBRATION_H
#define TDM_COLOUR_CALIBRATION_H

#include "colour/device.h"
#include "colour/light.h"
#include "colour/reference.h"
#include "photo/photo.h"

typedef enum tdm_calibration_method {
    TDM_CALIBRATION_ICC,
    TDM_CALIBRATION_GREY,
    TDM_CALIBRATION_TARGET
} tdm_calibration_method;

enum { TDM_CURVE_KNOTS = 8, TDM_PATCHES = TDM_REFERENCE_PATCHES };

/* A value, copied freely. Identity when all is default: see tdm_calibration_none. */
typedef struct tdm_calibration {
    tdm_calibration_method method;
    double to_rgb[9];                    /* XYZ D50 to linear working RGB */
    double from_rgb[9];                  /* corrected working RGB to XYZ D50: primaries times the 3x3 */
    int knots;                           /* per-channel monotone curve; 0 means gain only */
    double curve_in[3][TDM_CURVE_KNOTS]; /* knots as cube roots of linear light */
    double curve_out[3][TDM_CURVE_KNOTS];
    double curve_slope[3][TDM_CURVE_KNOTS]; /* of the monotone cubic (Fritsch and Carlson 1980) */
    double gain[3];
    bool rooted; /* root-polynomial terms: XYZ = from_rgb (r, g, b) + from_roots (√rg, √gb, √rb) */
    double from_roots[9]; /* (Finlayson, Mackiewicz and Hurlbert 2015, degree 2) */
    tdm_light light;      /* uneven light, taken out between curve and matrix */
    /* How the light falls off over the target, as its own patches show: stops a px along x and y with the
     * covariance xx, xy, yy of that, around the target's middle; several greys of one lightness show the
     * same. drift_var[0] NaN where there is neither. */
    double drift[2], drift_var[3], middle[2];
    /* CIEDE2000 against the reference; NaN where there is no target */
    double before_mean, before_max, residual_mean, residual_max, left_out_mean;
    double hair_mean; /* left-one-out mean over the patches nearest to hair colours */
    double u_lstar;   /* standard (k = 1) uncertainty that this calibration leaves in L* of hair */
    double u_ab;      /* the same in a* and b*, each */
} tdm_calibration;

tdm_calibration tdm_calibration_none(const tdm_device *device);

/* Whether the calibration starts from the device's own linear RGB, whatever the two profiles are called: not
 * where it was fitted in another colour space. */
bool tdm_calibration_starts_at(const tdm_calibration *calibration, const tdm_device *device);

/* One channel of linear working RGB through curve and gain. */
double tdm_calibration_channel(const tdm_calibration *calibration, int channel, double linear);

/* Corrected linear working RGB, light taken out, to XYZ: matrix and, where rooted, root terms (channels below
 * zero count as zero there). xyz may be rgb. */
void tdm_calibration_mix(const tdm_calibration *calibration, const double rgb[3], double xyz[3]);

/* In place on count triples of XYZ, in even light: the light isn't looked at. */
void tdm_calibration_apply(const tdm_calibration *calibration, float *xyz, size_t count);

/* Why a patch of the target counts or not. */
typedef enum tdm_patch_state {
    TDM_PATCH_KEPT,
    TDM_PATCH_CLIPPED, /* a channel at its top */
    TDM_PATCH_CRUSHED, /* a channel at its bottom */
    TDM_PATCH_ODD      /* dirty, glossy or shaded: far from what the others predict for it */
} tdm_patch_state;

/* What became of one patch. */
typedef struct tdm_patch_result {
    tdm_patch_state state;
    double outline[8];          /* the area that was sampled, x y each, upright pixels */
    double before[3], after[3]; /* CIELAB by the profile alone, and after the correction */
    double de00_before, de00_after,
        left_out; /* against the reference; left_out by a fit without it, NaN where none */
} tdm_patch_result;

/* One reference of known lightness: polygon in upright pixel coordinates (count x,y pairs, at least 3
 * points), lstar its CIELAB L*, neutral. */
typedef struct tdm_grey {
    const double *polygon;
    size_t count;
    double lstar;
} tdm_grey;

/* The rectangle of pixels that a polygon needs, cut to the picture. */
tdm_rect tdm_polygon_rect(const double *polygon, size_t count, uint32_t width, uint32_t height);

/* Fits gains to one or more grey references; a curve a channel to three or more steps of lightness; uneven
 * light to references of one lightness at several places. width, height: of the picture. light: known
 * unevenness, or NULL; then none is fitted. pixels must hold the references. The light at their middle, or
 * where the known light has it so, counts as 1. TDM_ERR_UNUSABLE where one is clipped, black, too
 * small or strongly coloured; place is "grey[i]". */
TDM_MUST_CHECK tdm_code tdm_calibrate_grey(const tdm_device *device, const tdm_pixels *pixels,
                                           const tdm_grey *greys, size_t count, uint32_t width,
                                           uint32_t height, const tdm_light *light, const char *file,
                                           tdm_warnings *warnings, tdm_calibration *out, tdm_error *error);

/* Fits light, curve and matrix to the 24-patch target. corners: the four outer corners of the block of
 * patches, x y each, in the order dark skin, bluish green, black, white (upright pixel coordinates). light:
 * known unevenness, or NULL. results may be NULL. TDM_ERR_FORMAT with place "target.corners" where the
 * corners are in the wrong order (the text says which way round the target seems to lie). TDM_ERR_UNUSABLE
 * with place "target" where the target is too small (under 4 px a patch), clipped or the residual is absurd.
 */
TDM_MUST_CHECK tdm_code tdm_calibrate_target(const tdm_device *device, const tdm_pixels *pixels,
                                             const double corners[8], const tdm_reference *reference,
                                             const tdm_light *light, const char *file, tdm_warnings *warnings,
                                             tdm_calibration *out, tdm_patch_result results[TDM_PATCHES],
                                             tdm_error *error);

/* Bits of the flags that tdm_colour_convert gives for each pixel. */
enum {
    TDM_PIXEL_TRANSPARENT = 1,
    TDM_PIXEL_CLIPPED = 2 /* a channel at its top */,
    TDM_PIXEL_BLACK = 4 /* all at 0 */
};

/* Calibrated linear XYZ of a rectangle that lies inside pixels->rect. xyz: 3 floats a pixel, flags: a byte a
 * pixel; both the caller's, rows of rect.width. */
TDM_MUST_CHECK tdm_code tdm_colour_convert(const tdm_device *device, const tdm_calibration *calibration,
                                           const tdm_pixels *pixels, tdm_rect rect, float *xyz,
                                           uint8_t *flags, tdm_error *error);

#endif
