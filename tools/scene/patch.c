/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "patch.h"

#include <math.h>

#include "keys.h"

bool scn_read_patches(scn_scene *s)
{
    static const char *const keys[] = {"at_mm", "width_mm", "from_mm", "length_mm", "shift", NULL};
    const json_t *list = scn_key(s->params, "patches"), *item = NULL;
    bool good = json_array_size(list) <= SCN_MOST_SPOTS || scn_fail("patches", "too many");
    size_t i = 0;
    json_array_foreach(list, i, item)
    {
        if (!good || !scn_known_keys(item, "patches", keys))
            return false;
        scn_spot *patch = &s->spots[s->spot_count++];
        *patch = (scn_spot){.at = scn_number(item, "at_mm", -50, 450, &good),
                            .width = scn_number(item, "width_mm", 0.5, 400, &good),
                            .from = scn_number(item, "from_mm", -10, 400, &good),
                            .length = scn_number(item, "length_mm", 0.5, 400, &good)};
        for (size_t k = 0; k < 3; k++)
            patch->shift.v[k] = scn_element(item, "shift", k, -60, 60, &good);
    }
    return good;
}

static scn_lab shifted(scn_lab lab, const scn_spot *patch, double share)
{
    for (int k = 0; k < 3; k++)
        lab.v[k] += share * patch->shift.v[k];
    lab.v[0] = fmin(100, fmax(0, lab.v[0]));
    return lab;
}

scn_xyz scn_with_patches(const scn_scene *scene, double u, double s, scn_xyz xyz)
{
    for (size_t i = 0; i < scene->spot_count; i++) {
        const scn_spot *patch = &scene->spots[i];
        const double share = scn_spot_share(patch->at, patch->width, patch->from, patch->length, u, s);
        if (share <= 0)
            continue;
        xyz = scn_xyz_of(shifted(scn_lab_of(xyz), patch, share));
        for (int k = 0; k < 3; k++)
            xyz.v[k] = fmax(xyz.v[k], 0); /* a tint may leave the colours that there are */
    }
    return xyz;
}

bool scn_tell_patches(json_t *zone_json, const scn_scene *scene, const scn_flow *flow, const scn_zone *zone,
                      const scn_path *path)
{
    if (scene->spot_count == 0)
        return true;
    json_t *list = json_array();
    for (size_t i = 0; i < scene->spot_count; i++) {
        const scn_spot *patch = &scene->spots[i];
        scn_part at;
        if (!scn_part_of(flow, zone, path, patch->at, patch->width, patch->from + 0.5 * patch->length, &at) ||
            at.along + 0.5 * patch->length < zone->from ||
            at.along - 0.5 * patch->length > zone->from + zone->length)
            continue;
        (void)json_array_append_new(list,
                                    json_pack("{s:f, s:f, s:f, s:f, s:o}", "along_mm", at.along, "across_mm",
                                              at.across, "length_mm", patch->length, "width_mm", at.width,
                                              "shift", scn_lab_json(patch->shift)));
    }
    return json_object_set_new(zone_json, "patches", list) == 0;
}
