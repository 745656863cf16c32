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
enum { SCN_MIX = 15 };
typedef struct {
    double *rows; /* bins x SCN_MIX: moments of the share of light hair in a pixel, for unmixing */
    size_t bins;
    double bin_mm;
} scn_mix_sums;
void scn_add_mix(scn_mix_sums *sums, size_t bin, const double *xyz, double f, double g, double cover);
/* The least-squares colours of the populations, and the light ones' share of the visible area. */
typedef struct {
    double share, second_share; /* the first includes the second */
    scn_lab light, second, dark;
    double seen; /* contrast in L* of pixels as they are, each weighted by its share of the one and of the
                    other */
    bool both, three; /* whether they can be unmixed */
} scn_mixture;

/* A stretch of a zone's path, mm from its start. */
typedef struct {
    double from, to;
} scn_stretch;

scn_mixture scn_unmixed(const scn_mix_sums *sums, scn_stretch stretch);

/* truth_ways.c: which way the strands run in a zone, in cells of about 2 mm. Across as in the truth: to the
   right hand of the way from root to ends. */
typedef struct {
    double *sums;  /* rows x columns x 2: along and across, by cover */
    double *slope; /* rows x columns: across per along, evened over three columns; made by scn_ways_even */
    size_t rows, columns;
    double along_mm, across_mm; /* of a cell */
} scn_way_sums;
bool scn_ways_make(scn_way_sums *ways, const scn_zone *zone);
void scn_ways_free(scn_way_sums *ways);
void scn_add_way(scn_way_sums *ways, const scn_path *path, scn_way way, double s, double across);
void scn_ways_even(scn_way_sums *ways);
double scn_slope_at(const scn_way_sums *ways, double s, double across);
json_t *scn_ways_json(const scn_way_sums *ways);

/* truth_ribbons.c: ribbons as drawn and seen. */
typedef struct {
    double s, low, high, cosine; /* place of the cut; edges across, mm; of the strands' lean */
    bool cut;                    /* by the zone's edge */
    bool first;                  /* of its cut */
} scn_run;
typedef struct {
    scn_run *runs;
    size_t count;
    double *cosines; /* mean of each cut, one a mm */
    size_t cuts;
    double width_mm; /* of the zone */
} scn_runs;
bool scn_runs_make(scn_runs *runs, const scn_zone *zone, const scn_path *path, const scn_way_sums *ways,
                   const scn_canvas *canvas);
void scn_runs_free(scn_runs *runs);
/* Adds widths, spacings and count of a stretch. */
bool scn_tell_runs(json_t *to, const scn_runs *runs, scn_stretch stretch);

/* The stretch below the line, and the root, mid and ends parts by themselves. */
json_t *scn_strands_json(const scn_scene *scene, const scn_mix_sums *sums, const scn_way_sums *ways,
                         const scn_runs *runs, const scn_stretch parts[4]);

/* truth_line.c: adds how the line runs, where it lacks and where the hair at the root is light, and the
   parting; only in scenes that use their keys. */
bool scn_tell_line(json_t *zone_json, const scn_scene *scene, const scn_flow *flow, const scn_paint *paint,
                   const scn_zone *zone, const scn_path *path);
/* A stretch of hair at s, cut to the zone: false where too little of it lies there. */
typedef struct {
    double along, across, width; /* mm from the root line; mm across of its middle; mm */
} scn_part;
bool scn_part_of(const scn_flow *flow, const scn_zone *zone, const scn_path *path, double at, double width,
                 double s, scn_part *out);
/* The share of the zone's root line where there is no line. */
double scn_gap_share(const scn_scene *scene, const scn_zone *zone);

#endif
