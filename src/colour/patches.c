/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the patches lie, and their colours. */
#include <math.h>

#include "base/fail.h"
#include "colour/homography.h"
#include "colour/target.h"

/* In units of the pitch: a patch is 0.85 wide, the rest is gap; the block's outer corners are its outer
 * patches' corners. Common practice, no source. */
static const double patch_side = 0.85;
static const double sampled = 0.5; /* of the side, in the middle: marked corners may be a little off */
static const double fewest_px = 4; /* a side of a patch */

static void patch_corners(const tdm_homography *map, int patch, double share, double corners[8])
{
    static const int around[8] = {-1, -1, 1, -1, 1, 1, -1, 1};
    const double u = patch % TDM_TARGET_COLUMNS + patch_side / 2;
    const double v = patch / TDM_TARGET_COLUMNS + patch_side / 2;
    for (int i = 0; i < 4; i++)
        tdm_homography_at(map, u + around[2 * i] * share * patch_side / 2,
                          v + around[2 * i + 1] * share * patch_side / 2, &corners[2 * i],
                          &corners[2 * i + 1]);
}

static double shortest_side(const double corners[8])
{
    double shortest = INFINITY;
    for (int i = 0, j = 3; i < 4; j = i++)
        shortest =
            fmin(shortest, hypot(corners[2 * i] - corners[2 * j], corners[2 * i + 1] - corners[2 * j + 1]));
    return shortest;
}

static bool within(const double corners[8], tdm_rect rect)
{
    for (int i = 0; i < 4; i++) {
        const double x = corners[2 * i] - rect.x, y = corners[2 * i + 1] - rect.y;
        if (!(x >= 0 && x <= rect.width && y >= 0 && y <= rect.height))
            return false;
    }
    return true;
}

static bool map_block(const double corners[8], tdm_homography *map)
{
    return tdm_homography_make(TDM_TARGET_COLUMNS - 1 + patch_side, TDM_TARGET_ROWS - 1 + patch_side, corners,
                               map);
}

bool tdm_patches_place(const double corners[8], double areas[TDM_PATCHES][8], double middles[TDM_PATCHES][2],
                       double middle[2])
{
    tdm_homography map;
    if (!map_block(corners, &map))
        return false;
    for (int i = 0; i < TDM_PATCHES; i++) {
        patch_corners(&map, i, sampled, areas[i]);
        tdm_homography_at(&map, i % TDM_TARGET_COLUMNS + patch_side / 2,
                          i / TDM_TARGET_COLUMNS + patch_side / 2, &middles[i][0], &middles[i][1]);
    }
    tdm_homography_at(&map, (TDM_TARGET_COLUMNS - 1 + patch_side) / 2, (TDM_TARGET_ROWS - 1 + patch_side) / 2,
                      &middle[0], &middle[1]);
    return true;
}

tdm_code tdm_patches_sample(const tdm_device *device, const tdm_pixels *pixels, const double corners[8],
                            const char *file, tdm_sample samples[TDM_PATCHES], tdm_error *error)
{
    tdm_homography map;
    if (!map_block(corners, &map))
        return tdm_fail(error, TDM_ERR_UNUSABLE, file, "target",
                        "the target's four corners don't go round a block: mark them in the order dark skin, "
                        "bluish green, black, white");
    for (int i = 0; i < TDM_PATCHES; i++) {
        double outline[8], middle[8];
        patch_corners(&map, i, 1, outline);
        patch_corners(&map, i, sampled, middle);
        if (shortest_side(outline) < fewest_px)
            return tdm_fail(error, TDM_ERR_UNUSABLE, file, "target",
                            "the target is too small in the picture: a patch needs at least 4 pixels a side");
        if (!within(middle, pixels->rect))
            return tdm_fail(error, TDM_ERR_UNUSABLE, file, "target", "the target reaches out of the picture");
        const tdm_code code = tdm_sample_polygon(device, pixels, middle, 4, &samples[i], error);
        if (code != TDM_OK)
            return code;
        if (samples[i].used == 0)
            return tdm_fail(error, TDM_ERR_UNUSABLE, file, "target", "the patch \"%s\" has no opaque pixel",
                            tdm_patch_names[i]);
    }
    return TDM_OK;
}
