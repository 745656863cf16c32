/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/swatch_sample.h"

#include <math.h>
#include <stdlib.h>

#include "base/fail.h"
#include "colour/lab.h"
#include "strip/mask.h"

enum {
    MOST = 1 << 18, /* pixels looked at in one swatch */
    BANDS = 8       /* across and down, for the uncertainty */
};
/* At either end, as in the rows of a zone, so that a zone and a swatch of one hair agree: dust and glints. */
static const double trim = 0.01;

typedef struct cell {
    float xyz[3], lstar;
    uint32_t x, y; /* in the swatch's rectangle */
} cell;

typedef struct gathering {
    tdm_rect rect;
    uint32_t step;
    uint8_t *inside, *excluded; /* masks over rect; NULL where none lies in it */
    float *row_xyz;
    uint8_t *row_flags;
    cell *cells;
    size_t used, seen, clipped, black;
} gathering;

static void take_row(gathering *work, uint32_t y)
{
    const size_t start = (size_t)y * work->rect.width;
    for (uint32_t x = 0; x < work->rect.width; x += work->step) {
        const uint8_t flags = work->row_flags[x];
        if (!work->inside[start + x] || (work->excluded && work->excluded[start + x]) ||
            flags & TDM_PIXEL_TRANSPARENT)
            continue;
        work->seen++;
        work->clipped += (flags & TDM_PIXEL_CLIPPED) != 0;
        work->black += (flags & TDM_PIXEL_BLACK) != 0;
        if (flags)
            continue;
        cell *here = &work->cells[work->used++];
        float lab[3];
        tdm_xyz_to_lab_many(work->row_xyz + 3 * (size_t)x, lab, 1);
        for (int c = 0; c < 3; c++)
            here->xyz[c] = work->row_xyz[3 * (size_t)x + (size_t)c];
        here->lstar = lab[0];
        here->x = x;
        here->y = y;
    }
}

static tdm_code gather(const tdm_device *device, const tdm_calibration *calibration, const tdm_pixels *pixels,
                       gathering *work, tdm_error *error)
{
    const size_t width = work->rect.width;
    const size_t room = (width / work->step + 1) * (work->rect.height / work->step + 1);
    work->row_xyz = malloc(3 * width * sizeof *work->row_xyz);
    work->row_flags = malloc(width);
    work->cells = malloc(room * sizeof *work->cells);
    if (!work->row_xyz || !work->row_flags || !work->cells)
        return tdm_fail_memory(error, NULL);
    tdm_code code = TDM_OK;
    for (uint32_t y = 0; code == TDM_OK && y < work->rect.height; y += work->step) {
        const tdm_rect line = {work->rect.x, work->rect.y + y, work->rect.width, 1};
        code = tdm_colour_convert(device, calibration, pixels, line, work->row_xyz, work->row_flags, error);
        if (code == TDM_OK)
            take_row(work, y);
    }
    return code;
}

/* By lightness; by place where that is the same, so that sums don't depend on how the sort goes. */
static int compare_cells(const void *a, const void *b)
{
    const cell *one = a, *other = b;
    if (one->lstar < other->lstar || one->lstar > other->lstar)
        return one->lstar < other->lstar ? -1 : 1;
    if (one->y != other->y)
        return one->y < other->y ? -1 : 1;
    return (one->x > other->x) - (one->x < other->x);
}

static double lightness(double y)
{
    const double xyz[3] = {y * tdm_white_d50[0], y, y * tdm_white_d50[2]};
    double lab[3];
    tdm_xyz_to_lab(xyz, lab);
    return lab[0];
}

/* Standard error of the mean from bands along one side of the rectangle. Hair runs along the swatch, so that
 * bands along it differ and bands across it don't, or the other way round: the larger error counts. */
static double band_error(const cell *cells, size_t count, bool down, uint32_t length)
{
    double light[BANDS] = {0};
    size_t have[BANDS] = {0}, bands = 0;
    double sum = 0, square = 0;
    for (size_t i = 0; i < count; i++) {
        const size_t band = (size_t)((uint64_t)(down ? cells[i].y : cells[i].x) * BANDS / length);
        light[band] += (double)cells[i].xyz[1];
        have[band]++;
    }
    for (size_t i = 0; i < BANDS; i++) {
        if (2 * BANDS * have[i] < count) /* less than half of an even share: a corner */
            continue;
        const double lstar = lightness(light[i] / (double)have[i]);
        sum += lstar;
        square += lstar * lstar;
        bands++;
    }
    if (bands < 2)
        return NAN;
    const double n = (double)bands;
    return sqrt(fmax(0, (square - sum * sum / n) / (n - 1)) / n);
}

static void summarise(const gathering *work, tdm_swatch_sample *out)
{
    const size_t cut = (size_t)(trim * (double)work->used);
    const cell *kept = work->cells + cut;
    const size_t count = work->used - 2 * cut;
    double xyz[3] = {0}, sum = 0, square = 0;
    for (size_t i = 0; i < count; i++) {
        for (size_t c = 0; c < 3; c++)
            xyz[c] += (double)kept[i].xyz[c] / (double)count;
        sum += (double)kept[i].lstar;
    }
    const double mean = sum / (double)count;
    for (size_t i = 0; i < count; i++)
        square += ((double)kept[i].lstar - mean) * ((double)kept[i].lstar - mean);
    tdm_xyz_to_lab(xyz, out->lab);
    out->spread = count > 1 ? sqrt(square / (double)(count - 1)) : 0;
    out->u_sampling = fmax(band_error(kept, count, false, work->rect.width),
                           band_error(kept, count, true, work->rect.height));
    if (isnan(out->u_sampling))
        out->u_sampling = out->spread;
}

static tdm_code make_masks(const tdm_marks *marks, size_t index, gathering *work, tdm_error *error)
{
    /* The swatch itself is drawn by what draws exclusions. */
    tdm_marks own = {.excludes = &marks->swatches[index].polygon, .exclude_count = 1};
    tdm_code code = tdm_mask_make(&own, work->rect, &work->inside, error);
    if (code == TDM_OK)
        code = tdm_mask_make(marks, work->rect, &work->excluded, error);
    return code;
}

tdm_code tdm_swatch_sample_make(const tdm_device *device, const tdm_calibration *calibration,
                                const tdm_pixels *pixels, const tdm_marks *marks, size_t index,
                                tdm_swatch_sample *out, tdm_error *error)
{
    const tdm_polyline *polygon = &marks->swatches[index].polygon;
    gathering work = {.rect = tdm_polygon_rect(polygon->xy, polygon->count, marks->width, marks->height)};
    const double area = (double)work.rect.width * work.rect.height;
    tdm_code code = TDM_OK;
    *out = (tdm_swatch_sample){.lab = {NAN, NAN, NAN}, .spread = NAN, .u_sampling = NAN};
    work.step = area > MOST ? (uint32_t)ceil(sqrt(area / MOST)) : 1;
    if (area > 0)
        code = make_masks(marks, index, &work, error);
    if (code == TDM_OK && work.inside)
        code = gather(device, calibration, pixels, &work, error);
    if (code == TDM_OK && work.used > 0) {
        qsort(work.cells, work.used, sizeof *work.cells, compare_cells);
        summarise(&work, out);
    }
    out->used = work.used;
    out->clipped_share = work.seen > 0 ? (double)work.clipped / (double)work.seen : 0;
    out->black_share = work.seen > 0 ? (double)work.black / (double)work.seen : 0;
    free(work.inside);
    free(work.excluded);
    free(work.row_xyz);
    free(work.row_flags);
    free(work.cells);
    return code;
}
