/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading JSON values with errors that name their key. */
#ifndef TDM_MARKS_JSON_WALK_H
#define TDM_MARKS_JSON_WALK_H

#include <jansson.h>

#include "marks/marks.h"

enum { TDM_KEY_PATH = 128 };

/* What every parsing step needs to know. */
typedef struct tdm_marks_reader {
    const char *file;
    const tdm_limits *limits;
    double width, height; /* of the picture, 0 while unknown */
    tdm_warnings *warnings;
    tdm_error *error;
} tdm_marks_reader;

/* "zones[1]" and "path" make "zones[1].path"; an empty parent gives the key alone. */
void tdm_key_child(char out[TDM_KEY_PATH], const char *parent, const char *key);
void tdm_key_item(char out[TDM_KEY_PATH], const char *parent, size_t index);

/* TDM_ERR_FORMAT at a key. */
tdm_code tdm_key_fail(const tdm_marks_reader *reader, const char *key, const char *what);

/* A whole file of at most marks_bytes, in which no name comes twice in an object. what: "a marks file".
 * Errors name line and column. *out is a new reference. */
TDM_MUST_CHECK tdm_code tdm_read_json(const tdm_marks_reader *reader, const char *data, size_t size,
                                      const char *what, json_t **out);
/* The other way, indented by two, with so many significant digits; *out to be freed with tdm_free. */
TDM_MUST_CHECK tdm_code tdm_write_json(const json_t *root, size_t digits, char **out, tdm_error *error);
/* A finite number. */
TDM_MUST_CHECK tdm_code tdm_read_number(const tdm_marks_reader *reader, const json_t *value, const char *key,
                                        double *out);
/* [x, y], inside the picture (edges included). */
TDM_MUST_CHECK tdm_code tdm_read_point(const tdm_marks_reader *reader, const json_t *value, const char *key,
                                       double out[2]);
/* A list of at least `least` points. */
TDM_MUST_CHECK tdm_code tdm_read_points(const tdm_marks_reader *reader, const json_t *value, const char *key,
                                        size_t least, tdm_polyline *out);
/* The list under a key, of at most `most` entries: NULL where there is none. */
TDM_MUST_CHECK tdm_code tdm_read_list(const tdm_marks_reader *reader, const json_t *root, const char *key,
                                      uint32_t most, const json_t **out);
/* A printable name of 1 to `most` bytes, copied. */
TDM_MUST_CHECK tdm_code tdm_read_name(const tdm_marks_reader *reader, const json_t *value, const char *key,
                                      size_t most, char **out);
/* Printable text of less than `room` bytes, which may be empty. */
TDM_MUST_CHECK tdm_code tdm_read_words(const tdm_marks_reader *reader, const json_t *value, const char *key,
                                       char *out, size_t room);
/* Without control characters. */
bool tdm_printable(const char *text);
/* Text that a file's name or another file brings, at most 255 bytes of it, as tdm_read_words takes it back:
 * it may be in any encoding. NULL when out of memory. */
json_t *tdm_words_json(const char *text);
/* Warns of keys that aren't in `known` (NULL-terminated). parent "" is the file itself. */
TDM_MUST_CHECK tdm_code tdm_warn_unknown(const tdm_marks_reader *reader, const json_t *object,
                                         const char *parent, const char *const *known);
/* The same of a value under a key that must be an object; what: the error's text where it isn't. */
TDM_MUST_CHECK tdm_code tdm_check_object(const tdm_marks_reader *reader, const json_t *value, const char *key,
                                         const char *what, const char *const *known);
/* One warning a file with that code, for the first such key: the rest is of the same kind. where: the
 * object's key, "" for the file; what: "level scale". */
TDM_MUST_CHECK tdm_code tdm_warn_unknown_once(const tdm_marks_reader *reader, json_t *object,
                                              const char *where, const char *const *known, const char *code,
                                              const char *what);

#endif
