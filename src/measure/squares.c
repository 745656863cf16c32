/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/squares.h"

#include <stdlib.h>

double tdm_square_sum(const tdm_strip *strip, size_t row, size_t rows, size_t col, size_t cols, double xyz[3])
{
    double used = 0;
    xyz[0] = xyz[1] = xyz[2] = 0;
    for (size_t i = row; i < row + rows && i < strip->rows; i++) {
        for (size_t j = col; j < col + cols && j < strip->cols; j++) {
            const size_t cell = i * strip->cols + j;
            if (!strip->use[cell])
                continue;
            used += 1;
            for (size_t k = 0; k < 3; k++)
                xyz[k] += (double)strip->xyz[3 * cell + k];
        }
    }
    return used;
}

static void visit(tdm_squares *of, size_t row, size_t col, size_t *waiting)
{
    const size_t at = row * of->cols + col;
    if (!of->mark[at])
        return;
    of->mark[at] = 0;
    of->queue[(*waiting)++] = at;
}

tdm_square_group tdm_squares_gather(tdm_squares *of, size_t start)
{
    tdm_square_group found = {.top = of->rows, .left = of->cols, .members = of->queue};
    visit(of, start / of->cols, start % of->cols, &found.count);
    for (size_t next = 0; next < found.count; next++) {
        const size_t row = of->queue[next] / of->cols, col = of->queue[next] % of->cols;
        found.top = row < found.top ? row : found.top;
        found.left = col < found.left ? col : found.left;
        found.bottom = row + 1 > found.bottom ? row + 1 : found.bottom;
        found.right = col + 1 > found.right ? col + 1 : found.right;
        for (size_t i = row > 0 ? row - 1 : 0; i <= row + 1 && i < of->rows; i++) {
            for (size_t j = col > 0 ? col - 1 : 0; j <= col + 1 && j < of->cols; j++)
                visit(of, i, j, &found.count);
        }
    }
    return found;
}

tdm_place tdm_square_place(const tdm_strip *strip, double side, const tdm_square_group *found)
{
    const double middle = 0.5 * (double)strip->cols * strip->cell;
    const double across = 0.5 * (double)(found->left + found->right) * side - middle;
    const double along = 0.5 * (double)(found->top + found->bottom) * side;
    return (tdm_place){.mm = tdm_from_root(strip, along),
                       .across_mm = tdm_mm(strip, across),
                       .length_mm = tdm_mm(strip, (double)(found->bottom - found->top) * side),
                       .width_mm = tdm_mm(strip, (double)(found->right - found->left) * side)};
}

static int by_across(const void *a, const void *b)
{
    const tdm_place *one = a, *other = b;
    const int across = (one->across_mm > other->across_mm) - (one->across_mm < other->across_mm);
    return across ? across : (one->mm > other->mm) - (one->mm < other->mm);
}

void tdm_places_sort(tdm_places *places)
{
    qsort(places->items, places->count, sizeof *places->items, by_across);
}
