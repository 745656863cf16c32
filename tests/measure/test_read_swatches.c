/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break: a photograph of swatches read without light that is known, a swatch whose marks and pixels lie
 * apart, facts of another photograph. Patches of the drawn target stand for swatches: their published L*
 * (McCamy, Marcus and Davidson 1976, edition since November 2014) is known apart from the code. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "measure/swatches_parts.h"
#include "suite.h"
#include "tidemark/target.h"

#define PHOTO TEST_DATA "/cli/target.jpg"
#define TARGET "\"target\":{\"kind\":\"patch24\",\"corners\":[[90,420],[390,420],[390,620],[90,620]]}"

/* The middle 20 px of a patch of the drawn target: 300 px for 5.85 pitches across. */
static void add_swatch(char *text, size_t room, double level, int column, int row)
{
    const double pitch = 300 / 5.85, x = 90 + (column + 0.425) * pitch, y = 420 + (row + 0.425) * pitch;
    (void)snprintf(text + strlen(text), room - strlen(text),
                   "{\"level\":%g,\"polygon\":[[%.1f,%.1f],[%.1f,%.1f],[%.1f,%.1f],[%.1f,%.1f]]}", level,
                   x - 10, y - 10, x + 10, y - 10, x + 10, y + 10, x - 10, y + 10);
}

static void write_marks(const char *path, const char *size, const char *references, const char *swatches)
{
    FILE *file = fopen(path, "w");
    ck_assert_ptr_nonnull(file);
    ck_assert_int_gt(fprintf(file, "{\"tidemark_marks\":1,\"photo\":\"a\",\"size\":%s,%s\"swatches\":[%s]}",
                             size, references, swatches),
                     0);
    ck_assert_int_eq(fclose(file), 0);
}

/* Within the stated uncertainty; JPEG and the fit leave less. */
START_TEST(patches_as_swatches)
{
    static const double levels[] = {1, 5, 6.5, 7, 9}, want[] = {20.64, 37.54, 43.46, 50.57, 64.66};
    char path[] = "swatches-XXXXXX", list[2048] = "";
    tdm_swatches *swatches = NULL;
    tdm_error error = {0};
    tdm_photo_facts photo;
    char *scale = NULL;
    const int descriptor = mkstemp(path);
    ck_assert_int_ge(descriptor, 0);
    (void)close(descriptor);
    add_swatch(list, sizeof list, 7, 2, 1); /* moderate red */
    strcat(list, ",");
    add_swatch(list, sizeof list, 1, 5, 3); /* black */
    strcat(list, ",");
    add_swatch(list, sizeof list, 9, 1, 0); /* light skin */
    strcat(list, ",");
    add_swatch(list, sizeof list, 5, 0, 0); /* dark skin */
    strcat(list, ",");
    add_swatch(list, sizeof list, 6.5, 3, 0); /* foliage */
    write_marks(path, "[480,640]", TARGET ",", list);
    ck_assert_msg(tdm_read_swatches(PHOTO, path, NULL, &swatches, &error) == TDM_OK, "%s: %s", error.place,
                  error.text);
    (void)remove(path);
    tdm_swatches_photo(swatches, &photo);
    ck_assert_str_eq(photo.file, "target.jpg");
    ck_assert(photo.width == 480 && photo.height == 640 && strlen(photo.sha256) == 64);
    ck_assert_uint_eq(tdm_swatches_count(swatches), 5);
    for (size_t i = 0; i < 5; i++) {
        tdm_swatch swatch;
        tdm_swatches_at(swatches, i, &swatch);
        ck_assert_double_eq(swatch.level, levels[i]);
        ck_assert_double_lt(swatch.u, 3); /* else what follows says nothing */
        ck_assert_double_eq_tol(swatch.lab[0], want[i], swatch.u);
    }
    ck_assert(tdm_swatches_rising(swatches));
    ck_assert_int_eq(tdm_swatches_scale(swatches, &scale, &error), TDM_OK);
    ck_assert_ptr_nonnull(strstr(scale, "your swatches, target.jpg"));
    tdm_free(scale);
    tdm_swatches_free(swatches);
}
END_TEST

/* Standard, in stops, as the swatch's uncertainty has it beside sampling and calibration. */
static double light_part(const tdm_swatches *swatches, size_t index, double u_calibration)
{
    const tdm_swatch_entry *entry = &swatches->entries[index];
    const double square =
        entry->u * entry->u / 4 - entry->u_sampling * entry->u_sampling - u_calibration * u_calibration;
    return sqrt(fmax(0, square)) / ((entry->lab[0] + 16) * log(2) / 3);
}

/* Hair at the top, 449 px from the middle of the target at the bottom, against a patch 22 px from it. A
 * choice of src/measure/METHODS.md: without a look at the target 0.25 stops over the diagonal of 800 px; what
 * the drawn target shows of its even light leaves less of that. */
START_TEST(light_far_from_the_target)
{
    static const char far[] = "{\"level\":2,\"polygon\":[[40,20],[200,20],[200,100],[40,100]]}";
    char path[] = "swatches-XXXXXX", list[2048] = "";
    tdm_swatches *swatches = NULL;
    tdm_target_reading *target = NULL;
    tdm_target_facts facts;
    tdm_error error = {0};
    const int descriptor = mkstemp(path);
    ck_assert_int_ge(descriptor, 0);
    (void)close(descriptor);
    strcpy(list, far);
    strcat(list, ",");
    add_swatch(list, sizeof list, 7, 2, 1);
    write_marks(path, "[480,640]", TARGET ",", list);
    ck_assert_int_eq(tdm_read_target(PHOTO, path, NULL, &target, &error), TDM_OK);
    tdm_target_about(target, &facts);
    ck_assert_int_eq(tdm_read_swatches(PHOTO, path, NULL, &swatches, &error), TDM_OK);
    (void)remove(path);
    ck_assert_uint_eq(tdm_swatches_count(swatches), 2);
    const double there = light_part(swatches, 0, facts.u_lstar / 2),
                 here = light_part(swatches, 1, facts.u_lstar / 2);
    ck_assert_msg(there > 0.02 && there < 0.25 * 449 / 800 && here < 0.25 * 30 / 800, "%g %g", there, here);
    tdm_target_reading_free(target);
    tdm_swatches_free(swatches);
}
END_TEST

/* small.png has neither target nor card. */
START_TEST(light_must_be_known)
{
    static const char list[] = "{\"level\":3,\"polygon\":[[0,0],[12,0],[12,12],[0,12]]},"
                               "{\"level\":5,\"polygon\":[[12,0],[24,0],[24,12],[12,12]]}";
    char path[] = "swatches-XXXXXX";
    tdm_swatches *swatches = NULL;
    tdm_error error = {0};
    const int descriptor = mkstemp(path);
    ck_assert_int_ge(descriptor, 0);
    (void)close(descriptor);
    write_marks(path, "[24,32]", "", list);
    ck_assert_int_eq(tdm_read_swatches(TEST_DATA "/cli/small.png", path, NULL, &swatches, &error),
                     TDM_ERR_UNUSABLE);
    ck_assert_str_eq(error.place, "target");
    ck_assert_ptr_nonnull(strstr(error.text, "grey card"));
    ck_assert_ptr_null(swatches);
    (void)remove(path);
}
END_TEST

START_TEST(marks_must_be_there)
{
    tdm_swatches *swatches = NULL;
    tdm_error error = {0};
    ck_assert_int_eq(tdm_read_swatches(PHOTO, "none.marks.json", NULL, &swatches, &error),
                     TDM_ERR_UNREADABLE);
    /* beside the photograph lie marks of zones */
    ck_assert_int_eq(tdm_read_swatches(PHOTO, NULL, NULL, &swatches, &error), TDM_ERR_UNUSABLE);
    ck_assert_str_eq(error.place, "swatches");
    ck_assert_ptr_nonnull(strstr(error.text, "two swatches"));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {patches_as_swatches, light_far_from_the_target, light_must_be_known,
                                  marks_must_be_there, NULL};
    return run_suite("read swatches", tests);
}
