/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words by which files call the patches. */
#include "colour/reference_parts.h"
#include "colour/target.h"

static char letter(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static bool kept(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
}

/* Letters and digits alike; a remark in brackets ends the word. The white and black patches may go without
 * their number. */
static bool same_name(tdm_span word, const char *name)
{
    size_t i = 0;
    const char *at = name;
    for (;;) {
        while (i < word.size && word.at[i] != '(' && !kept(letter(word.at[i])))
            i++;
        while (*at && !kept(*at))
            at++;
        const bool ended = i == word.size || word.at[i] == '(';
        if (ended)
            return !*at || ((name[0] == 'w' || name == tdm_patch_names[TDM_PATCHES - 1]) && *at <= '9');
        if (letter(word.at[i]) != *at)
            return false;
        i++;
        at++;
    }
}

static int patch_by_name(tdm_span word)
{
    for (int i = 0; word.size > 0 && i < TDM_PATCHES; i++) {
        if (same_name(word, tdm_patch_names[i]))
            return i;
    }
    return -1;
}

static int patch_by_number(tdm_span word)
{
    unsigned number;
    return tdm_span_count(word, &number) && number >= 1 && number <= TDM_PATCHES ? (int)number - 1 : -1;
}

/* A letter, then a digit that may have a zero before it. */
static bool grid(tdm_span word, int *by_letter, int *by_digit)
{
    unsigned number;
    if (word.size < 2 || word.size > 3 || !tdm_span_count((tdm_span){word.at + 1, word.size - 1}, &number))
        return false;
    *by_letter = letter(word.at[0]) - 'a';
    *by_digit = (int)number - 1;
    return *by_letter >= 0 && *by_letter < TDM_TARGET_COLUMNS && *by_digit >= 0 &&
           *by_digit < TDM_TARGET_COLUMNS && (*by_letter < TDM_TARGET_ROWS || *by_digit < TDM_TARGET_ROWS);
}

tdm_patch_ids tdm_patch_id_kind(tdm_span word)
{
    int by_letter, by_digit;
    if (patch_by_number(word) >= 0)
        return TDM_IDS_NUMBER;
    if (patch_by_name(word) >= 0)
        return TDM_IDS_NAME;
    if (!grid(word, &by_letter, &by_digit))
        return TDM_IDS_UNKNOWN;
    if (by_letter >= TDM_TARGET_ROWS)
        return TDM_IDS_COLUMN_ROW;
    return by_digit >= TDM_TARGET_ROWS ? TDM_IDS_ROW_COLUMN : TDM_IDS_GRID;
}

int tdm_patch_of(tdm_span word, tdm_patch_ids kind)
{
    int by_letter, by_digit;
    if (kind == TDM_IDS_NUMBER)
        return patch_by_number(word);
    if (kind == TDM_IDS_NAME)
        return patch_by_name(word);
    if (!grid(word, &by_letter, &by_digit))
        return -1;
    if (kind == TDM_IDS_ROW_COLUMN)
        return by_letter < TDM_TARGET_ROWS ? by_letter * TDM_TARGET_COLUMNS + by_digit : -1;
    return by_digit < TDM_TARGET_ROWS ? by_digit * TDM_TARGET_COLUMNS + by_letter : -1;
}
