/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A table of a label and up to three cells a row. */
#ifndef TDM_REPORT_GRID_H
#define TDM_REPORT_GRID_H

#include "report/page.h"

enum { TDM_GRID_CELLS = 3 };

typedef struct tdm_grid_row {
    tdm_text label;
    tdm_text cells[TDM_GRID_CELLS];
    bool strong; /* the last cell stands out */
    bool apart;  /* an empty line stands before it */
} tdm_grid_row;

/* Starts as {.cells = 1 … 3}. */
typedef struct tdm_grid {
    size_t cells;
    tdm_grid_row *rows;
    size_t count;
    size_t room;
    bool failed;
} tdm_grid;

/* NULL after a failure, which is noted. Valid until the next row. */
tdm_grid_row *tdm_grid_add(tdm_grid *grid);

/* Cells right-aligned under one another; on a narrow page a label too long to stand beside them stands above.
 * Spaces before a label are kept. Frees the grid. */
void tdm_grid_print(tdm_grid *grid, tdm_page *page);

#endif
