/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One row a figure of the photograph's quality. Thresholds are choices; METHODS.md gives their reasons. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "base/text.h"
#include "measure/quality.h"

const tdm_quality_row tdm_quality_rows[TDM_QUALITY_COUNT] = {
    [TDM_QUALITY_RESOLUTION] = {"low-resolution", "resolution", "px/mm", 3, 1, true, 1,
                                "the picture has only # pixels a millimetre, so fine strands run together",
                                "move closer or use a larger picture"},
    [TDM_QUALITY_FOCUS_PX] = {"focus-px", "edge spread on the target", "px", 6, 24, false, 1,
                              "the target's edges are spread over # pixels, so strands run together",
                              "focus on the hair, hold the camera still and clean the lens"},
    [TDM_QUALITY_FOCUS_MM] = {"focus", "edge spread on the target", "mm", 0.8, 3, false, 2,
                              "the target's edges are spread over # mm, so strands run together",
                              "focus on the hair, hold the camera still and clean the lens"},
    [TDM_QUALITY_HAIR_FOCUS_PX] = {"hair-focus-px", "edge spread of strands", "px", 6, 24, false, 1,
                                   "the hair's edges are spread over # pixels, so strands run together",
                                   "focus on the hair, hold the camera still and clean the lens"},
    [TDM_QUALITY_HAIR_FOCUS_MM] = {"hair-focus", "edge spread of strands", "mm", 0.8, 3, false, 2,
                                   "the hair's edges are spread over # mm, so strands run together",
                                   "focus on the hair, hold the camera still and clean the lens"},
    [TDM_QUALITY_MOTION_PX] = {"motion-px", "smear by motion", "px", 6, 24, false, 1,
                               "the picture is smeared over # pixels in one direction",
                               "use a tripod or more light, and let the head rest"},
    [TDM_QUALITY_MOTION_MM] = {"motion", "smear by motion on the hair", "mm", 0.8, 3, false, 2,
                               "the picture is smeared over # mm in one direction",
                               "use a tripod or more light, and let the head rest"},
    [TDM_QUALITY_NOISE] = {"noise", "noise of a pixel", "L*", 4, 10, false, 1,
                           "the pixels of an even dark surface scatter by # L*",
                           "use more light, and the camera's lowest sensitivity"},
    [TDM_QUALITY_JPEG] = {"jpeg", "JPEG quality", "", 70, 15, true, 0,
                          "the file was compressed at a quality of about #, so fine contrast is lost",
                          "save it at a quality of 90 or more, and send the file itself, not a preview"},
    [TDM_QUALITY_BLOCKS] = {"blocks", "steps between compression blocks", "L*", 0.8, NAN, false, 2,
                            "compression left steps of # L* between its blocks",
                            "save it at a quality of 90 or more, and send the file itself, not a preview"},
    [TDM_QUALITY_TILT] = {"tilt", "tilt of the target", "degrees", 15, 40, false, 0,
                          "the target is tilted by # degrees against the picture, so its light and scale "
                          "aren't the hair's",
                          "hold the target flat beside the hair, facing the camera"},
    [TDM_QUALITY_MIXED] = {"mixed-light", "colour difference of light", "C*", 3, NAN, false, 1,
                           "the light's colour differs by # C* between places",
                           "use one kind of lamp only, and keep daylight out"},
    [TDM_QUALITY_CAST] = {"cast", "colour cast", "stops", 2, 4, false, 1,
                          "the correction has to pull the colour channels # stops apart",
                          "set the camera's white balance to the lamp in use"},
    [TDM_QUALITY_RESIDUAL] = {"target-residual", "target's error after the correction", "dE00", 3, NAN, false,
                              1, "the target's colours are still off by # after the correction",
                              "look for shade, glare or dirt on it"},
    [TDM_QUALITY_LEFT_OUT] = {"target-left-out", "error of patches left out of the correction", "dE00", 5,
                              NAN, false, 1, "a patch that the fit hasn't seen is predicted only within #",
                              "look for shade, glare or dirt on the target, and turn picture styles off"},
    [TDM_QUALITY_CELLS] = {"few-cells", "cells across the zone", "", 32, 16, true, 0,
                           "the zone is worth only # cells across (or a quarter of those along), so fine "
                           "strands run together",
                           "move closer or use a larger picture"},
    [TDM_QUALITY_LENGTH] = {"short-zone", "length of the zone", "mm", 30, NAN, true, 0,
                            "the zone is only # mm long; the fall from root to ends can't be told from "
                            "texture",
                            "mark it from the root to the ends"},
    [TDM_QUALITY_USED] = {"little-used", "part of the zone that can be used", "%", 70, 10, true, 0,
                          "only # % of the zone can be used", "check the exclusions and where the zone lies"},
    [TDM_QUALITY_CLIPPED] = {"clipped", "burnt out", "%", 1, 25, false, 0,
                             "# % of the zone is burnt out and left out", "expose less or turn the light"},
    [TDM_QUALITY_DARK] = {"dark", "without any detail in the dark", "%", 5, 25, false, 0,
                          "# % of the zone is black without detail", "expose more or bring more light"},
    [TDM_QUALITY_UNEVEN] = {"uneven-light", "light against that at the target", "%", 10, NAN, false, 0,
                            "going by the target, the light at the zone differs by # %",
                            "hold the target beside the zone, use larger or further lamps, or give a "
                            "photograph of plain card in the same light"},
};

static const double rounding = 1e-3;

static bool make_room(tdm_quality *quality)
{
    if (quality->count < quality->room)
        return true;
    const size_t room = quality->room ? 2 * quality->room : 16;
    tdm_quality_figure *items = realloc(quality->items, room * sizeof *items);
    if (!items)
        return false;
    quality->items = items;
    quality->room = room;
    return true;
}

/* False for NaN on either side. Marks are rounded to parts of a pixel: what they move by isn't beyond. */
static bool beyond(const tdm_quality_row *row, double bound, const tdm_quality_value *value)
{
    const double sure = 2 * value->doubt + rounding * fabs(bound);
    return row->below ? value->value + sure < bound : value->value - sure > bound;
}

static tdm_code warn(const tdm_quality_row *row, const tdm_quality_value *value, bool refused,
                     tdm_warnings *warnings, tdm_error *error)
{
    tdm_text text = {0};
    const char *place = strchr(row->finding, '#');
    tdm_text_add_bytes(&text, row->finding, (size_t)(place - row->finding));
    tdm_text_number(&text, value->value, row->digits, "");
    tdm_text_add(&text, place + 1);
    tdm_text_add(&text, value->detail ? value->detail : "");
    tdm_text_add(&text, refused ? ", too far to measure anything" : "");
    const tdm_code code =
        text.failed ? tdm_fail_memory(error, NULL)
                    : tdm_warn(warnings, error, row->code, value->zone, "%s; %s", text.data, row->advice);
    tdm_text_free(&text);
    return code;
}

tdm_code tdm_quality_add(tdm_quality *quality, tdm_quality_id id, const tdm_quality_value *value,
                         bool *refused, tdm_warnings *warnings, tdm_error *error)
{
    const tdm_quality_row *row = &tdm_quality_rows[id];
    const double threshold =
        value->bound > 0 ? fmin(row->threshold, fmax(value->bound, row->threshold / 2)) : row->threshold;
    const bool warned = !value->stated && beyond(row, threshold, value);
    const bool too_far = !value->stated && beyond(row, row->unusable, value);
    char *zone = value->zone ? strdup(value->zone) : NULL;
    if ((value->zone && !zone) || !make_room(quality)) {
        free(zone);
        return tdm_fail_memory(error, NULL);
    }
    quality->items[quality->count++] =
        (tdm_quality_figure){.code = row->code,
                             .label = row->label,
                             .unit = row->unit,
                             .zone = zone,
                             .value = isfinite(value->value) ? value->value : NAN,
                             .threshold = value->stated ? NAN : threshold,
                             .unusable = value->stated ? NAN : row->unusable,
                             .below = row->below,
                             .good = !warned,
                             .advice = row->advice};
    if (too_far && !value->zone)
        quality->unusable = true;
    if (too_far && refused)
        *refused = true;
    return warned ? warn(row, value, too_far, warnings, error) : TDM_OK;
}

void tdm_quality_free(tdm_quality *quality)
{
    for (size_t i = 0; i < quality->count; i++)
        free((char *)quality->items[i].zone);
    free(quality->items);
    *quality = (tdm_quality){0};
}
