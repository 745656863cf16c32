/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "photo/png_colour.h"

#include <math.h>

#include "base/fail.h"

/* The first row whose chunk is there decides; chunks of lower rows are then not looked at.
 *   cICP         primaries 1, transfer 13: sRGB; 12, 13: Display P3; transfer 16 or 18 (PQ, HLG) and all
 *                else refused
 *   iCCP         the embedded profile
 *   sRGB         sRGB
 *   gAMA, cHRM   that exponent, those primaries or else sRGB's
 *   nothing      unstated */

static tdm_code damaged(const char *name, const char *chunk, tdm_error *error)
{
    return tdm_fail(error, TDM_ERR_FORMAT, name, chunk,
                    "the chunk that says what the colours mean is damaged");
}

static tdm_code from_cicp(const tdm_png_chunk *chunk, const char *name, tdm_photo_info *info,
                          tdm_error *error)
{
    if (!chunk->sound || chunk->size != 4)
        return damaged(name, "cICP", error);
    const int primaries = chunk->data[0], transfer = chunk->data[1];
    const int matrix = chunk->data[2], full_range = chunk->data[3];
    if (transfer == 16 || transfer == 18)
        return tdm_fail(error, TDM_ERR_UNSUPPORTED, name, "cICP",
                        "is a high-dynamic-range picture (%s), whose brightness is relative to a display; "
                        "export it as standard range (SDR) in sRGB or Display P3",
                        transfer == 16 ? "PQ" : "HLG");
    if (transfer != 13 || (primaries != 1 && primaries != 12) || matrix != 0 || full_range != 1)
        return tdm_fail(error, TDM_ERR_UNSUPPORTED, name, "cICP",
                        "has an unusual colour coding (cICP %d/%d/%d/%d); export it in sRGB or Display P3",
                        primaries, transfer, matrix, full_range);
    info->colour = primaries == 1 ? TDM_COLOUR_SRGB : TDM_COLOUR_DISPLAY_P3;
    return TDM_OK;
}

static tdm_code from_srgb(const tdm_png_chunk *chunk, const char *name, tdm_photo_info *info,
                          tdm_error *error)
{
    if (!chunk->sound || chunk->size != 1 || chunk->data[0] > 3)
        return damaged(name, "sRGB", error);
    info->colour = TDM_COLOUR_SRGB;
    return TDM_OK;
}

/* Chromaticities of a display: not negative, x + y at most 1, primaries that span a triangle. */
static bool plausible(const double c[8])
{
    for (int i = 0; i < 8; i += 2) {
        if (c[i] + c[i + 1] > 1.0)
            return false;
    }
    const double twice_area = (c[4] - c[2]) * (c[7] - c[3]) - (c[6] - c[2]) * (c[5] - c[3]);
    return c[1] > 0.01 && fabs(twice_area) > 0.001;
}

static tdm_code from_chrm(const tdm_png_chunk *chunk, const char *name, tdm_photo_info *info,
                          tdm_error *error)
{
    if (!chunk->sound || chunk->size != 32)
        return damaged(name, "cHRM", error);
    double values[8];
    for (int i = 0; i < 8; i++)
        values[i] = tdm_png_number(chunk->data + 4 * i) / 100000.0;
    if (!plausible(values))
        return damaged(name, "cHRM", error);
    for (int i = 0; i < 8; i++)
        info->chromaticity[i] = values[i];
    return TDM_OK;
}

static tdm_code from_gama(const tdm_png_chunks *chunks, const char *name, tdm_photo_info *info,
                          tdm_error *error)
{
    const tdm_png_chunk *chunk = &chunks->gama;
    if (!chunk->sound || chunk->size != 4)
        return damaged(name, "gAMA", error);
    const uint32_t encoded = tdm_png_number(chunk->data);
    if (encoded < 10000 || encoded > 1000000) /* no picture is coded with an exponent past 10 or under 0.1 */
        return damaged(name, "gAMA", error);
    info->gamma = 100000.0 / encoded;
    info->colour = TDM_COLOUR_GAMMA;
    return chunks->chrm.found ? from_chrm(&chunks->chrm, name, info, error) : TDM_OK;
}

static tdm_code decide(const tdm_png_chunks *chunks, const char *name, tdm_photo_info *info, tdm_error *error)
{
    if (chunks->cicp.found)
        return from_cicp(&chunks->cicp, name, info, error);
    if (chunks->iccp.found) {
        info->colour = TDM_COLOUR_ICC;
        return chunks->iccp.sound ? TDM_OK : damaged(name, "iCCP", error);
    }
    if (chunks->srgb.found)
        return from_srgb(&chunks->srgb, name, info, error);
    if (chunks->gama.found)
        return from_gama(chunks, name, info, error);
    info->colour = TDM_COLOUR_UNSTATED;
    return TDM_OK;
}

tdm_code tdm_png_colour(const tdm_png_chunks *chunks, const char *name, tdm_warnings *warnings,
                        tdm_photo_info *info, tdm_error *error)
{
    const tdm_code code = decide(chunks, name, info, error);
    if (code != TDM_OK)
        return code;
    const tdm_png_chunk *all[] = {&chunks->iccp, &chunks->srgb, &chunks->gama, &chunks->chrm};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        if (all[i]->found && !all[i]->sound)
            return tdm_warn(warnings, error, "photo-png", NULL,
                            "a colour chunk is damaged; another that counts before it is sound and was used");
    }
    return TDM_OK;
}
