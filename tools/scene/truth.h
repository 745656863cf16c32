/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts of a zone's truth. */
#ifndef TRUTH_H
#define TRUTH_H

#include "drawing.h"

scn_lab scn_lab_of_sum(const double sum[4]);
json_t *scn_lab_json(scn_lab lab);
/* null where it isn't finite. */
json_t *scn_number_json(double value);

/* truth_strands.c */
enum { SCN_MIX = 9 };
typedef struct {
    double *rows; /* bins x SCN_MIX: moments of the share of light hair in a pixel, for unmixing */
    size_t bins;
    double bin_mm;
} scn_mix_sums;
void scn_add_mix(scn_mix_sums *sums, size_t bin, const double *xyz, double f, double cover);
/* The least-squares colours of the two populations, and the light one's share of the visible area. */
typedef struct {
    double share;
    scn_lab light, dark;
    double seen; /* contrast in L* of pixels as they are, each weighted by its share of the one and of the
                    other */
    bool both;
} scn_mixture;

/* Of the rows from `from_mm` below the path's start. */
scn_mixture scn_unmixed(const scn_mix_sums *sums, double from_mm);
json_t *scn_strands_json(const scn_scene *scene, const scn_mix_sums *sums, double from_mm);

/* truth_line.c: adds how the line runs, where it lacks and where the hair at the root is light, and the
   parting; only in scenes that use their keys. */
bool scn_tell_line(json_t *zone_json, const scn_scene *scene, const scn_flow *flow, const scn_paint *paint,
                   const scn_zone *zone, const scn_path *path);
/* The share of the zone's root line where there is no line. */
double scn_gap_share(const scn_scene *scene, const scn_zone *zone);

#endif
