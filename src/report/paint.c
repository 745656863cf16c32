/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Terminal colours by ECMA-48 (SGR). */
#include <math.h>

#include "colour/lab.h"
#include "report/page.h"

static void style_code(tdm_page *page, const char *code)
{
    if (page->style.colour)
        tdm_text_add(&page->text, code);
}

void tdm_page_bold(tdm_page *page)
{
    style_code(page, "\x1b[1m");
}

void tdm_page_dim(tdm_page *page)
{
    style_code(page, "\x1b[2m");
}

void tdm_page_plain(tdm_page *page)
{
    style_code(page, "\x1b[0m");
}

/* IEC 61966-2-1, linear light to 8 bits. */
static unsigned encode(double linear)
{
    const double held = fmin(1, fmax(0, linear));
    const double coded = held <= 0.0031308 ? 12.92 * held : 1.055 * pow(held, 1 / 2.4) - 0.055;
    return (unsigned)lround(255 * coded);
}

void tdm_xyz_to_srgb8(const double xyz[3], unsigned rgb[3])
{
    /* Inverse of sRGB's colorants adapted to D50 by Bradford (as in its ICC profile). */
    static const double from_xyz[3][3] = {{3.1338561, -1.6168667, -0.4906146},
                                          {-0.9787684, 1.9161415, 0.0334540},
                                          {0.0719453, -0.2289914, 1.4052427}};
    for (size_t i = 0; i < 3; i++)
        rgb[i] = encode(from_xyz[i][0] * xyz[0] + from_xyz[i][1] * xyz[1] + from_xyz[i][2] * xyz[2]);
}

void tdm_lab_to_srgb8(const double lab[3], unsigned rgb[3])
{
    double xyz[3];
    tdm_lab_to_xyz(lab, xyz);
    tdm_xyz_to_srgb8(xyz, rgb);
}

void tdm_page_swatch(tdm_page *page, const double lab[3], size_t columns)
{
    unsigned rgb[3];
    tdm_lab_to_srgb8(lab, rgb);
    tdm_text_format(&page->text, "\x1b[48;2;%u;%u;%um", rgb[0], rgb[1], rgb[2]);
    tdm_page_spaces(page, columns);
    tdm_text_add(&page->text, "\x1b[0m");
}
