/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The scene: what is drawn. Lengths in mm of the head's plane, colours in linear XYZ, D50, white = 1. */
#ifndef SCENE_H
#define SCENE_H

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    SCN_MOST_ZONES = 12,
    SCN_MOST_RIBBONS = 1024,
    SCN_MOST_CARDS = 32,
    SCN_MOST_SWATCHES = 40,
    SCN_MOST_GAPS = 16,
    SCN_MOST_BLEEDS = 32,
    SCN_MOST_SPOTS = 32,
    SCN_PATCHES = 24
};

typedef struct {
    double v[3];
} scn_xyz;

typedef struct {
    double v[3];
} scn_lab;

typedef struct {
    double x, y;
} scn_point;

typedef enum { SCN_UNIFORM, SCN_RAMP, SCN_TRANSITION, SCN_BAND } scn_shape;
typedef enum { SCN_SRGB, SCN_DISPLAY_P3, SCN_NO_PROFILE } scn_profile;
typedef enum { SCN_IDEAL, SCN_CAMERA_A, SCN_CAMERA_B } scn_sensitivity_kind;
typedef enum { SCN_ONLY_ALL, SCN_ONLY_FLAT, SCN_ONLY_SWATCHES } scn_only;

typedef struct {
    scn_shape shape;
    double centre, width, jitter, lock_jitter, slope; /* mm; slope in mm of centre per mm across */
    double band_from, band_to, band_edge;
    double curve, zigzag, zigzag_period; /* mm: sagitta across the span; from crest to trough */
} scn_course;

/* A shade laid over the hair from the root on. */
typedef struct {
    bool on;
    scn_lab colour;
    double to, feather, jitter, lock_jitter; /* mm */
} scn_melt;

/* Hair without pigment among the others. */
typedef struct {
    double share, clump; /* of the strands; mm along the root line of a wisp, 0: strand by strand */
    bool to_ends;        /* not dyed: white beyond the line too */
    scn_lab colour;
} scn_white;

/* A stretch of the root line, mm along it. */
typedef struct {
    double at, width;
} scn_gap;

/* A spot of light hair: mm along the root line and from it. */
typedef struct {
    double at, width, from, length;
    bool own;       /* of its own colour, else of the lengths' */
    scn_lab colour; /* its own */
} scn_bleed;

/* A place of another tint: as a bleed, what it adds to L*, a*, b* of all hair. */
typedef struct {
    double at, width, from, length;
    scn_lab shift;
} scn_spot;

/* Light and shade that aren't colour. */
typedef struct {
    double from, to, edge, amount; /* a shadow across the fall */
    double sheen_at, sheen_width, sheen_amount;
    double parting_at, parting_width, parting_length; /* at NaN: none */
} scn_cast;

typedef struct {
    double share, ribbon, start, width; /* start and width NaN: as the course */
    bool regular;
    double stray; /* share of a wisp's strands that don't follow its kind */
} scn_lights;

/* Light hair of another time and colour, laid where the first isn't; its course is the first's. */
typedef struct {
    double share, ribbon;
    bool regular;
    scn_lab colour;
} scn_second_lights;

typedef struct {
    double exposure_ev, white_balance[3], tone, noise, blur_px, uneven;
    scn_profile profile;
    int quality, subsampling, orientation; /* subsampling: 444, 422 or 420 */
    bool png;
    int bits;
    const char *taken; /* "YYYY:MM:DD hh:mm:ss" or NULL */
    scn_sensitivity_kind sensitivity;
    double motion_px, motion_deg;
} scn_camera;

typedef struct {
    double cct, planck; /* kelvin; both NaN: D50 */
} scn_lamp;

/* The 24-patch target as it is held, and what is wrong with it. */
typedef struct {
    scn_point at; /* mm, of its centre */
    double turn, tilt, tilt_axis, width;
    double shade, shade_from, shade_turn, shade_soft; /* light taken; share of the width; degrees; mm */
    bool dirt[SCN_PATCHES], glare[SCN_PATCHES];
    double dirt_amount, glare_amount;
    bool mirrored, new_edition, in_marks, in_marks_width;
} scn_target;

typedef struct {
    scn_point at; /* mm, of its centre */
    double width, height, turn, lstar;
    bool in_marks_width;
} scn_card;

typedef struct {
    double level; /* NaN where only lab is given */
    const char *name;
    scn_lab lab;
    scn_point at; /* mm, of its centre */
    double width, height, turn;
} scn_swatch;

typedef struct {
    const char *name, *side;
    double at, width, length, from; /* at: mm along the root line; from: of its start, below that line */
    double turn;                    /* degrees clockwise that its path is turned by about its start */
} scn_zone;

typedef struct {
    json_t *params; /* as resolved; the strings above point into it */
    size_t width, height;
    double px_mm;
    uint64_t seed;
    scn_lab natural, old, band, light;
    scn_course course;
    scn_melt melt;
    scn_white white;
    scn_gap gaps[SCN_MOST_GAPS];
    size_t gap_count;
    scn_bleed bleeds[SCN_MOST_BLEEDS];
    size_t bleed_count;
    scn_spot spots[SCN_MOST_SPOTS];
    size_t spot_count;
    scn_cast cast;
    scn_lights lights;
    scn_second_lights second_lights;
    double texture_l, shading, shading_fall, gloss;
    double length, span, wave, wavelength, flyaways, density, clump, drift, wave_jitter;
    double dx, dy, turn, sweep; /* degrees; sweep: of the fall, to the picture's right */
    scn_camera camera;
    scn_zone zones[SCN_MOST_ZONES];
    size_t zone_count;
    bool target, grey, scale, scale_in_marks;
    scn_point scale_at;
    scn_target held;
    scn_card cards[SCN_MOST_CARDS];
    size_t card_count;
    scn_swatch swatches[SCN_MOST_SWATCHES];
    size_t swatch_count;
    bool quick;    /* fewer, broader strands */
    bool spectral; /* a lamp or a camera of its own spectrum */
    scn_lamp lamp, second_lamp;
    double second_share[2], second_turn;
    double clutter, flat_lstar;
    uint64_t clutter_seed;
    scn_only only;
} scn_scene;

/* config.c: reads PATH over the defaults, then each "key=value"; false with one line on standard error. */
bool scn_scene_load(scn_scene *scene, const char *path, const char *const *sets, size_t set_count);
void scn_scene_free(scn_scene *scene);
/* One line on standard error; always false. */
bool scn_fail(const char *place, const char *what);
/* settings.c: lays what OVER holds, or one "a.b=value", over BASE; false with a line when a key or type isn't
 * the base's. */
bool scn_lay_over(json_t *base, json_t *over);
bool scn_lay_set(json_t *base, const char *set);
/* defaults.c: every key with its default; NULL when memory is short. */
json_t *scn_defaults(void);
/* The parameters without those keys of `extras` that are at their default: what a truth file names. */
json_t *scn_params_told(const scn_scene *scene);
/* Whether any key of the extras isn't at its default. */
bool scn_params_beyond(const scn_scene *scene);
/* extras_config.c: the keys of lamps, target, cards, swatches, clutter. */
bool scn_read_held(scn_scene *scene);
/* line_config.c: the keys of melt, the line's course, light and shade. */
bool scn_read_line(scn_scene *scene);

/* random.c: PCG32 (M. E. O'Neill 2014). The stream tells apart independent uses of one seed. */
typedef struct {
    uint64_t state, increment;
} scn_random;
scn_random scn_random_start(uint64_t seed, uint64_t stream);
uint32_t scn_random_bits(scn_random *random);
double scn_uniform(scn_random *random, double low, double high);
double scn_normal(scn_random *random);

/* colour.c */
scn_lab scn_lab_of(scn_xyz xyz);
scn_xyz scn_xyz_of(scn_lab lab);
scn_xyz scn_neutral(double lstar);
double scn_level_of(double lstar);
double scn_lstar_of_level(double level);
/* Hair body colour at a level; warmth is the share of pheomelanin, 0 to 1. */
scn_lab scn_melanin(double level, double warmth);
/* Rows: device red, green, blue from XYZ D50. */
void scn_device_matrix(scn_profile profile, double matrix[3][3]);
/* de00.c */
double scn_de00(scn_lab a, scn_lab b);

/* profile.c: an ICC profile of fixed bytes, to be freed; NULL on failure. */
unsigned char *scn_profile_bytes(scn_profile profile, size_t *size);
/* exif.c: a TIFF block with orientation and time; returns its size. */
enum { SCN_EXIF_MOST = 128 };
size_t scn_exif_bytes(int orientation, const char *taken, unsigned char bytes[SCN_EXIF_MOST]);

#endif
