/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "colour/finder.h"

#include <math.h>

#include "base/fail.h"
#include "colour/find_refine.h"
#include "colour/find_search.h"

/* Longer sides of the pictures that are searched, at most. LARGE is twice SMALL, so that it always has a
 * smaller factor. */
enum { SMALL = 1400, LARGE = 2 * SMALL };
static const double surest = 0.75;     /* no larger picture is looked at */
static const double sure_enough = 0.4; /* else it is left unseen */

/* Places in a searched picture to places in the photograph. */
static void to_photograph(const tdm_find_picture *picture, tdm_homography *map)
{
    for (int i = 0; i < 3; i++) {
        map->m[i] = picture->factor * map->m[i] + picture->left * map->m[6 + i];
        map->m[3 + i] = picture->factor * map->m[3 + i] + picture->top * map->m[6 + i];
    }
}

static bool search(const tdm_device *device, const tdm_find_picture *picture, tdm_find_guess *best)
{
    tdm_find_guess guess = {0};
    if (!tdm_find_search(device, picture, &guess))
        return false;
    if (guess.confidence > best->confidence) {
        to_photograph(picture, &guess.map);
        *best = guess;
    }
    return true;
}

/* Large patches are clean of noise there. */
static bool search_half(const tdm_device *device, const tdm_find_picture *picture, tdm_find_guess *best)
{
    tdm_find_picture half;
    if (picture->width < 2 || picture->height < 2)
        return true;
    if (!tdm_find_picture_halve(picture, &half))
        return false;
    const bool well = search(device, &half, best);
    tdm_find_picture_free(&half);
    return well;
}

static tdm_code look(const tdm_device *device, tdm_photo *photo, uint32_t longest, double *factor,
                     tdm_find_guess *best, tdm_error *error)
{
    tdm_pixels pixels;
    tdm_find_picture picture;
    const tdm_code code = tdm_photo_read_small(photo, longest, &pixels, factor, error);
    if (code != TDM_OK)
        return code;
    bool well = tdm_find_picture_take(&pixels, *factor, &picture);
    tdm_pixels_free(&pixels);
    if (well && longest == SMALL) /* half of the large one is about the small one */
        well = search_half(device, &picture, best);
    if (well && best->confidence < surest)
        well = search(device, &picture, best);
    tdm_find_picture_free(&picture);
    return well ? TDM_OK : tdm_fail_memory(error, NULL);
}

/* As patches.c has it: patches 0.85 of the pitch, whatever this target's are. */
static void describe(const tdm_find_guess *guess, tdm_found_target *out)
{
    static const double left = -0.425, right = 5.425, top = -0.425, bottom = 3.425;
    const double at[8] = {left, top, right, top, right, bottom, left, bottom};
    for (int i = 0; i < 4; i++)
        tdm_homography_at(&guess->map, at[2 * i], at[2 * i + 1], &out->corners[2 * i],
                          &out->corners[2 * i + 1]);
    /* Down the target, so that a mirrored one has a turn too. */
    const double *c = out->corners;
    const double dx = c[4] + c[6] - c[0] - c[2], dy = c[5] + c[7] - c[1] - c[3];
    out->turn_deg = atan2(-dx, dy) * 180 / acos(-1.0);
    out->mirrored = guess->mirrored;
    out->confidence = guess->confidence;
}

tdm_code tdm_target_find(const tdm_device *device, tdm_photo *photo, bool *found, tdm_found_target *out,
                         tdm_error *error)
{
    tdm_find_guess best = {0};
    double factor;
    tdm_code code = look(device, photo, SMALL, &factor, &best, error);
    if (code == TDM_OK && best.confidence < surest && factor > 1)
        code = look(device, photo, LARGE, &factor, &best, error);
    if (code != TDM_OK)
        return code;
    *found = false;
    if (best.confidence < sure_enough)
        return TDM_OK;
    code = tdm_find_refine(photo, &best.map, error);
    if (code != TDM_OK)
        return code;
    describe(&best, out);
    *found = true;
    return TDM_OK;
}
