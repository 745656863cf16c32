/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The truth of light strands among the others. */
#include <math.h>

#include "light.h"
#include "truth.h"

/* A pixel holds light hair and other hair in the shares f and 1 - f; g of it is of the second lights. */
void scn_add_mix(scn_mix_sums *sums, size_t bin, const double *xyz, double f, double g, double cover)
{
    double *to = sums->rows + bin * SCN_MIX;
    to[0] += cover * f * f;
    to[1] += cover * f * (1 - f);
    to[2] += cover * (1 - f) * (1 - f);
    for (int k = 0; k < 3; k++) {
        to[3 + k] += cover * f * xyz[k];
        to[6 + k] += cover * (1 - f) * xyz[k];
        to[12 + k] += cover * g * xyz[k];
    }
    to[9] += cover * g * g;
    to[10] += cover * f * g;
    to[11] += cover * (1 - f) * g;
}

/* First lights, second lights and the others, from the sums of all light hair and of the second. */
static void unmix_three(const double *m, scn_mixture *mix)
{
    double normal[3][3] = {{m[0] - 2 * m[10] + m[9], m[10] - m[9], m[1] - m[11]},
                           {m[10] - m[9], m[9], m[11]},
                           {m[1] - m[11], m[11], m[2]}};
    const double all = m[0] + 2 * m[1] + m[2];
    double inverse[3][3];
    scn_xyz colour[3] = {{{0, 0, 0}}, {{0, 0, 0}}, {{0, 0, 0}}};
    for (size_t i = 0; i < 9; i++)
        normal[i / 3][i % 3] /= fmax(all, 1e-9);
    mix->three = mix->second_share > 1e-3 && scn_invert(normal, inverse);
    for (size_t i = 0; mix->three && i < 9; i++) {
        const size_t k = i % 3;
        const double sums[3] = {m[3 + k] - m[12 + k], m[12 + k], m[6 + k]};
        for (size_t j = 0; j < 3; j++)
            colour[i / 3].v[k] += inverse[i / 3][j] * sums[j] / all;
    }
    if (!mix->three)
        return;
    mix->light = scn_lab_of(colour[0]);
    mix->second = scn_lab_of(colour[1]);
    mix->dark = scn_lab_of(colour[2]);
}

scn_mixture scn_unmixed(const scn_mix_sums *sums, scn_stretch stretch)
{
    double m[SCN_MIX] = {0};
    const size_t end = (size_t)fmin((double)sums->bins, ceil(stretch.to / sums->bin_mm));
    for (size_t bin = (size_t)fmax(0, ceil(stretch.from / sums->bin_mm)); bin < end; bin++)
        for (size_t k = 0; k < SCN_MIX; k++)
            m[k] += sums->rows[bin * SCN_MIX + k];
    const double det = m[0] * m[2] - m[1] * m[1], all = m[0] + 2 * m[1] + m[2];
    scn_mixture mix = {.share = (m[0] + m[1]) / fmax(all, 1e-9),
                       .second_share = (m[10] + m[11]) / fmax(all, 1e-9),
                       .both = det > 1e-6 * all * all};
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
    unmix_three(m, &mix);
    return mix;
}

static double spacing_of(const scn_scene *scene)
{
    return scene->lights.share > 0 ? scene->lights.ribbon / scene->lights.share : NAN;
}

static bool tell_second(json_t *to, const scn_scene *scene, const scn_mixture *mix)
{
    return scene->second_lights.share <= 0 ||
           (json_object_set_new(to, "second_share", scn_number_json(mix->second_share)) == 0 &&
            json_object_set_new(to, "second_lab", mix->three ? scn_lab_json(mix->second) : json_null()) == 0);
}

/* What a part tells of itself. */
static bool tell_part(json_t *to, const scn_scene *scene, const scn_mix_sums *sums, const scn_runs *runs,
                      scn_stretch stretch)
{
    const scn_mixture mix = scn_unmixed(sums, stretch);
    const double contrast = mix.both ? mix.light.v[0] - mix.dark.v[0] : NAN;
    return json_object_set_new(to, "light_share", scn_number_json(mix.share)) == 0 &&
           json_object_set_new(to, "contrast_lstar", scn_number_json(contrast)) == 0 &&
           json_object_set_new(to, "seen_contrast_lstar", scn_number_json(mix.both ? mix.seen : NAN)) == 0 &&
           tell_second(to, scene, &mix) && scn_tell_runs(to, runs, stretch);
}

static bool tell_parts(json_t *strands, const scn_scene *scene, const scn_mix_sums *sums,
                       const scn_way_sums *ways, const scn_runs *runs, const scn_stretch parts[4])
{
    static const char *const names[] = {"root", "mid", "ends"};
    bool good = scn_tell_runs(strands, runs, parts[3]);
    for (size_t i = 0; i < 3; i++) {
        json_t *part = json_object();
        good = tell_part(part, scene, sums, runs, parts[i]) && good;
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
    if (out && told && !(tell_second(out, scene, &mix) && tell_parts(out, scene, sums, ways, runs, parts))) {
        json_decref(out);
        out = NULL;
    }
    return out;
}
