/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/simulate.h"

#include <math.h>

#include "measure/visibility.h"

tdm_code tdm_line_measure(const tdm_strip *strip, double distance_m, tdm_line_figures *out, tdm_error *error)
{
    size_t block = 0;
    tdm_columns columns = {0};
    tdm_fall fall = {0};
    *out = (tdm_line_figures){.centre_mm = NAN, .width_mm = NAN, .dprime = NAN};
    tdm_code code = tdm_columns_correlation(strip, &block, error);
    if (code == TDM_OK)
        code = tdm_columns_make(strip, block, &columns, error);
    if (code == TDM_OK)
        code = tdm_fall_make(strip, &columns, &fall, error);
    if (code == TDM_OK)
        code = tdm_line_dprime(strip, &fall, distance_m, &out->dprime, error);
    if (code == TDM_OK) {
        out->shape = fall.fit.shape;
        if (out->shape == TDM_SHAPE_TRANSITION || out->shape == TDM_SHAPE_BAND) {
            out->centre_mm = fall.fit.centre[tdm_fall_main_step(&fall.fit)];
            out->width_mm = tdm_fall_width(&fall);
        }
    }
    tdm_fall_free(&fall);
    tdm_columns_free(&columns);
    return code;
}

tdm_code tdm_melt_measure(const tdm_hair *hair, const tdm_melt *melt, double distance_m, tdm_strip *scratch,
                          tdm_line_figures *out, tdm_error *error)
{
    tdm_melt_apply(hair, melt, scratch);
    return tdm_line_measure(scratch, distance_m, out, error);
}
