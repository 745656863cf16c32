/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a failed allocation were overlooked while the target is looked for, or leaked what was there
 * before it (seen under the address sanitizer). */
#include "colour/drawn_scene.h"
#include "colour/finder.h"
#include "colour/profiles.h"
#include "failing.h"
#include "suite.h"

START_TEST(each_allocation)
{
    const tdm_limits limits = tdm_limits_default();
    const camera by = plain_camera();
    const board b = plain_board(110, 80, 26);
    double colours[PATCHES][3];
    canvas c = canvas_of(220, 160, 1);
    tdm_device *device = srgb_device();
    tdm_warnings warnings = {0};
    tdm_photo *photo = NULL;
    size_t size;
    target_colours(colours);
    paint_board(&c, &b, colours);
    uint8_t *bytes = take_photograph(&c, &by, 0.6, 92, &size);
    canvas_free(&c);
    ck_assert_int_eq(tdm_photo_open_memory(bytes, size, "drawn", &limits, &warnings, &photo, NULL), TDM_OK);
    long count = 0;
    for (bool through = false; !through; count++) {
        tdm_found_target target;
        tdm_error error = {0};
        bool found = false;
        fail_allocation(count);
        const tdm_code code = tdm_target_find(device, photo, &found, &target, &error);
        through = failure_is_due();
        fail_allocation(-1);
        ck_assert_msg(code == (through ? TDM_OK : TDM_ERR_MEMORY), "allocation %ld: %d %s", count, code,
                      error.text);
        ck_assert(found == through);
    }
    ck_assert_int_gt(count, 20);
    tdm_photo_close(photo);
    tdm_device_free(device);
    tdm_warnings_free(&warnings);
    free(bytes);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {each_allocation, NULL};
    return run_suite("colour finder memory", tests);
}
