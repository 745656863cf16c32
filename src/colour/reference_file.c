/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A file of measured patches, CGATS.17. Why our own reader: METHODS.md. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/fail.h"
#include "base/file.h"
#include "colour/reference_rows.h"

typedef struct parser {
    tdm_cgats in;
    tdm_span names[TDM_CGATS_COLUMNS];
    tdm_reference_columns columns;
    tdm_reference_rows rows;
    bool has_format, has_data;
    int at[TDM_REFERENCE_PATCHES]; /* row of each patch */
    unsigned fields, sets;         /* as declared, 0 where not */
    unsigned fields_line, sets_line;
    unsigned light_line; /* 0 where light and observer fit or aren't stated */
    tdm_light_words light;
} parser;

static bool starts(tdm_span word, const char *with)
{
    const size_t size = strlen(with);
    return word.size >= size && tdm_span_is((tdm_span){word.at, size}, with);
}

static tdm_code read_first(tdm_cgats *in)
{
    static const char mark[] = "\xef\xbb\xbf"; /* of UTF-8 */
    if (in->end - in->next >= 3 && memcmp(in->next, mark, 3) == 0)
        in->next += 3;
    const tdm_code code = tdm_cgats_line(in);
    if (code != TDM_OK)
        return code;
    if (in->count == 0)
        return tdm_cgats_fail(in, in->line > 0 ? in->line : 1, "the file is empty");
    const tdm_span word = in->words[0];
    if (starts(word, "CGATS") || starts(word, "IT8.7") || starts(word, "ISO28178"))
        return TDM_OK;
    return tdm_cgats_fail(in, in->line,
                          "isn't a file of measured patches: its first word must be CGATS.17; export the "
                          "measurement as CGATS text");
}

/* Between BEGIN_DATA_FORMAT, which was just read, and END_DATA_FORMAT. */
static tdm_code read_format(parser *file)
{
    tdm_cgats *in = &file->in;
    const unsigned line = in->line;
    size_t count = 0, word = 1;
    if (file->has_format)
        return tdm_cgats_fail(in, line, "begins a second table; leave one in the file");
    for (;;) {
        for (; word < in->count; word++) {
            if (tdm_span_is(in->words[word], "END_DATA_FORMAT")) {
                file->has_format = true;
                return tdm_reference_columns_read(in, file->names, count, line, &file->columns);
            }
            if (count == TDM_CGATS_COLUMNS)
                return tdm_cgats_fail(in, in->line, "is past %d columns", TDM_CGATS_COLUMNS);
            file->names[count++] = in->words[word];
        }
        const tdm_code code = tdm_cgats_line(in);
        if (code != TDM_OK)
            return code;
        if (in->count == 0)
            return tdm_cgats_fail(in, in->line, "the file ends without END_DATA_FORMAT");
        word = 0;
    }
}

static tdm_code read_data(parser *file)
{
    tdm_cgats *in = &file->in;
    if (!file->has_format)
        return tdm_cgats_fail(in, in->line,
                              "the data begins before BEGIN_DATA_FORMAT says what its columns are");
    if (file->has_data)
        return tdm_cgats_fail(in, in->line, "begins a second table; leave one in the file");
    if (in->count > 1)
        return tdm_cgats_fail(in, in->line, "BEGIN_DATA must stand alone on its line");
    file->has_data = true;
    for (;;) {
        tdm_code code = tdm_cgats_line(in);
        if (code != TDM_OK)
            return code;
        if (in->count == 0)
            return tdm_cgats_fail(in, in->line, "the file ends without END_DATA");
        if (tdm_span_is(in->words[0], "END_DATA"))
            return TDM_OK;
        code = tdm_reference_row(in, &file->columns, &file->rows);
        if (code != TDM_OK)
            return code;
    }
}

static tdm_code read_number(const tdm_cgats *in, unsigned *out)
{
    if (in->count == 2 && tdm_span_count(in->words[1], out) && *out > 0)
        return TDM_OK;
    return tdm_cgats_fail(in, in->line, "must give one whole number above 0");
}

static tdm_code read_table(parser *file)
{
    const tdm_code code = read_data(file);
    return code == TDM_OK ? tdm_reference_assign(&file->in, &file->rows, file->at) : code;
}

/* One line before the data. */
static tdm_code read_keyword(parser *file)
{
    tdm_cgats *in = &file->in;
    const tdm_span key = in->words[0];
    if (tdm_span_is(key, "BEGIN_DATA_FORMAT"))
        return read_format(file);
    if (tdm_span_is(key, "BEGIN_DATA"))
        return read_table(file);
    if (tdm_span_is(key, "NUMBER_OF_SETS")) {
        file->sets_line = in->line;
        return read_number(in, &file->sets);
    }
    if (tdm_span_is(key, "NUMBER_OF_FIELDS")) {
        file->fields_line = in->line;
        return read_number(in, &file->fields);
    }
    const tdm_light_words light = tdm_cgats_light(in);
    if (light != TDM_LIGHT_FITS && file->light_line == 0) {
        file->light = light;
        file->light_line = in->line;
    }
    return TDM_OK;
}

/* What can only be told when all is read. */
static tdm_code check_words(const parser *file)
{
    const tdm_cgats *in = &file->in;
    if (!file->has_data)
        return tdm_cgats_fail(in, in->line, "the file ends without BEGIN_DATA");
    if (file->fields > 0 && file->fields != file->columns.count)
        return tdm_cgats_fail(in, file->fields_line, "says %u columns where the format has %zu", file->fields,
                              file->columns.count);
    if (file->sets > 0 && file->sets != file->rows.count)
        return tdm_cgats_fail(in, file->sets_line, "says %u rows where the data has %zu", file->sets,
                              file->rows.count);
    if (file->light_line == 0 || file->columns.kind == TDM_COLUMNS_SPECTRUM)
        return TDM_OK;
    return tdm_cgats_fail(
        in, file->light_line,
        file->light == TDM_LIGHT_OTHER
            ? "states colours under another light than D50; export them under D50, or as spectra"
            : "states another observer than 2 degrees; export for 2 degrees, or as spectra");
}

static tdm_code read_all(parser *file, double lab[TDM_REFERENCE_PATCHES][3])
{
    tdm_cgats *in = &file->in;
    tdm_code code = read_first(in);
    if (code == TDM_OK)
        code = tdm_cgats_line(in);
    while (code == TDM_OK && in->count > 0) {
        code = read_keyword(file);
        if (code == TDM_OK)
            code = tdm_cgats_line(in);
    }
    if (code == TDM_OK)
        code = check_words(file);
    if (code == TDM_OK)
        code = tdm_reference_colours(in, &file->columns, &file->rows, file->at, lab);
    if (code != TDM_OK)
        return code;
    unsigned lines[TDM_REFERENCE_PATCHES];
    for (int i = 0; i < TDM_REFERENCE_PATCHES; i++)
        lines[i] = file->rows.line[file->at[i]];
    return tdm_reference_check(in, lab, lines);
}

tdm_code tdm_reference_parse(const char *data, size_t size, const char *file, tdm_reference *out,
                             tdm_error *error)
{
    parser *all = calloc(1, sizeof *all);
    if (!all)
        return tdm_fail_memory(error, file);
    all->in = (tdm_cgats){.next = data, .end = data + size, .file = file, .error = error};
    tdm_reference read = {.measured = true};
    const tdm_code code = read_all(all, read.lab);
    free(all);
    if (code != TDM_OK)
        return code;
    (void)snprintf(read.note, sizeof read.note, "%s", tdm_file_name(file));
    *out = read;
    return TDM_OK;
}

tdm_code tdm_reference_load(const char *path, const tdm_limits *limits, tdm_reference *out, tdm_error *error)
{
    tdm_bytes bytes = {0};
    tdm_code code = tdm_file_read(path, limits->marks_bytes, &bytes, error);
    if (code != TDM_OK)
        return code;
    code = tdm_reference_parse((const char *)bytes.data, bytes.size, path, out, error);
    free(bytes.data);
    return code;
}
