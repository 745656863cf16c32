/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the columns of a CGATS.17 table hold. */
#include "colour/reference_parts.h"

static const size_t none = TDM_CGATS_COLUMNS;

/* Column of that name; none where there is no such, twice where there are several. */
static size_t find(const tdm_span *names, size_t count, const char *name, bool *twice)
{
    size_t found = none;
    for (size_t i = 0; i < count; i++) {
        if (!tdm_span_is(names[i], name))
            continue;
        *twice = *twice || found != none;
        found = i;
    }
    return found;
}

/* All three of Lab or XYZ. */
static bool find_three(const tdm_span *names, size_t count, const char *const three[3], size_t at[3],
                       bool *twice)
{
    for (int k = 0; k < 3; k++)
        at[k] = find(names, count, three[k], twice);
    return at[0] != none && at[1] != none && at[2] != none;
}

/* Length of the longest prefix of a spectral column that the word begins with, 0 for none. */
static size_t spectral_prefix(tdm_span word)
{
    static const char *const prefixes[] = {"SPECTRAL_NM_", "SPECTRAL_NM", "SPECTRAL_", "SPEC_", "NM_", "NM"};
    for (size_t i = 0; i < sizeof prefixes / sizeof prefixes[0]; i++) {
        size_t size = 0;
        while (prefixes[i][size])
            size++;
        if (word.size > size && tdm_span_is((tdm_span){word.at, size}, prefixes[i]))
            return size;
    }
    return 0;
}

/* Wavelength of a spectral column, three or four digits; 0 where it isn't one. */
static unsigned wavelength(tdm_span word)
{
    const size_t skip = spectral_prefix(word);
    unsigned nm = 0;
    if (skip == 0 || !tdm_span_count((tdm_span){word.at + skip, word.size - skip}, &nm))
        return 0;
    return nm >= 100 && nm <= 9999 ? nm : 0;
}

static tdm_code check_bands(const tdm_cgats *in, unsigned line, const tdm_reference_columns *columns,
                            unsigned last)
{
    if (columns->step_nm != 5 && columns->step_nm != 10 && columns->step_nm != 20)
        return tdm_cgats_fail(in, line,
                              "the spectrum has steps of %u nm; 5, 10 or 20 are understood: export it so, or "
                              "as LAB_L LAB_A LAB_B under D50",
                              columns->step_nm);
    if (columns->first_nm > 400 || last < 700)
        return tdm_cgats_fail(in, line, "the spectrum reaches from %u to %u nm; 400 to 700 are needed",
                              columns->first_nm, last);
    if (columns->first_nm % 5 != 0)
        return tdm_cgats_fail(in, line, "the spectrum begins at %u nm; a multiple of 5 is needed",
                              columns->first_nm);
    return TDM_OK;
}

static tdm_code find_bands(const tdm_cgats *in, const tdm_span *names, size_t count, unsigned line,
                           tdm_reference_columns *columns)
{
    unsigned last = 0;
    columns->band_count = 0;
    for (size_t i = 0; i < count; i++) {
        const unsigned nm = wavelength(names[i]);
        if (nm == 0)
            continue;
        if (columns->band_count == 0)
            columns->first_nm = nm;
        if (columns->band_count == 1)
            columns->step_nm = nm > last ? nm - last : 0;
        if (columns->band_count > 0 && (nm <= last || nm - last != columns->step_nm))
            return tdm_cgats_fail(in, line,
                                  "the spectrum's columns go from %u to %u nm; even, rising steps are needed",
                                  last, nm);
        if (columns->band_count == TDM_SPECTRUM_BANDS)
            return tdm_cgats_fail(in, line, "the spectrum has more than %d columns", TDM_SPECTRUM_BANDS);
        columns->band[columns->band_count++] = i;
        last = nm;
    }
    return columns->band_count == 0 ? TDM_OK : check_bands(in, line, columns, last);
}

tdm_code tdm_reference_columns_read(const tdm_cgats *in, const tdm_span *names, size_t count, unsigned line,
                                    tdm_reference_columns *out)
{
    static const char *const lab[3] = {"LAB_L", "LAB_A", "LAB_B"}, *const xyz[3] = {"XYZ_X", "XYZ_Y",
                                                                                    "XYZ_Z"};
    bool twice = false;
    out->count = count;
    out->id = find(names, count, "SAMPLE_ID", &twice);
    out->name = find(names, count, "SAMPLE_NAME", &twice);
    if (out->id == none && out->name == none)
        return tdm_cgats_fail(in, line, "there is neither a SAMPLE_ID nor a SAMPLE_NAME column");
    const tdm_code code = find_bands(in, names, count, line, out);
    if (code != TDM_OK)
        return code;
    if (out->band_count > 0)
        out->kind = TDM_COLUMNS_SPECTRUM;
    else if (find_three(names, count, lab, out->colour, &twice))
        out->kind = TDM_COLUMNS_LAB;
    else if (find_three(names, count, xyz, out->colour, &twice))
        out->kind = TDM_COLUMNS_XYZ;
    else
        return tdm_cgats_fail(
            in, line,
            "there are no columns LAB_L LAB_A LAB_B, XYZ_X XYZ_Y XYZ_Z or SPECTRAL_NM380 …; "
            "export the measurement with one of them");
    return twice ? tdm_cgats_fail(in, line, "a column that is needed stands there twice") : TDM_OK;
}
