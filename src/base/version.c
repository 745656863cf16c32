/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tidemark/version.h"

const char *tdm_version(void)
{
    return TDM_VERSION;
}
