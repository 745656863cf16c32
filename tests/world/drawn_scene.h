/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A photograph drawn by tools/scene for a test. */
#ifndef TESTS_WORLD_DRAWN_SCENE_H
#define TESTS_WORLD_DRAWN_SCENE_H

enum { DRAWN_PATH = 520 };

/* Draws the base scene with some values set (NULL-terminated, at most 16); photo: the path of what was drawn.
 */
void drawn_scene(const char *name, const char *const *values, char photo[DRAWN_PATH]);

#endif
