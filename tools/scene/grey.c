/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "grey.h"

#include <math.h>

#include "keys.h"
#include "truth.h"

bool scn_read_grey(scn_scene *s)
{
    const json_t *p = s->params;
    bool good = true;
    s->white = (scn_white){.share = scn_number(p, "grey.share", 0, 1, &good),
                           .clump = scn_number(p, "grey.clump_mm", 0, 100, &good),
                           .to_ends = json_is_true(scn_key(p, "grey.to_ends"))};
    for (size_t i = 0; i < 3; i++)
        s->white.colour.v[i] = scn_element(p, "grey.lab", i, i == 0 ? 0 : -128, 128, &good);
    return good;
}

/* In wisps: a stretch of the root line has none or twice its share, or beyond one half all or what is left.
 */
static double share_at(const scn_scene *scene, double u)
{
    const double share = scene->white.share;
    if (scene->white.clump <= 0)
        return share;
    const uint32_t bits = scn_hash((int)floor(u / scene->white.clump), (int)(scene->seed % 65521) + 7);
    return share + ((bits >> 7) % 2 ? 1 : -1) * fmin(share, 1 - share);
}

double scn_strand_white(scn_hand *hand, double u)
{
    if (hand->scene->white.share <= 0)
        return 0;
    return scn_uniform(&hand->white_random, 0, 1) < share_at(hand->scene, u) ? 1 : 0;
}

double scn_white_left(const scn_scene *scene, const scn_strand_paint *strand, double w)
{
    return strand->white * (scene->white.to_ends && strand->kind == SCN_DARK ? 1 : 1 - w);
}

scn_xyz scn_with_white(const scn_paint *paint, const scn_strand_paint *strand, double w, scn_xyz xyz)
{
    const double left = scn_white_left(paint->scene, strand, w);
    if (left <= 0)
        return xyz;
    const scn_xyz from = paint->scene->white.to_ends && strand->kind == SCN_DARK ? xyz : paint->dark[0];
    for (int k = 0; k < 3; k++)
        xyz.v[k] += left * (paint->white.v[k] - from.v[k]);
    return xyz;
}

void scn_add_grey(scn_grey_sums *sums, const scn_more *more, double cover)
{
    sums->white += (double)more->v[SCN_GREY];
    sums->cover += cover;
}

bool scn_tell_grey(json_t *zone_json, const scn_scene *scene, const scn_grey_sums *sums)
{
    if (scene->white.share <= 0)
        return true;
    return json_object_set_new(zone_json, "grey",
                               json_pack("{s:o, s:o}", "share",
                                         scn_number_json(sums->white / fmax(sums->cover, 1e-9)), "lab",
                                         scn_lab_json(scene->white.colour))) == 0;
}
