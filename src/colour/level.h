/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trade's level (depth) from L*, on a monotone table that users may replace. */
#ifndef TDM_COLOUR_LEVEL_H
#define TDM_COLOUR_LEVEL_H

#include <stddef.h>

enum { TDM_LEVEL_ENTRIES = 32 };

/* A value. Levels and L* both rise strictly. Between entries, and a little beyond the ends, level is linear
 * in ln L*. */
typedef struct tdm_level_scale {
    size_t count; /* 2 to TDM_LEVEL_ENTRIES */
    double level[TDM_LEVEL_ENTRIES];
    double lstar[TDM_LEVEL_ENTRIES];
    char name[TDM_LEVEL_ENTRIES][32]; /* "medium brown" */
    char note[96];                    /* "default scale, not calibrated to your swatches" */
} tdm_level_scale;

/* L*(n) = 16 (66/16)^((n-1)/9), n = 1 … 10. */
tdm_level_scale tdm_level_scale_default(void);

/* Level of a lightness, held to 1.0 … 10.0 of the default scale (first and last entry of another). NaN in,
 * NaN out. */
double tdm_level_from_lstar(const tdm_level_scale *scale, double lstar);
double tdm_level_to_lstar(const tdm_level_scale *scale, double level);
/* d level / d L* at that lightness (for uncertainties); of the unclamped curve. */
double tdm_level_slope(const tdm_level_scale *scale, double lstar);
/* Name of the nearest entry, owned by the scale. */
const char *tdm_level_name(const tdm_level_scale *scale, double level);

/* Tone word of a colour at its depth: "ash", "neutral", "warm", "gold", "copper", "red", "violet" … (static
 * storage). */
const char *tdm_tone_word(const double lab[3]);

#endif
