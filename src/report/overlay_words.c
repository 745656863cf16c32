/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/overlay_words.h"

#include <stddef.h>

/* Strokes apart by spaces, each a row of points "xy" on a grid; y runs down: 0 top, 3 top of small letters, 8
 * the line, a below it. What the pictures have to say needs no more letters. */
typedef struct glyph {
    char letter;
    int width;
    const char *strokes;
} glyph;

static const glyph glyphs[] = {
    {'0', 4, "100107183847413010"},
    {'1', 2, "022028"},
    {'2', 4, "01103041430848"},
    {'3', 4, "01103041433414 344547381807"},
    {'4', 4, "38300545"},
    {'5', 4, "40000413334447381807"},
    {'6', 4, "413010010718384745341405"},
    {'7', 4, "004018"},
    {'8', 4, "14030110304143341405071838474534"},
    {'9', 4, "433414030110304147381807"},
    {'a', 4, "4433130407183847 4348"},
    {'b', 4, "0008 0413334447381807"},
    {'c', 4, "4433130407183847"},
    {'d', 4, "4433130407183847 4048"},
    {'e', 4, "05454433130407183847"},
    {'f', 4, "40302128 0343"},
    {'g', 4, "4433130407183847 43493a1a09"},
    {'h', 4, "0008 0413334448"},
    {'i', 0, "0308 0001"},
    {'j', 2, "23291a0a 2021"},
    {'k', 3, "0008 3306 1538"},
    {'l', 0, "0008"},
    {'m', 6, "0308 0413233438 3443536468"},
    {'n', 4, "0308 0413334448"},
    {'o', 4, "130407183847443313"},
    {'p', 4, "030a 0413334447381807"},
    {'q', 4, "4433130407183847 434a"},
    {'r', 3, "0308 041333"},
    {'s', 4, "44331304153647381807"},
    {'t', 3, "11172838 0333"},
    {'u', 4, "0307183847 4348"},
    {'v', 4, "032843"},
    {'w', 6, "0328344863"},
    {'x', 4, "0348 4308"},
    {'y', 4, "0328 431a"},
    {'z', 4, "03430848"},
    {'.', 0, "0708"},
    {':', 0, "0405 0708"},
    {';', 1, "1415 1709"},
    {'\'', 0, "0002"},
    {'-', 3, "0535"},
    {'(', 1, "10020618"},
    {')', 1, "00121608"},
    {'%', 4, "0840 0010110100 3747483837"},
    {',', 1, "1709"},
    {' ', 2, ""},
};

enum { GRID = 8, GAP = 2 };

static const glyph *find(char letter)
{
    size_t i = 0;
    while (i + 1 < sizeof glyphs / sizeof glyphs[0] && glyphs[i].letter != letter)
        i++;
    return &glyphs[i]; /* the last is blank */
}

static double coordinate(char digit)
{
    return digit == 'a' ? 10 : digit - '0';
}

static void stroke_path(cairo_t *cairo, const char *strokes, double x, double y, double unit)
{
    for (cairo_new_sub_path(cairo); *strokes; strokes += 2) {
        if (*strokes == ' ') {
            cairo_new_sub_path(cairo);
            strokes++;
        }
        cairo_line_to(cairo, x + unit * coordinate(strokes[0]), y + unit * coordinate(strokes[1]));
    }
}

double tdm_words_width(const char *text, double height)
{
    double columns = 0;
    for (; *text; text++)
        columns += find(*text)->width + (text[1] ? GAP : 0);
    return columns * height / GRID;
}

void tdm_words_path(cairo_t *cairo, const char *text, double x, double y, double height)
{
    const double unit = height / GRID;
    for (; *text; text++) {
        const glyph *letter = find(*text);
        stroke_path(cairo, letter->strokes, x, y, unit);
        x += unit * (letter->width + GAP);
    }
}
