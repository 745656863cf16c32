/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything that libtidemark offers. */
#ifndef TIDEMARK_TIDEMARK_H
#define TIDEMARK_TIDEMARK_H

#include "tidemark/comparison.h"
#include "tidemark/error.h"
#include "tidemark/figure.h"
#include "tidemark/limits.h"
#include "tidemark/plan.h"
#include "tidemark/reading.h"
#include "tidemark/report.h"
#include "tidemark/strands.h"
#include "tidemark/swatches.h"
#include "tidemark/target.h"
#include "tidemark/version.h"

#endif
