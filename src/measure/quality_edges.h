/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far the picture spreads an edge: from the gaps between the target's patches, or from strands of hair.
 */
#ifndef TDM_MEASURE_QUALITY_EDGES_H
#define TDM_MEASURE_QUALITY_EDGES_H

#include "colour/homography.h"
#include "measure/quality.h"

/* A piece of the picture in calibrated linear light. */
typedef struct tdm_view {
    tdm_rect rect;
    float *light; /* Y, rows of rect.width; owned */
} tdm_view;

/* The pixels within reach of a place, cut to what was decoded. light NULL where nothing is left of it. */
TDM_MUST_CHECK tdm_code tdm_view_make(const tdm_quality_input *input, double x, double y, double reach,
                                      tdm_view *out, tdm_error *error);
void tdm_view_free(tdm_view *view);

/* A straight gap with a surface on either side. Distances in px across it, from its middle. */
typedef struct tdm_gap {
    double x, y;           /* nominal middle; that found, where fitted */
    double normal[2];      /* across, unit length */
    double from, to;       /* its two edges */
    double before, after;  /* light of the two surfaces */
    double between;        /* of the gap */
    double sigma, u_sigma; /* of a Gaussian edge spread and its standard uncertainty, px */
    bool fitted;
    bool run_together; /* seen, but too blurred for its edges to be told apart */
} tdm_gap;

/* Largest sigma over a gap's width: beyond, its two edges can't be told apart. */
extern const double tdm_gap_widest;

/* gap holds x, y, normal, and from and to where it should be; it is looked for nearby. reach: how far either
 * surface goes, length: how far along the gap; px. */
TDM_MUST_CHECK tdm_code tdm_gap_fit(const tdm_view *view, double reach, double length, tdm_gap *gap,
                                    tdm_error *error);

/* Four patches meeting at a crossing of gaps, row by row. */
typedef struct tdm_crossing {
    const tdm_gap *left_right[2]; /* gap between the two patches of the upper row, of the lower */
    const tdm_gap *up_down[2];    /* gap between the two of the left column, of the right */
} tdm_crossing;

/* Covariance, px², of the spread along the normals of left_right and up_down, by one patch's corner: 0 upper
 * left, 1 upper right, 2 lower left, 3 lower right. False where it can't be told. Of corners 0 and 3 it
 * comes out too small, of 1 and 2 too large, where they are round. */
bool tdm_corner_covariance(const tdm_view *view, const tdm_crossing *crossing, int corner, double reach,
                           double *covariance);

/* The spread in both directions. Standard deviations, px, the pixel's own width included. */
typedef struct tdm_edge_spread {
    double sharp, smeared; /* in the sharpest direction, and across that; NaN where it can't be told */
    double direction;      /* of the smear, degrees counter-clockwise from level, 0 to 180 */
    double u_extra;        /* standard uncertainty of smeared² - sharp², px² */
} tdm_edge_spread;

/* Length in px of an even smear that would spread the picture as much more along its direction. */
double tdm_smear_length(const tdm_edge_spread *spread);

/* From the target's gaps and corners. Where the gaps have run together, sharp is what it is at least. */
TDM_MUST_CHECK tdm_code tdm_spread_of_target(const tdm_quality_input *input, tdm_edge_spread *out,
                                             tdm_error *error);
/* From strands in the zones: sharp only. */
TDM_MUST_CHECK tdm_code tdm_spread_of_hair(const tdm_quality_input *input, tdm_edge_spread *out,
                                           tdm_error *error);

#endif
