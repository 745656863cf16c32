/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scene.h"

/* README.md says what each key means. */
static const char hair[] =
    "{\"size\": [4000, 3000], \"field_mm\": [400.0, 300.0], \"seed\": 1,"
    " \"natural\": {\"level\": 4.0, \"warmth\": 0.15, \"lab\": null},"
    " \"old\": {\"level\": 6.0, \"warmth\": 0.3, \"lab\": null},"
    " \"course\": {\"shape\": \"transition\", \"centre_mm\": 34.0, \"width_mm\": 5.0, \"jitter_mm\": 1.0,"
    "   \"lock_jitter_mm\": 1.0, \"slope\": 0.0},"
    " \"band\": {\"level\": 7.0, \"warmth\": 0.6, \"lab\": null, \"from_mm\": 8.0, \"to_mm\": 34.0,"
    "   \"edge_mm\": 8.0},"
    " \"light\": {\"share\": 0.35, \"level\": 8.0, \"warmth\": 0.2, \"lab\": null, \"ribbon_mm\": 3.0,"
    "   \"spacing\": \"random\", \"start_mm\": null, \"width_mm\": null},"
    " \"texture_l\": 1.5, \"shading\": 0.5, \"shading_fall\": 0.0, \"gloss\": 0.1,"
    " \"hair\": {\"length_mm\": 226.0, \"span_mm\": 215.0, \"wave_mm\": 2.5, \"wavelength_mm\": 115.0,"
    "   \"flyaways\": 1.0, \"density\": 1.0, \"clump\": 0.25},"
    " \"pose\": {\"dx_mm\": 0.0, \"dy_mm\": 0.0, \"turn_deg\": 0.0},";

static const char rest[] =
    " \"zones\": [{\"name\": \"front\", \"side\": null, \"at_mm\": 45.0, \"width_mm\": 60.0, \"length_mm\": "
    "200.0},"
    "   {\"name\": \"side\", \"side\": null, \"at_mm\": 108.0, \"width_mm\": 60.0, \"length_mm\": 200.0},"
    "   {\"name\": \"back\", \"side\": null, \"at_mm\": 171.0, \"width_mm\": 60.0, \"length_mm\": 200.0}],"
    " \"camera\": {\"exposure_ev\": 0.0, \"white_balance\": [1.0, 1.0, 1.0], \"tone\": 0.0, \"noise\": 0.3,"
    "   \"blur_px\": 0.6, \"uneven\": 0.0, \"profile\": \"srgb\", \"quality\": 92, \"subsampling\": "
    "\"4:4:4\","
    "   \"orientation\": 1, \"format\": \"jpeg\", \"bits\": 8, \"taken\": null},"
    " \"target\": {\"edition\": \"before-2014\", \"turn_deg\": 1.2},"
    " \"marks\": {\"target\": true, \"grey\": true, \"scale\": true}}";

/* Keys that came later. A truth file doesn't name those at their default, so that it stays as it was. */
static const char later[] =
    "{\"only\": null, \"quick\": false,"
    " \"melt\": {\"level\": null, \"warmth\": 0.15, \"lab\": null, \"to_mm\": 20.0, \"feather_mm\": 15.0,"
    "   \"jitter_mm\": 0.0, \"lock_jitter_mm\": 0.0},"
    " \"course\": {\"curve_mm\": 0.0, \"zigzag_mm\": 0.0, \"zigzag_period_mm\": 16.0, \"gaps\": []}, "
    "\"bleeds\": [], \"patches\": [],"
    " \"shadow\": {\"from_mm\": 30.0, \"to_mm\": 50.0, \"edge_mm\": 10.0, \"amount\": 0.0},"
    " \"sheen_band\": {\"at_mm\": 40.0, \"width_mm\": 15.0, \"amount\": 0.0},"
    " \"grey\": {\"share\": 0.0, \"lab\": [70.0, 0.0, 14.0], \"clump_mm\": 0.0, \"to_ends\": false},"
    " \"parting\": {\"at_mm\": null, \"width_mm\": 3.0, \"length_mm\": 18.0},"
    " \"hair\": {\"sweep_deg\": 0.0, \"drift\": 1.0, \"wave_jitter\": 1.0}, \"light\": {\"stray\": 0.125},"
    " \"lights2\": {\"share\": 0.0, \"level\": 7.0, \"warmth\": 0.4, \"lab\": null, \"ribbon_mm\": 3.0,"
    "   \"spacing\": \"random\"},"
    " \"camera\": {\"sensitivity\": \"ideal\", \"motion_px\": 0.0, \"motion_deg\": 0.0},"
    " \"lamp\": {\"cct\": null, \"kelvin_planck\": null,"
    "   \"second\": {\"cct\": null, \"kelvin_planck\": null, \"share\": [0.0, 0.0], \"turn_deg\": 0.0}},"
    " \"target\": {\"at_mm\": [335.0, 62.0], \"tilt_deg\": 0.0, \"tilt_axis_deg\": 0.0, \"width_mm\": 105.0,"
    "   \"shade\": {\"share\": 0.0, \"from\": 0.5, \"turn_deg\": 0.0, \"soft_mm\": 6.0},"
    "   \"dirt\": [], \"dirt_amount\": 0.5, \"glare\": [], \"glare_amount\": 0.3,"
    "   \"mirrored\": false, \"in_marks\": true, \"in_marks_width\": false},"
    " \"scale\": {\"in_marks\": true, \"at_mm\": [334.0, 208.0]}, \"greys\": [], \"swatches\": [],"
    " \"clutter\": {\"amount\": 0.0, \"seed\": 1}, \"flat\": {\"lstar\": 80.0}}";

static bool merge(json_t *base, json_t *more)
{
    const char *key = NULL;
    json_t *value = NULL;
    json_object_foreach(more, key, value)
    {
        json_t *old = json_object_get(base, key);
        if (json_is_object(old) ? !merge(old, value) : json_object_set(base, key, value) < 0)
            return false;
    }
    return true;
}

json_t *scn_defaults(void)
{
    json_error_t why;
    json_t *text = json_sprintf("%s%s", hair, rest);
    json_t *value = text ? json_loads(json_string_value(text), 0, &why) : NULL;
    json_t *more = json_loads(later, 0, &why);
    if (!value || !more || !merge(value, more)) {
        json_decref(value);
        value = NULL;
    }
    json_decref(text);
    json_decref(more);
    return value;
}

/* Takes away from `params` what is as in `plain`, and objects that are empty then. */
static void prune(json_t *params, json_t *plain)
{
    const char *key = NULL;
    json_t *value = NULL;
    json_object_foreach(plain, key, value)
    {
        json_t *own = json_object_get(params, key);
        if (json_is_object(own) && json_is_object(value)) {
            prune(own, value);
            if (json_object_size(own) == 0)
                (void)json_object_del(params, key);
        } else if (json_equal(own, value))
            (void)json_object_del(params, key);
    }
}

json_t *scn_params_told(const scn_scene *scene)
{
    json_t *told = json_deep_copy(scene->params), *plain = json_loads(later, 0, NULL);
    if (told && plain)
        prune(told, plain);
    json_decref(plain);
    return told;
}

static bool as_plain(const json_t *params, json_t *plain)
{
    const char *key = NULL;
    json_t *value = NULL;
    json_object_foreach(plain, key, value)
    {
        const json_t *own = json_object_get(params, key);
        if (json_is_object(own) && json_is_object(value) ? !as_plain(own, value) : !json_equal(own, value))
            return false;
    }
    return true;
}

bool scn_params_beyond(const scn_scene *scene)
{
    json_t *plain = json_loads(later, 0, NULL);
    const bool beyond = plain && !as_plain(scene->params, plain);
    json_decref(plain);
    return beyond;
}
