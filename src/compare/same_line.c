/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether the line in two photographs is the same one, only grown: as wide as it was, with the same hair to
 * either side of it. */
#include <math.h>

#include "colour/lab.h"
#include "compare/growth.h"

static const double grown_wider = 0.25; /* of the growth, as hairs don't all grow alike: choice */
static const double faded = 2.3;        /* CIEDE2000 beyond u: one just-noticeable difference; choice */
static const double beside_mm = 30;     /* hair that is looked at to either side: choice */

typedef struct side {
    const tdm_profile_point *points;
    size_t count;
    double edge;    /* where the line ends towards this side, mm from the root */
    double toward;  /* -1 to the root, 1 to the ends */
    double reach;   /* mm of hair that there are from the edge on */
    double lstar_u; /* expanded, of an area on this side */
} side;

static double number(const tdm_zone_reading *zone, const char *path, bool u)
{
    tdm_value found = {NAN, NAN};
    (void)tdm_zone_value(zone, tdm_figure_find(path), &found); /* stays NaN where null */
    return u ? found.u : found.value;
}

static side side_of(const tdm_zone_reading *zone, double toward)
{
    side it = {.toward = toward};
    it.points = tdm_zone_profile(zone, tdm_figure_find("gradient.profile"), &it.count);
    it.edge =
        number(zone, "gradient.centre_mm", false) + toward * number(zone, "gradient.width_mm", false) / 2;
    it.lstar_u = number(zone, toward < 0 ? "root.lstar" : "ends.lstar", true);
    for (size_t i = 0; i < it.count; i++)
        it.reach = fmax(it.reach, toward * (it.points[i].along - it.edge));
    return it;
}

/* Mean of light from the line's edge on; false where there is no point. */
static bool colour_of(const side *it, double reach, double lab[3])
{
    double sum[3] = {0, 0, 0}, count = 0;
    for (size_t i = 0; i < it->count; i++) {
        const double from = it->toward * (it->points[i].along - it->edge);
        double xyz[3];
        if (!(from >= 0 && from <= reach))
            continue;
        tdm_lab_to_xyz(it->points[i].lab, xyz);
        for (int k = 0; k < 3; k++)
            sum[k] += xyz[k];
        count += 1;
    }
    for (int k = 0; k < 3; k++)
        sum[k] /= count;
    if (count > 0)
        tdm_xyz_to_lab(sum, lab);
    return count > 0;
}

typedef enum verdict { NOT_SEEN, ALIKE, UNLIKE } verdict;

static verdict look(const tdm_zone_change *zone, double toward)
{
    const side before = side_of(zone->before, toward), after = side_of(zone->after, toward);
    /* The same hair: no farther from the line than both photographs show. */
    const double reach = fmin(beside_mm, fmin(before.reach, after.reach));
    double first[3], second[3];
    if (!colour_of(&before, reach, first) || !colour_of(&after, reach, second))
        return NOT_SEEN;
    const double most = sqrt(before.lstar_u * before.lstar_u + after.lstar_u * after.lstar_u + faded * faded);
    return tdm_de00(first, second) <= most ? ALIKE : UNLIKE; /* an unknown u can't say that they are */
}

tdm_kept tdm_line_kept(const tdm_zone_change *zone)
{
    tdm_value width, centre;
    if (!tdm_change(zone, tdm_figure_find("gradient.width_mm"), &width) ||
        !tdm_change(zone, tdm_figure_find("gradient.centre_mm"), &centre) ||
        !(width.value <= width.u + grown_wider * fmax(centre.value, 0) && width.value >= -width.u))
        return TDM_KEPT_NOT_WIDTH;
    const verdict above = look(zone, -1), below = look(zone, 1);
    return above == UNLIKE || below == UNLIKE || (above == NOT_SEEN && below == NOT_SEEN)
               ? TDM_KEPT_NOT_COLOURS
               : TDM_KEPT_ALL;
}
