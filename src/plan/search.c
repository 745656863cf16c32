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
/* On the whole strip, should the coarse one have told too little: how often and how much further, mm; and how
 * many searches, each for less than the one before. The last is for the longest. */
enum { MOST_TRIES = 6, MOST_ROUNDS = 4 };
static const double longer = 2, least_lower = 0.95;

typedef struct search {
    const tdm_hair *hair; /* coarse */
    tdm_strip *scratch;
    tdm_fall *fall;            /* of the hair as it is; its fit is written over */
    double line_from, line_to; /* of the line as it is */
    double distance_m, aim;
} search;

typedef struct trial { /* on the whole strip */
    tdm_strip *scratch;
    double distance_m, aim, most; /* most: mm at which a melt has to end */
} trial;

static double end_of(const tdm_melt *melt)
{
    return melt->to + 0.5 * melt->feather;
}

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
 * the softer it can end. *found false where even the longest isn't enough; the melt is its best then.
 * *possible false where of no longest melt a d' can be told, and there is none. */
static tdm_code shortest(const search *of, double least, double most, tdm_melt *melt, bool *found,
                         bool *possible, tdm_error *error)
{
    double dprime = INFINITY;
    tdm_code code = best_at(of, most, melt, &dprime, error);
    *possible = isfinite(dprime);
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

/* Measured on the whole strip; kept where it shows less than what was kept before. */
static tdm_code try_melt(const tdm_hair *hair, const tdm_melt *melt, const trial *of, tdm_search_result *best,
                         tdm_error *error)
{
    tdm_line_figures after;
    const tdm_code code = tdm_melt_measure(hair, melt, of->distance_m, of->scratch, &after, error);
    if (code != TDM_OK || !isfinite(after.dprime) || (best->possible && best->after.dprime <= after.dprime))
        return code;
    *best = (tdm_search_result){
        .melt = *melt, .after = after, .possible = true, .enough = after.dprime <= of->aim};
    return TDM_OK;
}

/* Should the whole strip show more than the coarse one, the melt runs a little further. */
static tdm_code run_on(const tdm_hair *hair, tdm_melt melt, const trial *of, tdm_search_result *best,
                       tdm_error *error)
{
    tdm_code code = try_melt(hair, &melt, of, best, error);
    for (int i = 1; code == TDM_OK && !best->enough && i < MOST_TRIES; i++) {
        const double reach = end_of(&melt);
        if (reach + longer > of->most)
            break;
        melt.feather = round(melt.feather * (reach + longer) / reach);
        melt.to = reach + longer - 0.5 * melt.feather;
        code = try_melt(hair, &melt, of, best, error);
    }
    return code;
}

/* Where running on isn't enough, coarse and whole strip differ: the search is for less then, and in the end
 * for the best that ends with the zone. */
static tdm_code confirm(const tdm_hair *hair, search *coarse, const trial *of, tdm_search_result *best,
                        tdm_error *error)
{
    const double centre = 0.5 * (coarse->line_from + coarse->line_to);
    const double least = fmin(fmax(round(centre), 1), of->most);
    tdm_code code = TDM_OK;
    bool found = true;
    for (int round_of = 0; code == TDM_OK && found && !best->enough && round_of < MOST_ROUNDS; round_of++) {
        tdm_melt melt;
        bool possible;
        if (round_of + 1 == MOST_ROUNDS)
            coarse->aim = 0;
        code = shortest(coarse, least, of->most, &melt, &found, &possible, error);
        if (code != TDM_OK || !possible)
            break;
        code = run_on(hair, melt, of, best, error);
        coarse->aim *= best->possible ? fmin(of->aim / best->after.dprime, least_lower) : 0;
    }
    best->longest = best->possible && end_of(&best->melt) + longer > of->most;
    return code;
}

tdm_code tdm_melt_search(const tdm_hair *hair, const tdm_fall *fall, double distance_m, double aim,
                         tdm_search_result *out, tdm_error *error)
{
    tdm_hair coarse = {0};
    tdm_strip coarse_scratch = {0}, scratch = {0};
    tdm_fall looked_at = *fall; /* arrays borrowed */
    tdm_search_result best = {.after = {.centre_mm = NAN, .width_mm = NAN, .dprime = NAN}};
    const double centre = fall->fit.centre[0], half = 0.5 * tdm_fall_width(fall);
    search on_coarse = {.hair = &coarse,
                        .scratch = &coarse_scratch,
                        .fall = &looked_at,
                        .line_from = centre - half,
                        .line_to = centre + half,
                        .distance_m = distance_m,
                        .aim = aim};
    const trial on_whole = {
        .scratch = &scratch, .distance_m = distance_m, .aim = aim, .most = floor(hair->strip.length)};
    tdm_code code = tdm_hair_coarser(hair, coarse_mm, &coarse, error);
    if (code == TDM_OK)
        code = tdm_melt_scratch(&coarse, &coarse_scratch, error);
    if (code == TDM_OK)
        code = tdm_melt_scratch(hair, &scratch, error);
    if (code == TDM_OK)
        code = confirm(hair, &on_coarse, &on_whole, &best, error);
    tdm_strip_free(&coarse_scratch);
    tdm_strip_free(&scratch);
    tdm_hair_free(&coarse);
    if (code == TDM_OK)
        *out = best;
    return code;
}
