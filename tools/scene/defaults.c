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

json_t *scn_defaults(void)
{
    json_error_t why;
    json_t *text = json_sprintf("%s%s", hair, rest);
    json_t *value = text ? json_loads(json_string_value(text), 0, &why) : NULL;
    json_decref(text);
    return value;
}
