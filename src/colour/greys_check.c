/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Greys beside a target: do they come out as they are stated to be? */
#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/flat_field.h"
#include "colour/greys_parts.h"
#include "colour/lab.h"

static const double most_lstar = 2, most_chroma = 3; /* from here on a warning */

static void corrected(const tdm_calibration *calibration, const tdm_grey_measured *grey, double lab[3])
{
    double triple[3], factors[3];
    tdm_light_at(&calibration->light, grey->middle[0], grey->middle[1], factors);
    for (int c = 0; c < 3; c++)
        triple[c] = factors[c] * tdm_calibration_channel(calibration, c, grey->rgb[c]);
    tdm_calibration_mix(calibration, triple, triple);
    tdm_xyz_to_lab(triple, lab);
}

/* One warning for the one that is furthest off, each figure against its limit. */
static tdm_code warn_worst(const tdm_calibration *calibration, const tdm_grey_measured *greys, size_t count,
                           tdm_warnings *warnings, tdm_error *error)
{
    double worst = 1, worst_lab[3] = {0};
    size_t which = count, off = 0;
    for (size_t i = 0; i < count; i++) {
        double lab[3];
        corrected(calibration, &greys[i], lab);
        const double miss = fmax(fabs(lab[0] - greys[i].lstar) / most_lstar, tdm_chroma(lab) / most_chroma);
        off += !(miss <= 1);
        if (miss <= worst)
            continue;
        worst = miss;
        which = i;
        for (int k = 0; k < 3; k++)
            worst_lab[k] = lab[k];
    }
    if (which == count)
        return TDM_OK;
    const long tenths = lround(10 * fabs(worst_lab[0] - greys[which].lstar));
    return tdm_warn(
        warnings, error, "grey-disagrees", NULL,
        "%zu of %zu greys disagree with the target; worst is grey[%zu], read %ld.%ld in L* %s than "
        "stated and with a chroma of %ld: the light there isn't the target's, or its lstar is "
        "wrong; put the references beside the hair, or take a flat-field photograph",
        off, count, which, tenths / 10, tenths % 10, worst_lab[0] < greys[which].lstar ? "darker" : "lighter",
        lround(tdm_chroma(worst_lab)));
}

tdm_code tdm_greys_check(const tdm_device *device, const tdm_pixels *pixels,
                         const tdm_calibration *calibration, const tdm_grey *greys, size_t count,
                         const char *file, tdm_warnings *warnings, tdm_error *error)
{
    if (count == 0)
        return TDM_OK;
    tdm_grey_measured *measured = calloc(count, sizeof *measured);
    if (!measured)
        return tdm_fail_memory(error, file);
    tdm_code code = tdm_greys_measure(device, pixels, greys, count, file, measured, error);
    if (code == TDM_OK)
        code = warn_worst(calibration, measured, count, warnings, error);
    free(measured);
    return code;
}
