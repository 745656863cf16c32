/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether measured values can be those of the 24-patch target at all. */
#include "colour/lab.h"
#include "colour/reference_parts.h"
#include "colour/target.h"

enum { ORDERS = 8 };

/* CIEDE2000 from the published values; choices. The two published editions are 2.0 apart at most. */
static const double mean_allowed = 10, patch_allowed = 25;

static const char *const order_words[ORDERS] = {
    "from its first patch on, row by row",  "in rows that run from right to left",
    "in rows from the neutral one up",      "backwards, from black to dark skin",
    "column by column instead of by rows",  "column by column, beginning at the right",
    "column by column, each from below up", "column by column, backwards",
};

/* Patch that comes as number index in that order: bit 0 from the right, bit 1 from below, bit 2 by columns.
 */
static int patch_in_order(int order, int index)
{
    int row = index / TDM_TARGET_COLUMNS, column = index % TDM_TARGET_COLUMNS;
    if (order & 4) {
        row = index % TDM_TARGET_ROWS;
        column = index / TDM_TARGET_ROWS;
    }
    if (order & 1)
        column = TDM_TARGET_COLUMNS - 1 - column;
    if (order & 2)
        row = TDM_TARGET_ROWS - 1 - row;
    return row * TDM_TARGET_COLUMNS + column;
}

/* Mean over the patches, were they in that order; *worst the patch number farthest off. */
static double mean_apart(double lab[TDM_REFERENCE_PATCHES][3], int order, int *worst, double *worst_apart)
{
    double sum = 0;
    *worst_apart = -1;
    for (int i = 0; i < TDM_REFERENCE_PATCHES; i++) {
        const double apart = tdm_de00(lab[i], tdm_reference_patches[patch_in_order(order, i)].lab);
        sum += apart;
        if (apart > *worst_apart) {
            *worst_apart = apart;
            *worst = i;
        }
    }
    return sum / TDM_REFERENCE_PATCHES;
}

/* The order in which the values would be this target's; 0 where none is. */
static int other_order(double lab[TDM_REFERENCE_PATCHES][3])
{
    int worst;
    double apart;
    for (int order = 1; order < ORDERS; order++) {
        if (mean_apart(lab, order, &worst, &apart) <= mean_allowed)
            return order;
    }
    return 0;
}

tdm_code tdm_reference_check(const tdm_cgats *in, double lab[TDM_REFERENCE_PATCHES][3],
                             const unsigned lines[TDM_REFERENCE_PATCHES])
{
    int worst = 0;
    double apart = 0;
    const double mean = mean_apart(lab, 0, &worst, &apart);
    if (mean <= mean_allowed && apart <= patch_allowed)
        return TDM_OK;
    const int order = other_order(lab);
    if (order > 0)
        return tdm_cgats_fail(in, lines[0],
                              "the patches seem to be numbered %s; number them in rows from dark skin on",
                              order_words[order]);
    const int tenths = (int)(10 * mean + 0.5), worst_tenths = (int)(10 * apart + 0.5);
    if (apart > patch_allowed)
        return tdm_cgats_fail(in, lines[worst],
                              "%s is %d.%d CIEDE2000 from its published colour; measure that patch again, or "
                              "see that each row belongs to its patch",
                              tdm_patch_names[worst], worst_tenths / 10, worst_tenths % 10);
    return tdm_cgats_fail(in, lines[worst],
                          "the patches are %d.%d CIEDE2000 from their published colours on average, %s "
                          "most; they can't be this target's under D50",
                          tenths / 10, tenths % 10, tdm_patch_names[worst]);
}
