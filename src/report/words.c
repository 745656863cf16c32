/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/words.h"

const char tdm_caution[] =
    "This is a reading of colour. It says nothing of the condition of hair or scalp. Before lightening or "
    "colouring, do an allergy (patch) test and a strand test; the maker's instructions, local rules and the "
    "judgement of a licensed professional decide. Hair that is already light isn't lightened again.";

const char tdm_head_title[] = "whole head";

const char *const tdm_libraries[] = {"lcms2", "libjpeg-turbo", "libpng", "gsl", NULL};
