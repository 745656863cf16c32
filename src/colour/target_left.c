/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each patch by a fit without it, and what that says of hair. */
#include <math.h>

#include "colour/lab.h"
#include "colour/target.h"

/* Within 15 CIEDE2000 of the melanin model's colours from L* 16 to 66: dark skin, light skin, neutral 6.5, 5,
 * 3.5 and black. */
static const int near_hair[] = {0, 1, 20, 21, 22, 23};
enum { NEAR_HAIR = sizeof near_hair / sizeof near_hair[0] };

int tdm_target_kept(const tdm_target *target, int first)
{
    int kept = 0;
    for (int i = first; i < TDM_PATCHES; i++)
        kept += target->patches[i].state == TDM_PATCH_KEPT;
    return kept;
}

void tdm_target_leave_out(const tdm_target *target, const tdm_target_fit *fit, tdm_left_out left[TDM_PATCHES])
{
    for (int i = 0; i < TDM_PATCHES; i++) {
        tdm_target_fit other;
        left[i] = (tdm_left_out){{NAN, NAN, NAN}, NAN};
        if (target->patches[i].state != TDM_PATCH_KEPT ||
            !tdm_target_solve(target, &fit->terms, i, fit, &other, NULL))
            continue;
        tdm_target_patch_lab(target, &other, i, left[i].lab);
        left[i].miss = tdm_de00(target->patches[i].lab, left[i].lab);
    }
}

double tdm_left_out_mean(const tdm_left_out left[TDM_PATCHES])
{
    double sum = 0;
    int count = 0;
    for (int i = 0; i < TDM_PATCHES; i++) {
        if (isnan(left[i].miss))
            continue;
        sum += left[i].miss;
        count++;
    }
    return count > 0 ? sum / count : NAN;
}

double tdm_left_out_near_hair(const tdm_left_out left[TDM_PATCHES])
{
    double sum = 0;
    int count = 0;
    for (int k = 0; k < NEAR_HAIR; k++) {
        const double miss = left[near_hair[k]].miss;
        if (isnan(miss))
            continue;
        sum += miss;
        count++;
    }
    return count > 0 ? sum / count : NAN;
}

void tdm_left_out_spread(const tdm_target *target, const tdm_left_out left[TDM_PATCHES], double *lstar,
                         double *ab)
{
    double lightness = 0, colour = 0;
    int count = 0;
    for (int k = 0; k < NEAR_HAIR; k++) {
        const double *lab = left[near_hair[k]].lab, *wanted = target->patches[near_hair[k]].lab;
        if (isnan(lab[0]))
            continue;
        const double dl = lab[0] - wanted[0], da = lab[1] - wanted[1], db = lab[2] - wanted[2];
        lightness += dl * dl;
        colour += (da * da + db * db) / 2;
        count++;
    }
    *lstar = count > 0 ? sqrt(lightness / count) : target->start.u_lstar;
    *ab = count > 0 ? sqrt(colour / count) : target->start.u_ab;
}
