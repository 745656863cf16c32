/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/csv_row.h"

#include <string.h>

#include "base/fail.h"
#include "report/plain.h"

static void begin_cell(tdm_csv *csv)
{
    if (csv->cells++ > 0)
        tdm_text_add(&csv->text, ",");
}

void tdm_csv_word(tdm_csv *csv, const char *word)
{
    begin_cell(csv);
    if (!word)
        return;
    tdm_text valid = {0};
    tdm_add_valid(&valid, word);
    const char *plain = valid.data ? valid.data : "";
    const bool quote = plain[strcspn(plain, ",\"\r\n")] != '\0';
    if (quote)
        tdm_text_add(&csv->text, "\"");
    for (const char *at = plain; *at; at++)
        tdm_text_add(&csv->text, *at == '"' ? "\"\"" : (char[]){*at, '\0'});
    if (quote)
        tdm_text_add(&csv->text, "\"");
    csv->text.failed = csv->text.failed || valid.failed;
    tdm_text_free(&valid);
}

void tdm_csv_number(tdm_csv *csv, double value)
{
    begin_cell(csv);
    tdm_add_short(&csv->text, value);
}

void tdm_csv_heading(tdm_csv *csv, const char *prefix, const char *name, const char *suffix)
{
    begin_cell(csv);
    tdm_text_add(&csv->text, prefix);
    tdm_text_add(&csv->text, name);
    tdm_text_add(&csv->text, suffix);
}

void tdm_csv_end_row(tdm_csv *csv)
{
    tdm_text_add(&csv->text, "\r\n");
    csv->cells = 0;
}

tdm_code tdm_csv_finish(tdm_csv *csv, char **out, tdm_error *error)
{
    if (csv->text.failed || !csv->text.data) {
        tdm_text_free(&csv->text);
        return tdm_fail_memory(error, NULL);
    }
    *out = csv->text.data;
    return TDM_OK;
}
