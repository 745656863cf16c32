/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values of a scene by the path of their keys. Each complaint is a line on standard error, and lets `good`
 * fall. */
#ifndef KEYS_H
#define KEYS_H

#include "scene.h"

const json_t *scn_key(const json_t *params, const char *path);
double scn_number(const json_t *params, const char *path, double low, double high, bool *good);
/* NaN where the key holds null. */
double scn_optional(const json_t *params, const char *path, double low, double high, bool *good);
const char *scn_text(const json_t *params, const char *path);
/* The place of the text in the list of words, or 0 with a complaint. */
int scn_choice(const json_t *params, const char *path, const char *const *words, bool *good);
/* Whether only keys of the list stand in an item of a list at `place`. */
bool scn_known_keys(const json_t *item, const char *place, const char *const *keys);
/* Whether it is there and isn't null. */
bool scn_has(const json_t *item, const char *key);
double scn_element(const json_t *params, const char *path, size_t i, double low, double high, bool *good);

/* config.c: a colour of hair: NAME.lab, or NAME.level and NAME.warmth. */
scn_lab scn_body(const json_t *params, const char *name, bool *good);

#endif
