/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The 24-patch target: reference values, its patches in a photograph, and the fit to them. */
#ifndef TDM_COLOUR_TARGET_H
#define TDM_COLOUR_TARGET_H

#include "base/warnings.h"
#include "colour/sample.h"

enum { TDM_TARGET_ROWS = 4, TDM_TARGET_COLUMNS = 6, TDM_FIRST_NEUTRAL = 18, TDM_NEUTRALS = 6 };

/* A target must have so many patches left that count: matrix and slope of light have eight unknowns, patches
 * three figures each. */
enum { TDM_FEWEST_PATCHES = 12 };

typedef struct tdm_reference_patch {
    const char *name;
    double lab[3]; /* D50, 2 degree observer */
} tdm_reference_patch;

/* The published values. Rows from the dark skin patch on, the neutral row last, white first. */
extern const tdm_reference_patch tdm_reference_patches[TDM_PATCHES];

typedef struct tdm_patch {
    double rgb[3];    /* measured, linear working RGB of the device */
    double lab[3];    /* reference */
    double xyz[3];    /* the same */
    double place[2];  /* its middle, from the target's, in tdm_target.scale */
    double factor[3]; /* takes it to even light after the curve, as far as the light is known beforehand */
    tdm_patch_state state;
} tdm_patch;

/* What a fit is made to. */
typedef struct tdm_target {
    tdm_patch patches[TDM_PATCHES];
    tdm_calibration start; /* tdm_calibration_none of the device */
    double middle[2];      /* of the target, upright pixels */
    double scale;          /* pixels: half the target's longer side */
} tdm_target;

/* What a fit has beside curves and matrix. */
typedef struct tdm_terms {
    bool rooted;           /* root-polynomial terms */
    bool sloped;           /* light that falls off evenly over the target */
    bool stepped;          /* light that jumps between two parts of it */
    int side[TDM_PATCHES]; /* of the step: -1 or 1 */
} tdm_terms;

/* Places of the free numbers. */
enum {
    TDM_FREE_MATRIX = 0, /* two off the diagonal a row */
    TDM_FREE_ROOTS = 6,  /* three a row */
    TDM_FREE_SLOPE = 15, /* stops along x and y in tdm_target.scale */
    TDM_FREE_STEP = 17,  /* half the jump in stops: light is higher by it on side 1 */
    TDM_FREE = 18
};

typedef struct tdm_target_fit {
    tdm_terms terms;
    double free[TDM_FREE]; /* zero where a term isn't used */
    tdm_calibration calibration;
    /* CIEDE2000 of the coloured patches it was made to: mean of all, and of the nearest two thirds */
    double mean, typical;
} tdm_target_fit;

/* What a fit without a patch says of it. */
typedef struct tdm_left_out {
    double lab[3]; /* NaN where there is no such fit */
    double miss;   /* CIEDE2000 to the reference */
} tdm_left_out;

/* corners as in tdm_calibrate_target; each of the 24 patches is sampled in the middle half of its sides.
 * TDM_ERR_UNUSABLE, place "target", where corners, size or position don't allow it. */
TDM_MUST_CHECK tdm_code tdm_patches_sample(const tdm_device *device, const tdm_pixels *pixels,
                                           const double corners[8], const char *file,
                                           tdm_sample samples[TDM_PATCHES], tdm_error *error);

/* The areas that are sampled; middles: of each patch; middle: of the block. False as where sampling fails. */
bool tdm_patches_place(const double corners[8], double areas[TDM_PATCHES][8], double middles[TDM_PATCHES][2],
                       double middle[2]);

/* Whether the last six samples fall from white to black and are of one colour. */
bool tdm_neutral_row_fits(const tdm_sample samples[TDM_PATCHES]);
/* The same of four or five of them. */
bool tdm_neutral_row_nearly_fits(const tdm_sample samples[TDM_PATCHES]);

/* Tries the other seven orders of the corners. The sentence's end for the one that fits, such as "the target
 * seems to be upside down"; NULL where none does. Static storage. */
TDM_MUST_CHECK tdm_code tdm_target_other_order(const tdm_device *device, const tdm_pixels *pixels,
                                               const double corners[8], const char *file, const char **found,
                                               tdm_error *error);

/* Kept patches from `first` on. */
int tdm_target_kept(const tdm_target *target, int first);

/* Sets out->calibration from out->free: mixing first, then the curves through the kept neutral patches but
 * `without` (-1 for none). False where a curve doesn't rise or the mixing can't be undone. */
bool tdm_target_build(const tdm_target *target, int without, tdm_target_fit *out);

/* CIELAB of a patch under a fit, its light taken out. */
void tdm_target_patch_lab(const tdm_target *target, const tdm_target_fit *fit, int patch, double lab[3]);

/* Free numbers to begin a search at, by these coloured patches and the kept neutral ones but `without`. False
 * as above, or where the patches' colours are too few to tell the channels apart. */
bool tdm_target_start(const tdm_target *target, const int *coloured, size_t count, int without,
                      tdm_target_fit *fit);

/* Fits to the kept patches but `without` (-1 for none). from: a fit to begin at, or NULL. variance: NULL, or
 * the covariance xx, xy, yy of the slope where terms->sloped. False where too few patches are left or no
 * curve fits. */
bool tdm_target_solve(const tdm_target *target, const tdm_terms *terms, int without,
                      const tdm_target_fit *from, tdm_target_fit *out, double variance[3]);

/* Each kept patch by a fit without it. */
void tdm_target_leave_out(const tdm_target *target, const tdm_target_fit *fit,
                          tdm_left_out left[TDM_PATCHES]);

/* Means of what is a number in left: over all, and over the patches nearest to hair. */
double tdm_left_out_mean(const tdm_left_out left[TDM_PATCHES]);
double tdm_left_out_near_hair(const tdm_left_out left[TDM_PATCHES]);

/* Near hair, root mean squares of the miss in L*, and in a* and b*, each; where no patch there says anything,
 * the uncertainty of the profile alone. */
void tdm_left_out_spread(const tdm_target *target, const tdm_left_out left[TDM_PATCHES], double *lstar,
                         double *ab);

/* The fit without those of the kept neutral patches, two at most, that spoil the others; out names them.
 * False where none does. fit: of all kept ones, or NULL where there is none. */
bool tdm_target_spoilt(const tdm_target *target, const tdm_target_fit *fit, tdm_target_fit *best,
                       bool out[TDM_NEUTRALS]);

/* The fit with light that jumps along a line across the target, where that explains what the even one
 * doesn't. */
bool tdm_target_shaded(const tdm_target *target, const tdm_target_fit *fit, tdm_target_fit *best);
TDM_MUST_CHECK tdm_code tdm_target_warn_shade(const tdm_target_fit *fit, tdm_warnings *warnings,
                                              tdm_error *error);

/* Marks coloured patches that are far from what the others say as TDM_PATCH_ODD, one after the other. *fit is
 * of the kept ones before and after. True where more are odd than may be left out. */
bool tdm_target_sort_out(tdm_target *target, tdm_target_fit *fit);
/* Keeps again what a fit without it doesn't find odd, now that worse ones are out. False where no fit is
 * left.
 */
bool tdm_target_take_back(tdm_target *target, tdm_target_fit *fit);
/* The same of one neutral patch; true where it is kept again. */
bool tdm_target_neutral_back(tdm_target *target, const tdm_target_fit *fit, int patch);
TDM_MUST_CHECK tdm_code tdm_target_warn_odd(const tdm_target *target, const tdm_target_fit *fit, bool more,
                                            tdm_warnings *warnings, tdm_error *error);

/* The first fit, with an even slope of light, and what doesn't belong to it: marks odd patches, and gives the
 * fit a step where there is a shadow's edge. *more: others are odd, but enough are out. False where no fit is
 * left. */
bool tdm_target_explain(tdm_target *target, tdm_target_fit *fit, bool *more);

/* Sets drift, drift_var and middle in out, and takes the slope out of the fit where it is no more than
 * chance.
 */
bool tdm_target_settle_slope(const tdm_target *target, tdm_target_fit *fit, tdm_calibration *out);

/* Gives the fit root terms where they earn it. left: of the fit as it is afterwards. */
void tdm_target_settle_roots(const tdm_target *target, tdm_target_fit *fit, tdm_left_out left[TDM_PATCHES]);

/* What became of each patch, and in out the CIEDE2000 figures and uncertainties. areas: that were sampled;
 * measured: the reference is of this very target. */
void tdm_target_judge(const tdm_target *target, const tdm_target_fit *fit, bool measured,
                      double areas[TDM_PATCHES][8], const tdm_left_out left[TDM_PATCHES],
                      tdm_calibration *out, tdm_patch_result results[TDM_PATCHES]);

#endif
