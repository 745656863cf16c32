/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dirty, glossy or shaded patches: far from what a fit to the others says of them. */
#include <gsl/gsl_sort.h>
#include <math.h>

#include "base/fail.h"
#include "base/text.h"
#include "colour/lab.h"
#include "colour/target.h"

/* Choices, tried on drawn targets with and without bad patches; see METHODS.md. */
enum { MOST_ODD = 6 };
static const double times_median = 5;  /* of the misses of all patches */
static const double least_miss = 4;    /* CIEDE2000: nothing below is odd */
static const double least_light = 2.5; /* the same of its lightness part alone */
static const double tells_light = 0.7; /* share of the difference that has to be lightness, or chroma */

static double median(const double *values, int count)
{
    double sorted[TDM_FIRST_NEUTRAL];
    for (int i = 0; i < count; i++)
        sorted[i] = values[i];
    gsl_sort(sorted, 1, (size_t)count);
    return count > 0 ? sorted[count / 2] : 0;
}

/* What is too far, in CIEDE2000 and in its lightness part. */
typedef struct limits {
    double miss, light;
} limits;

static limits limits_of(const tdm_target *target, const tdm_left_out left[TDM_PATCHES])
{
    double misses[TDM_FIRST_NEUTRAL], lights[TDM_FIRST_NEUTRAL], parts[3];
    int count = 0;
    for (int i = 0; i < TDM_FIRST_NEUTRAL; i++) {
        if (isnan(left[i].miss))
            continue;
        tdm_de00_parts(target->patches[i].lab, left[i].lab, parts);
        misses[count] = left[i].miss;
        lights[count++] = fabs(parts[0]);
    }
    return (limits){fmax(times_median * median(misses, count), least_miss),
                    fmax(times_median * median(lights, count), least_light)};
}

/* How far off a colour is, in what would be too far. */
static double score(const limits *most, const double wanted[3], const double lab[3])
{
    double parts[3];
    tdm_de00_parts(wanted, lab, parts);
    return fmax(tdm_de00(wanted, lab) / most->miss, fabs(parts[0]) / most->light);
}

/* The one that is furthest off, too far; -1 where none is. */
static int worst(const tdm_target *target, const tdm_target_fit *fit)
{
    tdm_left_out left[TDM_PATCHES];
    double most = 1;
    int found = -1;
    tdm_target_leave_out(target, fit, left);
    const limits limit = limits_of(target, left);
    for (int i = 0; i < TDM_FIRST_NEUTRAL; i++) {
        if (isnan(left[i].miss))
            continue;
        const double off = score(&limit, target->patches[i].lab, left[i].lab);
        if (off > most) {
            most = off;
            found = i;
        }
    }
    return found;
}

static int count_odd(const tdm_target *target)
{
    int odd = 0;
    for (int i = 0; i < TDM_PATCHES; i++)
        odd += target->patches[i].state == TDM_PATCH_ODD;
    return odd;
}

bool tdm_target_take_back(tdm_target *target, tdm_target_fit *fit)
{
    tdm_left_out left[TDM_PATCHES];
    bool changed = false;
    if (count_odd(target) == 0)
        return true;
    tdm_target_leave_out(target, fit, left);
    const limits limit = limits_of(target, left);
    for (int i = 0; i < TDM_FIRST_NEUTRAL; i++) {
        double lab[3];
        if (target->patches[i].state != TDM_PATCH_ODD)
            continue;
        tdm_target_patch_lab(target, fit, i, lab);
        if (score(&limit, target->patches[i].lab, lab) > 1)
            continue;
        target->patches[i].state = TDM_PATCH_KEPT;
        changed = true;
    }
    for (int i = TDM_FIRST_NEUTRAL; i < TDM_PATCHES; i++)
        changed = tdm_target_neutral_back(target, fit, i) || changed;
    return !changed || tdm_target_solve(target, &fit->terms, -1, fit, fit, NULL);
}

static const char *how(const tdm_target *target, const tdm_target_fit *fit, int patch)
{
    const double *wanted = target->patches[patch].lab;
    double seen[3];
    tdm_target_patch_lab(target, fit, patch, seen);
    const double light = seen[0] - wanted[0], chroma = tdm_chroma(seen) - tdm_chroma(wanted);
    const double whole = hypot(light, hypot(seen[1] - wanted[1], seen[2] - wanted[2]));
    if (light < 0 && -light >= tells_light * whole)
        return "darker: shade or dirt";
    if (light < 0 && chroma < 0 && hypot(light, chroma) >= tells_light * whole)
        return "darker and duller: shade or dirt";
    if (light > 0 && (chroma <= 0 || patch >= TDM_FIRST_NEUTRAL) &&
        hypot(light, chroma) >= tells_light * whole)
        return "lighter and paler: glare";
    return "of another colour";
}

bool tdm_target_sort_out(tdm_target *target, tdm_target_fit *fit)
{
    int odd = count_odd(target), next = worst(target, fit);
    while (next >= 0 && odd < MOST_ODD && tdm_target_kept(target, 0) > TDM_FEWEST_PATCHES) {
        tdm_target_fit refit;
        target->patches[next].state = TDM_PATCH_ODD;
        if (!tdm_target_solve(target, &fit->terms, -1, fit, &refit, NULL)) {
            target->patches[next].state = TDM_PATCH_KEPT;
            break;
        }
        *fit = refit;
        odd++;
        next = worst(target, fit);
    }
    return next >= 0;
}

tdm_code tdm_target_warn_odd(const tdm_target *target, const tdm_target_fit *fit, bool more,
                             tdm_warnings *warnings, tdm_error *error)
{
    tdm_text names = {0};
    for (int i = 0; i < TDM_PATCHES; i++) {
        if (target->patches[i].state == TDM_PATCH_ODD)
            tdm_text_format(&names, "%s%s (%s)", names.size > 0 ? ", " : "", tdm_patch_names[i],
                            how(target, fit, i));
    }
    tdm_code code = names.failed ? tdm_fail_memory(error, NULL) : TDM_OK;
    if (code == TDM_OK && names.size > 0)
        code = tdm_warn(warnings, error, "target-odd", NULL,
                        "these patches of the target are far from what the others say and left out: %s%s",
                        names.data, more ? "; more of them don't agree" : "");
    tdm_text_free(&names);
    return code;
}
