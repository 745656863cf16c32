/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Grey hair: what share of the hair at the root is white. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "measure/grey_light.h"
#include "measure/grey_mix.h"
#include "measure/grey_places.h"
#include "measure/measure.h"
#include "measure/spread.h"

/* White hair: CIELAB of the order that is told of it, and its standard uncertainty in L*; from memory. */
static const double white_lab[3] = {70, 0, 14};
static const double white_doubt = 3.5;

static const double first_mm = 1;          /* above it the parting's shade */
static const double longest_mm = 30;       /* what lies below shines more */
static const double least_mm = 4;          /* of regrowth */
static const double band_mm = 5;           /* strands pass through many, a band of shine through few */
static const double largest_cell_mm = 0.4; /* in a larger one too many hairs lie to leave one colour alone */
static const double least_apart = 2;       /* white's luminance over natural hair's */

/* What drawn heads leave (METHODS.md), as standard uncertainties: of any share, by its size, and of what was
 * taken for lightened hair and for shine. */
static const double left = 0.012, left_share = 0.04, left_alike = 0.07, left_pigment = 0.15, left_gloss = 0.2;
/* Of all that is light, where light strands begin in the regrowth and may be mixed with white hair. */
static const double left_mixed = 0.25;
/* Of the share, but no more than what was taken for lightened hair: white hair may be as yellow as b* 22. */
static const double left_tint = 0.5;

typedef struct found {
    double *shares; /* of the bands */
    double *spare;
    size_t bands;
    double natural, doubted_pigment, doubted_gloss; /* means over the bands; shares that were taken away */
    double lab[3];
    bool lights; /* light strands begin in the regrowth */
} found;

/* From where it can be told to where the line begins. */
static double regrowth_end(const tdm_fall *fall)
{
    const tdm_shape_fit *fit = &fall->fit;
    double end = fmin(0.1 * fall->length, 20);
    if (fit->shape == TDM_SHAPE_TRANSITION || fit->shape == TDM_SHAPE_BAND)
        end = fit->centre[tdm_fall_main_step(fit)] - 0.5 * tdm_fall_width(fall);
    return fmin(end, longest_mm);
}

static void judge_band(const tdm_grey_places *of, const tdm_grey_mix *mix, tdm_grey_ends *ends, found *to)
{
    double seen[3], lab[3];
    tdm_grey_natural(of, mix, ends->natural);
    const bool lighter = tdm_grey_lightened(of, mix, ends->white[1], seen);
    const tdm_grey_parts parts = lighter ? tdm_grey_parts_of(ends, seen) : (tdm_grey_parts){.pigment = 1};
    to->shares[to->bands++] = mix->share * parts.white;
    to->natural += mix->natural;
    to->doubted_pigment += mix->share * parts.pigment;
    to->doubted_gloss += mix->share * parts.gloss;
    if (lighter)
        tdm_grey_colour(ends, seen, lab);
    for (size_t k = 0; k < 3; k++)
        to->lab[k] += lighter ? lab[k] : white_lab[k];
}

/* All bands, each from where the whole ended. */
static tdm_code judge(const tdm_strip *strip, size_t from, size_t to, size_t bands, tdm_grey_ends *ends,
                      tdm_grey_places *room, found *out, tdm_error *error)
{
    tdm_grey_mix whole, mix;
    tdm_grey_gather(strip, from, to, room);
    tdm_code code = tdm_grey_mix_fit(room->light, room->count, ends->white[1], NULL, &whole, error);
    for (size_t i = 0; code == TDM_OK && i < bands; i++) {
        tdm_grey_gather(strip, from + (to - from) * i / bands, from + (to - from) * (i + 1) / bands, room);
        code = tdm_grey_mix_fit(room->light, room->count, ends->white[1], &whole, &mix, error);
        if (code == TDM_OK)
            judge_band(room, &mix, ends, out);
    }
    const double count = (double)bands;
    out->natural /= count;
    out->doubted_pigment /= count;
    out->doubted_gloss /= count;
    for (size_t k = 0; k < 3; k++)
        out->lab[k] /= count;
    return code;
}

static double sampling_of(const found *from)
{
    double mean = 0, squares = 0;
    const double count = (double)from->bands;
    for (size_t i = 0; i < from->bands; i++)
        mean += from->shares[i] / count;
    for (size_t i = 0; i < from->bands; i++)
        squares += (from->shares[i] - mean) * (from->shares[i] - mean);
    return from->bands > 1 ? sqrt(squares / (count - 1) / count) : 0;
}

static double method_of(const found *from, double share, double white)
{
    /* The nearer natural hair's light comes to white's, the more hangs on how hairs fall into places. */
    const double alike = 2 * sqrt(share * (1 - share)) * from->natural / (white - from->natural);
    const double mixed =
        from->lights ? left_mixed * (share + from->doubted_pigment + from->doubted_gloss) : 0;
    const double parts[] = {left,
                            left_share * share,
                            left_alike * alike,
                            left_pigment * from->doubted_pigment,
                            left_gloss * from->doubted_gloss,
                            fmin(left_tint * share, from->doubted_pigment),
                            mixed};
    double all = 0;
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
        all = tdm_quadrature(all, parts[i]);
    return all;
}

/* share = (light - natural) / (white - natural): what multiplies all light, or white's alone, moves it in
 * proportion. */
static tdm_budget budget_of(const tdm_sources *sources, const found *from, double share, double white)
{
    const double whole = white_lab[0] + 16, steep = share * white / (white - from->natural);
    const double per_lstar = 3 / whole * steep;
    const double method = tdm_quadrature(method_of(from, share, white), per_lstar * white_doubt);
    return (tdm_budget){.part = {[TDM_PART_SAMPLING] = sampling_of(from),
                                 [TDM_PART_CALIBRATION] = per_lstar * sources->lstar,
                                 [TDM_PART_LIGHT] = log(2) * sources->stops * steep,
                                 [TDM_PART_METHOD] = method}};
}

static tdm_code report(const tdm_measure_input *input, const found *from, double white,
                       struct tdm_zone_reading *out, tdm_warnings *warnings, tdm_error *error)
{
    if (!(white > least_apart * from->natural))
        return TDM_OK; /* among hair nearly as light white can't be told */
    memcpy(from->spare, from->shares, from->bands * sizeof *from->spare);
    const double share = tdm_quantile(from->spare, from->bands, 0.5);
    const tdm_budget parts = budget_of(input->sources, from, share, white);
    tdm_put(out, &out->grey.share, share, &parts);
    if (!(share > out->grey.share.u))
        return TDM_OK;
    memcpy(out->grey.lab, from->lab, sizeof out->grey.lab);
    return tdm_warn(warnings, error, "grey-hair", input->zone,
                    "about %.0f %% of the hair at the root is grey or white: the root's level is that of the "
                    "mix, and a colour covers white hair less",
                    100 * share);
}

static tdm_grey_ends ends_of(const struct tdm_zone_reading *zone)
{
    tdm_grey_ends ends = {.light = {NAN, NAN, NAN}};
    tdm_lab_to_xyz(white_lab, ends.white);
    if (zone->strands.separable && isfinite(zone->strands.light_lab[0]))
        tdm_lab_to_xyz(zone->strands.light_lab, ends.light);
    return ends;
}

static tdm_code compute(const tdm_measure_input *input, struct tdm_zone_reading *out, tdm_warnings *warnings,
                        tdm_error *error)
{
    const tdm_strip *strip = input->strip;
    const double end = regrowth_end(input->fall);
    const size_t from = (size_t)(first_mm / strip->cell), to = (size_t)(fmax(end, 0) / strip->cell);
    if (strip->cell > largest_cell_mm || end - first_mm < least_mm || to > strip->rows)
        return TDM_OK;
    const size_t bands = (size_t)fmax((end - first_mm) / band_mm, 1);
    tdm_grey_ends ends = ends_of(out);
    tdm_error own = {0};
    tdm_grey_places room;
    found told = {.shares = malloc(bands * sizeof *told.shares), .spare = malloc(bands * sizeof *told.spare)};
    tdm_code code = tdm_grey_places_make((to - from) * strip->cols, &room) && told.shares && told.spare
                        ? TDM_OK
                        : tdm_fail_memory(&own, NULL);
    if (code == TDM_OK)
        code = judge(strip, from, to, bands, &ends, &room, &told, &own);
    told.lights = out->strands.start_median < tdm_from_root(strip, 0.5 * end);
    if (code == TDM_OK)
        code = report(input, &told, ends.white[1], out, warnings, &own);
    tdm_grey_places_free(&room);
    free(told.shares);
    free(told.spare);
    if (code == TDM_ERR_UNUSABLE)
        return TDM_OK; /* too little hair there: stays null */
    if (code != TDM_OK && error)
        *error = own;
    return code;
}

/* After the strands: light ones may begin at the root. */
const tdm_measure tdm_measure_grey = {.name = "grey", .compute = compute};
