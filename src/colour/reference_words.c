/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the lines before the data say of light and observer. */
#include "colour/reference_parts.h"

static bool letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}

static bool digit(char c)
{
    return c >= '0' && c <= '9';
}

/* The text behind a word that begins with `start`, that word's own rest skipped; at is NULL where it isn't
 * there.
 */
static tdm_span behind(tdm_span text, const char *start, size_t size)
{
    for (size_t i = 0; i + size <= text.size; i++) {
        if (!tdm_span_is((tdm_span){text.at + i, size}, start))
            continue;
        i += size;
        while (i < text.size && letter(text.at[i]))
            i++;
        return (tdm_span){text.at + i, text.size - i};
    }
    return (tdm_span){0};
}

/* The first run of letters and digits, or of digits only. */
static tdm_span first_run(tdm_span text, bool digits_only)
{
    size_t from = 0;
    while (from < text.size && !digit(text.at[from]) && (digits_only || !letter(text.at[from])))
        from++;
    size_t to = from;
    while (to < text.size && (digit(text.at[to]) || (!digits_only && letter(text.at[to]))))
        to++;
    return (tdm_span){text.at + from, to - from};
}

static bool states_light(tdm_span key)
{
    static const char *const keys[] = {"WEIGHTING_FUNCTION", "COMPUTATIONAL_PARAMETER", "MEASUREMENT_SOURCE"};
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        if (tdm_span_is(key, keys[i]))
            return true;
    }
    return (key.size >= 8 && tdm_span_is((tdm_span){key.at, 8}, "ILLUMINA")) ||
           (key.size >= 8 && tdm_span_is((tdm_span){key.at, 8}, "OBSERVER"));
}

static bool is_d50(tdm_span word)
{
    return tdm_span_is(word, "D50") || tdm_span_is(word, "D5000");
}

static bool is_2_degrees(tdm_span word)
{
    return tdm_span_is(word, "2") || tdm_span_is(word, "02") || tdm_span_is(word, "1931");
}

tdm_light_words tdm_cgats_light(const tdm_cgats *in)
{
    if (in->count == 0 || !states_light(in->words[0]))
        return TDM_LIGHT_FITS;
    const tdm_span last = in->words[in->count - 1];
    const tdm_span text = {in->words[0].at, (size_t)(last.at + last.size - in->words[0].at)};
    const tdm_span light = behind(text, "ILLUMINA", 8), observer = behind(text, "OBSERVER", 8);
    if (light.at && !is_d50(first_run(light, false)))
        return TDM_LIGHT_OTHER;
    if (observer.at && !is_2_degrees(first_run(observer, true)))
        return TDM_OBSERVER_OTHER;
    return TDM_LIGHT_FITS;
}
