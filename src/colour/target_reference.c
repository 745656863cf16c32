/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Published CIELAB, D50, 2 degree observer, of the 24-patch target (McCamy, Marcus and Davidson 1976) as made
 * from November 2014 on; taken from the characterisation data sets of colour-science. Why this edition:
 * METHODS.md. */
#include "colour/target.h"

/* One list for the table and the names. */
#define PATCH_LIST(PATCH)                                                                                    \
    PATCH("dark skin", 37.54, 14.37, 14.92)                                                                  \
    PATCH("light skin", 64.66, 19.27, 17.50)                                                                 \
    PATCH("blue sky", 49.32, -3.82, -22.54)                                                                  \
    PATCH("foliage", 43.46, -12.74, 22.72)                                                                   \
    PATCH("blue flower", 54.94, 9.61, -24.79)                                                                \
    PATCH("bluish green", 70.48, -32.26, -0.37)                                                              \
    PATCH("orange", 62.73, 35.83, 56.50)                                                                     \
    PATCH("purplish blue", 39.43, 10.75, -45.17)                                                             \
    PATCH("moderate red", 50.57, 48.64, 16.67)                                                               \
    PATCH("purple", 30.10, 22.54, -20.87)                                                                    \
    PATCH("yellow green", 71.77, -24.13, 58.19)                                                              \
    PATCH("orange yellow", 71.51, 18.24, 67.37)                                                              \
    PATCH("blue", 28.37, 15.42, -49.80)                                                                      \
    PATCH("green", 54.38, -39.72, 32.27)                                                                     \
    PATCH("red", 42.43, 51.05, 28.62)                                                                        \
    PATCH("yellow", 81.80, 2.67, 80.41)                                                                      \
    PATCH("magenta", 50.63, 51.28, -14.12)                                                                   \
    PATCH("cyan", 49.57, -29.71, -28.32)                                                                     \
    PATCH("white 9.5", 95.19, -1.03, 2.93)                                                                   \
    PATCH("neutral 8", 81.29, -0.57, 0.44)                                                                   \
    PATCH("neutral 6.5", 66.89, -0.75, -0.06)                                                                \
    PATCH("neutral 5", 50.76, -0.13, 0.14)                                                                   \
    PATCH("neutral 3.5", 35.63, -0.46, -0.48)                                                                \
    PATCH("black 2", 20.64, 0.07, -0.46)

#define ENTRY(patch, l, a, b) {patch, {l, a, b}},
const tdm_reference_patch tdm_reference_patches[TDM_PATCHES] = {PATCH_LIST(ENTRY)};

#define NAME(patch, l, a, b) patch,
const char *const tdm_patch_names[TDM_PATCHES] = {PATCH_LIST(NAME)};

tdm_reference tdm_reference_published(void)
{
    tdm_reference published = {.note = "published values, edition since November 2014"};
    for (int i = 0; i < TDM_PATCHES; i++) {
        for (int k = 0; k < 3; k++)
            published.lab[i][k] = tdm_reference_patches[i].lab[k];
    }
    return published;
}
