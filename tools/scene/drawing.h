/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How hair lies, what colour it has along its length, and the buffers it is drawn into. */
#ifndef DRAWING_H
#define DRAWING_H

#include "scene.h"

/* flow.c: where the hair of root position u (mm along the root line) lies at s mm from its root. */
typedef struct {
    scn_point *table; /* lanes x (steps + 1), mm in the picture */
    size_t lanes, steps;
    double step, span;
} scn_flow;
bool scn_flow_make(scn_flow *flow, const scn_scene *scene);
void scn_flow_free(scn_flow *flow);
scn_point scn_flow_at(const scn_flow *flow, double u, double s);
/* From the head's mm (unposed) to the picture's mm. */
scn_point scn_pose(const scn_scene *scene, scn_point p);

/* ribbons.c: which hair is of which kind. */
typedef enum { SCN_DARK, SCN_FIRST, SCN_SECOND } scn_kind;
typedef struct {
    double from[SCN_MOST_RIBBONS], to[SCN_MOST_RIBBONS];
    size_t count;
} scn_ribbons;

/* course.c: colour as a function of the progress w from natural (0) to old (1). */
enum { SCN_COURSE_STEPS = 1024 };
typedef struct {
    const scn_scene *scene;
    scn_xyz dark[SCN_COURSE_STEPS + 1], light[SCN_COURSE_STEPS + 1], second[SCN_COURSE_STEPS + 1], band, melt,
        white;
    scn_ribbons first_ribbons;  /* mm along the root line */
    scn_ribbons second_ribbons; /* mm along what the first leave of it */
} scn_paint;
/* What one strand's course deviates by. */
typedef struct {
    scn_kind kind;
    double shift;      /* mm added to the centre */
    double tint;       /* L* added throughout */
    double melt_shift; /* mm added to where the melt ends */
    bool gap;          /* no line: the lengths' colour from the root on */
    double white;      /* how much of it grew without pigment: of one strand 0 or 1 */
} scn_strand_paint;
void scn_paint_make(scn_paint *paint, const scn_scene *scene);
/* ribbons.c */
void scn_paint_place(scn_paint *paint);
scn_kind scn_paint_kind(const scn_paint *paint, double u);
double scn_paint_progress(const scn_paint *paint, const scn_strand_paint *strand, double s);
/* The last tint's effect: most of a strand has one colour. Start with {0}; one a strand. */
typedef struct {
    double y, scale;
} scn_tint_memo;
scn_xyz scn_paint_tinted(const scn_paint *paint, const scn_strand_paint *strand, scn_xyz base,
                         scn_tint_memo *memo);
/* Its colour without the tint, seen at u mm along the root line; SCN_BEYOND: without spots. */
#define SCN_BEYOND (-1e6)
scn_xyz scn_paint_base(const scn_paint *paint, const scn_strand_paint *strand, double u, double s, double w);
/* A normal distribution function that rises from 10 to 90 % over `width`, half way at nought. */
double scn_normal_step(double from, double width);
/* The noise-free colour of a population at a progress. */
scn_xyz scn_paint_plain(const scn_paint *paint, scn_kind kind, double w);

/* layers.c: what lies over the course's colour, and how the line runs across the head. */
/* mm by which the line lies lower at u. */
double scn_course_shift(const scn_scene *scene, double u);
bool scn_course_gap(const scn_scene *scene, double u);
/* Of a spot at a place: an ellipse, half way at its edge, which is streaked along the fall. */
double scn_spot_share(double at, double width, double from, double length, double u, double s);
double scn_melt_cover(const scn_melt *melt, double s, double shift);
scn_xyz scn_melted(const scn_paint *paint, scn_xyz xyz, double cover);
scn_xyz scn_with_layers(const scn_paint *paint, const scn_strand_paint *strand, double u, double s,
                        scn_xyz xyz);
/* The plain colours that a course leads from and to, of other strands and of light ones. */
typedef struct {
    scn_xyz root[2], ends[2];
} scn_ends;
scn_ends scn_paint_ends(const scn_paint *paint, double gap_share);

/* canvas.c: what the camera would see of the hair in even light, per pixel, weighted by coverage. */
enum { SCN_X, SCN_Y, SCN_Z, SCN_SHADE, SCN_SHEEN, SCN_TINTED, SCN_LIGHT, SCN_PROGRESS, SCN_CHANNELS };
typedef struct {
    float v[SCN_CHANNELS];
} scn_pixel;
/* What only scenes with layers, cast light or a parting carry besides: colour without texture or shade of the
   other strands' part and of the light ones', both by cover; the light that falls on it; a band of gloss;
   white hair. */
enum { SCN_PLAIN = 0, SCN_PLAIN_LIGHT = 3, SCN_CAST = 6, SCN_BAND_SHEEN, SCN_GREY, SCN_MORE };
typedef struct {
    float v[SCN_MORE];
} scn_more;
/* Which way the strands run from root to tip, a direction of length 1 in the picture, and the share of hair
   of the second lights; by cover. */
typedef struct {
    float x, y, second;
} scn_way;
typedef struct {
    scn_pixel *pixels; /* width x height from the picture's (left, top), at scn_canvas_at */
    float *cover;
    scn_more *more; /* as the pixels; NULL where nothing needs it */
    scn_way *ways;  /* as the pixels; NULL without light strands */
    float *skin;    /* share of the pixel where a parting shows; NULL without one */
    size_t left, top, width, height;
} scn_canvas;
enum { SCN_TILE = 8 };
/* Columns of SCN_TILE pixels one after another: strands hang, so what they cover lies near in memory. */
static inline size_t scn_canvas_at(const scn_canvas *canvas, size_t x, size_t y)
{
    return (x / SCN_TILE * canvas->height + y) * SCN_TILE + x % SCN_TILE;
}
typedef struct {
    float x, y, half; /* px in the canvas; half the width */
    float alpha;
    scn_pixel value;
    scn_more more;
    float second;
} scn_knot;
static inline void scn_knot_kind(scn_knot *knot, scn_kind kind)
{
    knot->value.v[SCN_LIGHT] = kind != SCN_DARK;
    knot->second = kind == SCN_SECOND;
}
/* Whether the canvas carries what each pixel's colour is without texture. */
bool scn_carries_plain(const scn_scene *scene);
bool scn_canvas_make(scn_canvas *canvas, const scn_scene *scene, const scn_flow *flow);
void scn_canvas_free(scn_canvas *canvas);
void scn_canvas_strand(scn_canvas *canvas, const scn_knot *knots, size_t count);
/* Darkens what is drawn already beside a path: by `alpha` of each knot at the path, falling off to `half`. */
void scn_canvas_shadow(scn_canvas *canvas, const scn_knot *knots, size_t count);
/* cast.c: lets skin show along the parting. */
void scn_draw_parting(const scn_scene *scene, const scn_flow *flow, scn_canvas *canvas);

/* mm along the root line after which the waves' phase is the same again. */
double scn_wave_period(const scn_scene *scene);

/* locks.c and extras.c */
typedef struct {
    const scn_scene *scene;
    const scn_flow *flow;
    const scn_paint *paint;
    scn_canvas *canvas;
    scn_random random, melt_random, white_random; /* of their own: melt and white change nothing else */
    scn_knot *knots;
    size_t knot_room;
} scn_hand;
typedef struct {
    double centre, width; /* mm along the root line */
    double depth;         /* 0 deepest, 1 on top */
    double wave_amplitude, wave_length, wave_phase;
    double course_shift, length, brightness, sheen_turn;
    double melt_shift;
} scn_lock;
typedef struct {
    double u, across;         /* across: -1 to 1 in its lock */
    double wisp, wisp_across; /* root position of the wisp it clings to; -1 to 1 in it */
    double start, length, width, lean, drift, ripple, ripple_length, ripple_phase;
    double brightness, sheen, sheen_turn, opacity;
    scn_strand_paint paint;
} scn_strand;
/* strand.c */
/* Fills the hand's knots and returns how many. */
size_t scn_knots_of(scn_hand *hand, const scn_lock *lock, const scn_strand *strand);
/* Apart by this many mm along a strand. */
double scn_knot_step(const scn_scene *scene);
/* Cast light and gloss at s; only their part of `more`. */
void scn_cast_at(const scn_scene *scene, const scn_lock *lock, const scn_strand *strand, double s,
                 scn_more *more);
/* The colour's part of `more`. */
void scn_more_colour(scn_more *more, scn_xyz base, bool light);
void scn_draw_strand(scn_hand *hand, const scn_lock *lock, const scn_strand *strand);
void scn_draw_lock(scn_hand *hand, scn_lock *lock);
bool scn_draw_hair(const scn_scene *scene, const scn_flow *flow, const scn_paint *paint, scn_canvas *canvas);
void scn_draw_undercoat(scn_hand *hand);
void scn_draw_crown(scn_hand *hand);
void scn_draw_flyaways(scn_hand *hand);
/* The finest strand drawn, px: a thinner one only costs time. */
double scn_fibre_px(const scn_scene *scene);
scn_strand scn_strand_start(scn_hand *hand, const scn_lock *lock, double u);

/* shade.c: evens the shading out over a few centimetres, so that an area keeps the colour of its hair. */
bool scn_shade_level(scn_canvas *canvas, const scn_scene *scene);

/* backdrop.c and props.c: everything but hair, linear XYZ, three floats a pixel; lay.c: the hair over it. */
typedef struct {
    float *xyz;
    size_t width, height;
} scn_image;
typedef struct {
    scn_point target[4], grey[4], scale[2]; /* px */
    scn_point cards[SCN_MOST_CARDS][4], swatches[SCN_MOST_SWATCHES][4];
    scn_lab swatch_labs[SCN_MOST_SWATCHES]; /* of their mean light inside the marks, as drawn */
} scn_places;
bool scn_backdrop(scn_image *image, const scn_scene *scene);
/* A smooth step from 0 at `low` to 1 at `high`; a hash of a cell; smooth noise of such cells, -1 to 1. */
double scn_soft(double low, double high, double x);
uint32_t scn_hash(int x, int y);
double scn_mottle(double x, double y);
void scn_backdrop_flat(scn_image *image, double lstar);
/* clutter.c: things in the background that may be taken for a target. `hair` NULL where there is no head. */
void scn_clutter(scn_image *image, const scn_scene *scene, const scn_canvas *hair);
/* target.c and swatch.c */
void scn_draw_target(scn_image *image, const scn_scene *scene, scn_point corners[4]);
scn_lab scn_patch_lab(bool new_edition, size_t patch);
void scn_draw_swatch(scn_image *image, const scn_scene *scene, size_t index, scn_places *places);
bool scn_props(scn_image *image, const scn_scene *scene, scn_places *places);
bool scn_lay_hair(scn_image *image, const scn_scene *scene, const scn_canvas *canvas);

/* blur.c: focus and motion, after the light is gathered. */
bool scn_blur(scn_image *image, const scn_camera *camera);
/* camera.c: turns the image into encoded samples of the upright picture, 16 bit a channel. */
bool scn_camera_take(scn_image *image, const scn_scene *scene, uint16_t **samples);
/* Turns upright samples into stored ones; width and height follow. */
uint16_t *scn_camera_store(const uint16_t *upright, int orientation, size_t *width, size_t *height);
bool scn_write_jpeg(const char *path, const scn_scene *scene, const uint16_t *samples, size_t width,
                    size_t height);
bool scn_write_png(const char *path, const scn_scene *scene, const uint16_t *samples, size_t width,
                   size_t height);

/* zone.c: the pixels of a zone by their place along and across. */
typedef struct {
    scn_point *path; /* px, half a mm apart */
    size_t count;
    double step_mm, px_mm, half_mm;
} scn_path;
/* Where the zone's path lies at s mm from its start, mm in the picture. */
scn_point scn_zone_at(const scn_flow *flow, const scn_zone *zone, double s);
bool scn_path_make(scn_path *path, const scn_scene *scene, const scn_flow *flow, const scn_zone *zone);
void scn_path_free(scn_path *path);
/* The path's direction at s, of length 1, and the pixels' place at s along and `across` to the right hand of
   it. */
scn_point scn_path_way(const scn_path *path, double s);
scn_point scn_path_at(const scn_path *path, double s, double across);
/* False outside the zone; `hint` is kept from call to call. */
bool scn_path_place(const scn_path *path, double x, double y, size_t *hint, double *s, double *t);

/* course_truth.c */
typedef struct {
    double centre, width; /* NaN where there is none */
} scn_fall;
typedef struct {
    double *sums; /* bins x columns x 2 populations x 4: X Y Z of the plain colour, and cover */
    size_t bins, columns;
    double bin_mm;
} scn_course_sums;
scn_fall scn_fall_of(const scn_ends *ends, const scn_course_sums *sums, size_t first, size_t last,
                     double share);
bool scn_columns_of(const scn_ends *ends, const scn_course_sums *sums, double column_mm, double *local_width,
                    double *stagger);

/* truth.c and marks.c: false with a line on standard error. */
bool scn_write_truth(const char *path, const scn_scene *scene, const scn_flow *flow, const scn_paint *paint,
                     const scn_canvas *canvas, const scn_places *places);
/* truth_held.c: adds what the extras' keys call for. */
bool scn_tell_held(json_t *truth, const scn_scene *scene, const scn_places *places);
/* The list as a marks file has it. */
json_t *scn_swatches_json(const scn_scene *scene, const scn_places *places);
json_t *scn_corners_json(const scn_point corners[4]);
bool scn_write_marks(const char *path, const char *photo, const scn_scene *scene, const scn_flow *flow,
                     const scn_places *places);

#endif
