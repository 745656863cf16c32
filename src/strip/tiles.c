/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "strip/tiles.h"

#include <stdlib.h>
#include <string.h>

#include "base/fail.h"

tdm_code tdm_tiles_make(const tdm_device *device, const tdm_calibration *calibration,
                        const tdm_pixels *pixels, tdm_rect rect, tdm_tiles *out, tdm_error *error)
{
    tdm_tiles tiles = {.device = device,
                       .calibration = calibration,
                       .pixels = pixels,
                       .rect = rect,
                       .across = (rect.width + TDM_TILE - 1) / TDM_TILE,
                       .down = (rect.height + TDM_TILE - 1) / TDM_TILE};
    tiles.tiles = calloc((size_t)tiles.across * tiles.down, sizeof(tdm_tile *));
    if (!tiles.tiles)
        return tdm_fail_memory(error, NULL);
    *out = tiles;
    return TDM_OK;
}

void tdm_tiles_free(tdm_tiles *tiles)
{
    for (size_t i = 0; tiles->tiles && i < (size_t)tiles->across * tiles->down; i++)
        free(tiles->tiles[i]);
    free(tiles->tiles);
    *tiles = (tdm_tiles){0};
}

/* A tile at the right or lower edge is narrower; its rows keep the full tile's length. */
static void spread_rows(uint32_t width, uint32_t height, tdm_tile *tile)
{
    for (uint32_t row = height; width < TDM_TILE && row-- > 0;) {
        memmove(tile->xyz + (size_t)3 * row * TDM_TILE, tile->xyz + (size_t)3 * row * width,
                (size_t)3 * width * sizeof *tile->xyz);
        memmove(tile->flags + (size_t)row * TDM_TILE, tile->flags + (size_t)row * width, width);
    }
}

static tdm_code convert(tdm_tiles *tiles, uint32_t across, uint32_t down, tdm_tile **out, tdm_error *error)
{
    tdm_tile *tile = malloc(sizeof *tile);
    if (!tile)
        return tdm_fail_memory(error, NULL);
    const uint32_t x = across * TDM_TILE, y = down * TDM_TILE;
    const uint32_t width = tiles->rect.width - x < TDM_TILE ? tiles->rect.width - x : TDM_TILE;
    const uint32_t height = tiles->rect.height - y < TDM_TILE ? tiles->rect.height - y : TDM_TILE;
    const tdm_rect part = {tiles->rect.x + x, tiles->rect.y + y, width, height};
    const tdm_code code = tdm_colour_convert(tiles->device, tiles->calibration, tiles->pixels, part,
                                             tile->xyz, tile->flags, error);
    if (code != TDM_OK) {
        free(tile);
        return code;
    }
    spread_rows(width, height, tile);
    *out = tile;
    return TDM_OK;
}

tdm_code tdm_tiles_get(tdm_tiles *tiles, uint32_t x, uint32_t y, const tdm_tile **tile, size_t *at,
                       tdm_error *error)
{
    const uint32_t across = x / TDM_TILE, down = y / TDM_TILE;
    tdm_tile **place = &tiles->tiles[(size_t)down * tiles->across + across];
    if (!*place) {
        const tdm_code code = convert(tiles, across, down, place, error);
        if (code != TDM_OK)
            return code;
    }
    *tile = *place;
    *at = (size_t)(y % TDM_TILE) * TDM_TILE + x % TDM_TILE;
    return TDM_OK;
}
