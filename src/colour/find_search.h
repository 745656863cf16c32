/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The target in one picture, its patches 4 pixels wide or more. */
#ifndef TDM_COLOUR_FIND_SEARCH_H
#define TDM_COLOUR_FIND_SEARCH_H

#include "colour/find_window.h"

/* Replaces *best where the picture has a surer one. False where memory is short. */
bool tdm_find_search(const tdm_device *device, const tdm_find_picture *picture, tdm_find_guess *best);

#endif
