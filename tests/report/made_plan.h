/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plan made by hand, so that its reports are tested without a photograph. */
#ifndef TDM_TESTS_MADE_PLAN_H
#define TDM_TESTS_MADE_PLAN_H

#include "plan/plan_parts.h"

/* Three zones. "front": 100 mm long and 40 mm wide, dark hair (MADE_DARK) with the right half light
 * (MADE_LIGHT) from 50 mm on, a shade planned that is feathered from 40 to 80 mm. "nape": the same hair,
 * nothing needed. "crown": couldn't be read. Free with tdm_plan_free. */
tdm_plan *made_plan(void);

extern const double made_dark[3], made_light[3], made_shade[3]; /* CIELAB */

#endif
