/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Warm patches: places in the hair of another tint. */
#ifndef PATCH_H
#define PATCH_H

#include "truth.h"

/* The key `patches`. */
bool scn_read_patches(scn_scene *scene);

/* The hair's colour at s mm from its root, seen at u mm along the root line. */
scn_xyz scn_with_patches(const scn_scene *scene, double u, double s, scn_xyz xyz);

/* Adds `patches` to a zone's truth; nothing in scenes without them. */
bool scn_tell_patches(json_t *zone_json, const scn_scene *scene, const scn_flow *flow, const scn_zone *zone,
                      const scn_path *path);

#endif
