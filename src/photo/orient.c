/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo/orient.h"

/* Code | stored row 0 is | stored column 0 is | upright = swap, then mirror in x, y
 *   1  | top             | left               |  -   -  -
 *   2  | top             | right              |  -   x  -
 *   3  | bottom          | right              |  -   x  y
 *   4  | bottom          | left               |  -   -  y
 *   5  | left            | top                | swap -  -
 *   6  | right           | top                | swap x  -
 *   7  | right           | bottom             | swap x  y
 *   8  | left            | bottom             | swap -  y   */
bool tdm_orient_swaps(int orientation)
{
    return orientation >= 5;
}

static bool mirrors_x(int orientation)
{
    return orientation == 2 || orientation == 3 || orientation == 6 || orientation == 7;
}

static bool mirrors_y(int orientation)
{
    return orientation == 3 || orientation == 4 || orientation == 7 || orientation == 8;
}

tdm_rect tdm_orient_stored(int orientation, uint32_t width, uint32_t height, tdm_rect rect)
{
    if (mirrors_x(orientation))
        rect.x = width - rect.x - rect.width;
    if (mirrors_y(orientation))
        rect.y = height - rect.y - rect.height;
    if (!tdm_orient_swaps(orientation))
        return rect;
    return (tdm_rect){.x = rect.y, .y = rect.x, .width = rect.height, .height = rect.width};
}

tdm_placing tdm_orient_placing(int orientation, uint32_t block_width, uint32_t block_height)
{
    const ptrdiff_t stride = (ptrdiff_t)block_width;
    ptrdiff_t step_x = 1, step_y = stride, start = 0;
    if (mirrors_x(orientation)) {
        start += stride - 1;
        step_x = -1;
    }
    if (mirrors_y(orientation)) {
        start += ((ptrdiff_t)block_height - 1) * stride;
        step_y = -stride;
    }
    if (tdm_orient_swaps(orientation))
        return (tdm_placing){.start = start, .along = step_y, .down = step_x};
    return (tdm_placing){.start = start, .along = step_x, .down = step_y};
}
