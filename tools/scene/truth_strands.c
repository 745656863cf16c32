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

scn_mixture scn_unmixed(const scn_mix_sums *sums, double from_mm)
{
    double m[SCN_MIX] = {0};
    for (size_t bin = (size_t)fmax(0, ceil(from_mm / sums->bin_mm)); bin < sums->bins; bin++)
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

json_t *scn_strands_json(const scn_scene *scene, const scn_mix_sums *sums, double from_mm)
{
    static const char form[] = "{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}";
    const scn_mixture mix = scn_unmixed(sums, from_mm);
    if (scene->lights.share <= 0 || !mix.both)
        return json_pack(form, "light_share", json_null(), "light_lab", json_null(), "dark_lab", json_null(),
                         "contrast_lstar", json_null(), "contrast_de00", json_null(), "ribbon_mm",
                         json_null(), "spacing_mm", json_null(), "seen_contrast_lstar", json_null());
    return json_pack(form, "light_share", scn_number_json(mix.share), "light_lab", scn_lab_json(mix.light),
                     "dark_lab", scn_lab_json(mix.dark), "contrast_lstar",
                     scn_number_json(mix.light.v[0] - mix.dark.v[0]), "contrast_de00",
                     scn_number_json(scn_de00(mix.light, mix.dark)), "ribbon_mm",
                     scn_number_json(scene->lights.ribbon), "spacing_mm", scn_number_json(spacing_of(scene)),
                     "seen_contrast_lstar", scn_number_json(mix.seen));
}
