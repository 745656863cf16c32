/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>

#include "accuracy.h"

bool accuracy_read(const char *folder, const char *name, bool pooled, bool verbose, accuracy_tally *tallies)
{
    char photo[4200], truth_path[4200];
    (void)snprintf(photo, sizeof photo, "%s/%s.jpg", folder, name);
    (void)snprintf(truth_path, sizeof truth_path, "%s/%s.truth.json", folder, name);
    json_error_t why;
    json_t *truth = json_load_file(truth_path, 0, &why);
    if (!truth) {
        fprintf(stderr, "%s: %s\n", truth_path, why.text);
        return false;
    }
    tdm_reading *reading = NULL;
    tdm_error error = {0};
    const bool good = tdm_read_photo(photo, NULL, NULL, &reading, &error) == TDM_OK;
    if (good)
        accuracy_add(reading, truth, name, pooled, verbose, tallies);
    else
        fprintf(stderr, "%s: %s: %s\n", error.file, error.place, error.text);
    tdm_reading_free(reading);
    json_decref(truth);
    return good;
}
