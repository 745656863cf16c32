/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys of the melt, of the line's own course, and of light and shade that may be taken for colour. */
#include <math.h>

#include "grey.h"
#include "keys.h"
#include "patch.h"

static bool read_melt(scn_scene *s)
{
    const json_t *p = s->params;
    bool good = true;
    s->melt =
        (scn_melt){.on = !json_is_null(scn_key(p, "melt.level")) || !json_is_null(scn_key(p, "melt.lab")),
                   .to = scn_number(p, "melt.to_mm", -50, 400, &good),
                   .feather = scn_number(p, "melt.feather_mm", 0, 400, &good),
                   .jitter = scn_number(p, "melt.jitter_mm", 0, 100, &good),
                   .lock_jitter = scn_number(p, "melt.lock_jitter_mm", 0, 100, &good)};
    if (s->melt.on)
        s->melt.colour = scn_body(p, "melt", &good);
    return good;
}

static bool read_gaps(scn_scene *s)
{
    static const char *const keys[] = {"at_mm", "width_mm", NULL};
    const json_t *list = scn_key(s->params, "course.gaps"), *item = NULL;
    bool good = json_array_size(list) <= SCN_MOST_GAPS || scn_fail("course.gaps", "too many");
    size_t i = 0;
    if (good && json_array_size(list) > 0 && s->course.shape != SCN_TRANSITION)
        good = scn_fail("course.gaps", "only a transition has a line");
    json_array_foreach(list, i, item)
    {
        if (!good || !scn_known_keys(item, "course.gaps", keys))
            return false;
        s->gaps[s->gap_count++] = (scn_gap){scn_number(item, "at_mm", -50, 450, &good),
                                            scn_number(item, "width_mm", 0.5, 400, &good)};
    }
    return good;
}

static bool read_bleeds(scn_scene *s)
{
    static const char *const keys[] = {"at_mm", "width_mm", "from_mm", "length_mm", "level", NULL};
    const json_t *list = scn_key(s->params, "bleeds"), *item = NULL;
    const double warmth = scn_number(s->params, "old.warmth", 0, 1, &(bool){true});
    bool good = json_array_size(list) <= SCN_MOST_BLEEDS || scn_fail("bleeds", "too many");
    size_t i = 0;
    json_array_foreach(list, i, item)
    {
        if (!good || !scn_known_keys(item, "bleeds", keys))
            return false;
        scn_bleed *bleed = &s->bleeds[s->bleed_count++];
        *bleed = (scn_bleed){.at = scn_number(item, "at_mm", -50, 450, &good),
                             .width = scn_number(item, "width_mm", 0.5, 400, &good),
                             .from = scn_number(item, "from_mm", -10, 400, &good),
                             .length = scn_number(item, "length_mm", 0.5, 400, &good),
                             .own = scn_has(item, "level")};
        if (bleed->own)
            bleed->colour = scn_melanin(scn_number(item, "level", 0, 12, &good), warmth);
    }
    return good;
}

static bool read_cast(scn_scene *s)
{
    const json_t *p = s->params;
    bool good = true;
    s->cast = (scn_cast){.from = scn_number(p, "shadow.from_mm", -50, 400, &good),
                         .to = scn_number(p, "shadow.to_mm", -50, 400, &good),
                         .edge = scn_number(p, "shadow.edge_mm", 0, 200, &good),
                         .amount = scn_number(p, "shadow.amount", 0, 0.95, &good),
                         .sheen_at = scn_number(p, "sheen_band.at_mm", -50, 400, &good),
                         .sheen_width = scn_number(p, "sheen_band.width_mm", 0.5, 200, &good),
                         .sheen_amount = scn_number(p, "sheen_band.amount", 0, 1, &good),
                         .parting_at = scn_optional(p, "parting.at_mm", -50, 450, &good),
                         .parting_width = scn_number(p, "parting.width_mm", 0.5, 40, &good),
                         .parting_length = scn_number(p, "parting.length_mm", 1, 200, &good)};
    if (s->cast.to < s->cast.from)
        good = scn_fail("shadow.to_mm", "lies above shadow.from_mm");
    return good;
}

bool scn_read_line(scn_scene *s)
{
    const json_t *p = s->params;
    bool good = true;
    s->sweep = scn_number(p, "hair.sweep_deg", -45, 45, &good);
    return good && read_melt(s) && read_gaps(s) && read_bleeds(s) && scn_read_patches(s) && read_cast(s) &&
           scn_read_grey(s);
}
