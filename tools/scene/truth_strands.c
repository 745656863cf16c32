/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The truth of light strands among the others. */
#include <math.h>

#include "truth.h"

/* A pixel holds light hair and other hair in the shares f and 1 - f. */
void scn_add_mix(scn_mix_sums *sums, size_t bin, const double *xyz, double f, double cover)
{
    double *to = sums->rows + bin * SCN_MIX;
    to[0] += cover * f * f;
    to[1] += cover * f * (1 - f);
    to[2] += cover * (1 - f) * (1 - f);
    for (int k = 0; k < 3; k++) {
        to[3 + k] += cover * f * xyz[k];
        to[6 + k] += cover * (1 - f) * xyz[k];
    }
}

scn_mixture scn_unmixed(const scn_mix_sums *sums, scn_stretch stretch)
{
    double m[SCN_MIX] = {0};
    const size_t end = (size_t)fmin((double)sums->bins, ceil(stretch.to / sums->bin_mm));
    for (size_t bin = (size_t)fmax(0, ceil(stretch.from / sums->bin_mm)); bin < end; bin++)
        for (size_t k = 0; k < SCN_MIX; k++)
            m[k] += sums->rows[bin * SCN_MIX + k];
    const double det = m[0] * m[2] - m[1] * m[1], all = m[0] + 2 * m[1] + m[2];
    scn_mixture mix = {.share = (m[0] + m[1]) / fmax(all, 1e-9), .both = det > 1e-6 * all * all};
    scn_xyz light = {{0, 0, 0}}, dark = light;
    const scn_xyz seen_light = {{0, m[4] / fmax(m[0] + m[1], 1e-9), 0}},
                  seen_dark = {{0, m[7] / fmax(m[2] + m[1], 1e-9), 0}};
    mix.seen = scn_lab_of(seen_light).v[0] - scn_lab_of(seen_dark).v[0];
    for (size_t k = 0; mix.both && k < 3; k++) {
        light.v[k] = (m[3 + k] * m[2] - m[6 + k] * m[1]) / det;
        dark.v[k] = (m[6 + k] * m[0] - m[3 + k] * m[1]) / det;
    }
    mix.light = scn_lab_of(light);
    mix.dark = scn_lab_of(dark);
    return mix;
}

static double spacing_of(const scn_scene *scene)
{
    return scene->lights.share > 0 ? scene->lights.ribbon / scene->lights.share : NAN;
}

/* What a part tells of itself. */
static bool tell_part(json_t *to, const scn_mix_sums *sums, const scn_runs *runs, scn_stretch stretch)
{
    const scn_mixture mix = scn_unmixed(sums, stretch);
    const double contrast = mix.both ? mix.light.v[0] - mix.dark.v[0] : NAN;
    return json_object_set_new(to, "light_share", scn_number_json(mix.share)) == 0 &&
           json_object_set_new(to, "contrast_lstar", scn_number_json(contrast)) == 0 &&
           json_object_set_new(to, "seen_contrast_lstar", scn_number_json(mix.both ? mix.seen : NAN)) == 0 &&
           scn_tell_runs(to, runs, stretch);
}

static bool tell_parts(json_t *strands, const scn_mix_sums *sums, const scn_way_sums *ways,
                       const scn_runs *runs, const scn_stretch parts[4])
{
    static const char *const names[] = {"root", "mid", "ends"};
    bool good = scn_tell_runs(strands, runs, parts[3]);
    for (size_t i = 0; i < 3; i++) {
        json_t *part = json_object();
        good = tell_part(part, sums, runs, parts[i]) && good;
        good = json_object_set_new(strands, names[i], part) == 0 && good;
    }
    return good && json_object_set_new(strands, "direction", scn_ways_json(ways)) == 0;
}

json_t *scn_strands_json(const scn_scene *scene, const scn_mix_sums *sums, const scn_way_sums *ways,
                         const scn_runs *runs, const scn_stretch parts[4])
{
    static const char form[] = "{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}";
    const scn_mixture mix = scn_unmixed(sums, parts[3]);
    const bool told = scene->lights.share > 0 && mix.both;
    json_t *out = json_pack(
        form, "light_share", told ? scn_number_json(mix.share) : json_null(), "light_lab",
        told ? scn_lab_json(mix.light) : json_null(), "dark_lab", told ? scn_lab_json(mix.dark) : json_null(),
        "contrast_lstar", told ? scn_number_json(mix.light.v[0] - mix.dark.v[0]) : json_null(),
        "contrast_de00", told ? scn_number_json(scn_de00(mix.light, mix.dark)) : json_null(), "ribbon_mm",
        told ? scn_number_json(scene->lights.ribbon) : json_null(), "spacing_mm",
        told ? scn_number_json(spacing_of(scene)) : json_null(), "seen_contrast_lstar",
        told ? scn_number_json(mix.seen) : json_null());
    if (out && told && !tell_parts(out, sums, ways, runs, parts)) {
        json_decref(out);
        out = NULL;
    }
    return out;
}
