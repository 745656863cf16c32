/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/search.h"

#include <math.h>

#include "measure/visibility.h"

static const double coarse_mm = 0.75; /* finer than the eye's blur at the distance, and quick */
/* Candidates. Choices: finer steps of the shade than an eighth are below what can be mixed, and the feather's
 * share of the reach changes little near its best. */
static const double depths[] = {0.125, 0.25, 0.375, 0.5};           /* of the way from root to lengths */
static const double feathers[] = {0.15, 0.3, 0.45, 0.6, 0.75, 0.9}; /* of the reach */
enum { DEPTHS = sizeof depths / sizeof depths[0], FEATHERS = sizeof feathers / sizeof feathers[0] };
static const double reach_step = 1;    /* mm: nobody lays on a shade more exactly */
static const double least_feather = 2; /* mm */
/* On the whole strip, should the coarse one have told too little: how often, and how much further, mm. */
enum { MOST_TRIES = 6 };
static const double longer = 2;

typedef struct search {
    const tdm_hair *hair; /* coarse */
    tdm_strip *scratch;
    tdm_fall *fall;            /* of the hair as it is; its fit is written over */
    double line_from, line_to; /* of the line as it is */
    double distance_m, aim;
} search;

/* Where the zone begins below the root, the shade has been running since the root. */
static tdm_melt candidate(const tdm_hair *hair, double reach, double depth, double feather)
{
    tdm_melt melt = {.feather = fmax(round(feather * (reach + hair->strip.root)), least_feather)};
    melt.to = reach - 0.5 * melt.feather;
    for (int k = 0; k < 3; k++)
        melt.lab[k] = hair->root_lab[k] + depth * (hair->lengths_lab[k] - hair->root_lab[k]);
    return melt;
}

/* Where a line may be seen after the melt: the old one and all of the feather. Fitting a shape to every
 * candidate would cost fifty times as much, and find the same place or a part of it. */
static void look_at(const search *of, const tdm_melt *melt)
{
    const double from = fmax(fmin(of->line_from, melt->to - 0.5 * melt->feather), 0);
    const double to = fmin(fmax(of->line_to, melt->to + 0.5 * melt->feather), of->hair->strip.length);
    of->fall->fit = (tdm_shape_fit){.shape = TDM_SHAPE_TRANSITION,
                                    .centre = {0.5 * (from + to)},
                                    .sigma = {(to - from) / TDM_RISE_PER_SIGMA}};
}

/* The least d' of melts that end at a reach. */
static tdm_code best_at(const search *of, double reach, tdm_melt *melt, double *dprime, tdm_error *error)
{
    *dprime = INFINITY;
    for (int i = 0; i < DEPTHS * FEATHERS; i++) {
        const tdm_melt here = candidate(of->hair, reach, depths[i / FEATHERS], feathers[i % FEATHERS]);
        double seen;
        look_at(of, &here);
        tdm_melt_apply(of->hair, &here, of->scratch);
        const tdm_code code = tdm_line_dprime(of->scratch, of->fall, of->distance_m, &seen, error);
        if (code != TDM_OK)
            return code;
        if (seen < *dprime) {
            *dprime = seen;
            *melt = here;
        }
    }
    return TDM_OK;
}

/* The shortest reach in [least, most] whose best melt is under the aim, by halving: the further a shade runs
 * the softer it can end. *found false where even the longest isn't enough; the melt is its best then. */
static tdm_code shortest(const search *of, double least, double most, tdm_melt *melt, bool *found,
                         tdm_error *error)
{
    double dprime = INFINITY;
    tdm_code code = best_at(of, most, melt, &dprime, error);
    *found = dprime <= of->aim;
    double enough = most, little = least - reach_step;
    while (code == TDM_OK && *found && enough - little > 1.5 * reach_step) {
        const double reach = round(0.5 * (enough + little) / reach_step) * reach_step;
        tdm_melt here;
        code = best_at(of, reach, &here, &dprime, error);
        if (dprime <= of->aim) {
            enough = reach;
            *melt = here;
        } else {
            little = reach;
        }
    }
    return code;
}

/* The melt again on the whole strip; should that show more than the coarse one, it runs a little further. */
static tdm_code confirm(const tdm_hair *hair, double distance_m, double aim, double most,
                        tdm_search_result *out, tdm_error *error)
{
    tdm_strip scratch = {0};
    tdm_code code = tdm_melt_scratch(hair, &scratch, error);
    for (int i = 0; code == TDM_OK && i < MOST_TRIES; i++) {
        code = tdm_melt_measure(hair, &out->melt, distance_m, &scratch, &out->after, error);
        out->enough = out->after.dprime <= aim;
        const double reach = out->melt.to + 0.5 * out->melt.feather;
        if (out->enough || reach + longer > most || i + 1 == MOST_TRIES)
            break;
        out->melt.feather = round(out->melt.feather * (reach + longer) / reach);
        out->melt.to = reach + longer - 0.5 * out->melt.feather;
    }
    tdm_strip_free(&scratch);
    return code;
}

/* The search on coarse hair. */
static tdm_code find(const tdm_hair *coarse, const tdm_fall *fall, double distance_m, double aim, double most,
                     tdm_melt *melt, tdm_error *error)
{
    tdm_strip scratch = {0};
    bool found;
    tdm_fall looked_at = *fall; /* arrays borrowed */
    const double centre = fall->fit.centre[0], half = 0.5 * tdm_fall_width(fall);
    const search of = {.hair = coarse,
                       .scratch = &scratch,
                       .fall = &looked_at,
                       .line_from = centre - half,
                       .line_to = centre + half,
                       .distance_m = distance_m,
                       .aim = aim};
    tdm_code code = tdm_melt_scratch(coarse, &scratch, error);
    if (code == TDM_OK)
        code = shortest(&of, fmin(fmax(round(centre), 1), most), most, melt, &found, error);
    tdm_strip_free(&scratch);
    return code;
}

tdm_code tdm_melt_search(const tdm_hair *hair, const tdm_fall *fall, double distance_m, double aim,
                         tdm_search_result *out, tdm_error *error)
{
    tdm_hair coarse = {0};
    tdm_search_result result = {0};
    const double most = floor(hair->strip.length);
    tdm_code code = tdm_hair_coarser(hair, coarse_mm, &coarse, error);
    if (code == TDM_OK)
        code = find(&coarse, fall, distance_m, aim, most, &result.melt, error);
    if (code == TDM_OK)
        code = confirm(hair, distance_m, aim, most, &result, error);
    tdm_hair_free(&coarse);
    if (code == TDM_OK)
        *out = result;
    return code;
}
