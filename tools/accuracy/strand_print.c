/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>

#include "strand_errors.h"

void strand_print_head(void)
{
    printf("| kind | zones | told apart |");
    for (size_t i = 0; i < STRAND_MAIN; i++)
        printf(" %s: mean error, beyond |", strand_label(i));
    printf(" pattern wrong (by what was drawn) |\n|---|---|---|---|---|---|---|---|\n");
}

void strand_print_row(const char *name, const strand_tallies *it)
{
    printf("| %s | %zu | %zu |", name, it->zones, it->lit_apart + it->apart);
    for (size_t i = 0; i < STRAND_MAIN; i++) {
        const strand_tally *of = &it->of[i];
        if (of->read > 0)
            printf(" %.2f, %zu of %zu |", of->sum / (double)of->read, of->beyond, of->read);
        else
            printf(" |");
    }
    printf(" %zu of %zu (%zu of %zu) |\n", it->wrong_patterns, it->patterns, it->drawn_wrong, it->drawn);
}

void strand_print_figures(const strand_tallies *it)
{
    printf("\n| figure | read | not read | mean error | worst | beyond | worst in "
           "|\n|---|---|---|---|---|---|---|\n");
    for (size_t i = 0; i < STRAND_FIGURES; i++) {
        const strand_tally *of = &it->of[i];
        if (of->read + of->missing > 0)
            printf("| %s | %zu | %zu | %.3f | %.2f | %zu | %s |\n", strand_label(i), of->read, of->missing,
                   of->read > 0 ? of->sum / (double)of->read : 0, of->worst, of->beyond, of->where);
    }
    printf(
        "\nRegular told from random wrongly in %zu of %zu zones (by the unevenness of the drawn spacings: in "
        "%zu of %zu). Light and dark strands told in %zu of %zu zones that have lights and in %zu of %zu "
        "that have "
        "none; overlooked in %zu of %zu where they are clear.\n",
        it->wrong_patterns, it->patterns, it->drawn_wrong, it->drawn, it->lit_apart, it->lit, it->apart,
        it->plain, it->missed, it->clear);
}
