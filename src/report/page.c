/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/page.h"

#include <string.h>

#include "base/fail.h"
#include "report/plain.h"

tdm_page tdm_page_start(const tdm_text_style *style)
{
    tdm_page page = {.text = {0}, .style = *style};
    if (page.style.width < 40)
        page.style.width = 40;
    if (page.style.width > 200)
        page.style.width = 200;
    return page;
}

tdm_code tdm_page_finish(tdm_page *page, char **out, tdm_error *error)
{
    if (page->text.failed || !page->text.data) {
        tdm_text_free(&page->text);
        return tdm_fail_memory(error, NULL);
    }
    *out = page->text.data;
    return TDM_OK;
}

void tdm_page_line(tdm_page *page)
{
    tdm_text_add(&page->text, "\n");
}

void tdm_page_spaces(tdm_page *page, size_t count)
{
    for (size_t i = 0; i < count; i++)
        tdm_text_add(&page->text, " ");
}

/* Bytes of the first `columns` code points at most. */
static size_t bytes_of_columns(const char *string, size_t bytes, size_t columns)
{
    size_t at = 0;
    while (at < bytes && (columns > 0 || ((unsigned char)string[at] & 0xC0) == 0x80)) {
        if (((unsigned char)string[at] & 0xC0) != 0x80)
            columns--;
        at++;
        while (at < bytes && ((unsigned char)string[at] & 0xC0) == 0x80)
            at++;
    }
    return at;
}

typedef struct wrap {
    tdm_page *page;
    size_t indent;
    size_t column;
    bool fresh; /* nothing but the indent on this line */
} wrap;

static void next_line(wrap *it)
{
    tdm_page_line(it->page);
    tdm_page_spaces(it->page, it->indent);
    it->column = it->indent;
    it->fresh = true;
}

static void put_word(wrap *it, const char *word, size_t bytes)
{
    const size_t columns = tdm_columns(word, bytes);
    if (!it->fresh && it->column + 1 + columns > it->page->style.width)
        next_line(it);
    if (!it->fresh) {
        tdm_text_add(&it->page->text, " ");
        it->column++;
    }
    /* A word longer than a line is cut into lines. */
    while (it->column + tdm_columns(word, bytes) > it->page->style.width) {
        const size_t cut = bytes_of_columns(word, bytes, it->page->style.width - it->column);
        tdm_text_add_bytes(&it->page->text, word, cut);
        next_line(it);
        word += cut;
        bytes -= cut;
    }
    tdm_text_add_bytes(&it->page->text, word, bytes);
    it->column += tdm_columns(word, bytes);
    it->fresh = false;
}

void tdm_page_wrap(tdm_page *page, const char *lead, size_t indent, const char *sentence)
{
    tdm_text clean = {0};
    tdm_add_printable(&clean, sentence, page->style.unicode);
    tdm_text_add(&page->text, lead);
    wrap it = {.page = page, .indent = indent, .column = tdm_columns(lead, strlen(lead)), .fresh = true};
    const char *at = clean.data ? clean.data : "";
    while (*at) {
        const size_t bytes = strcspn(at, " ");
        if (bytes > 0)
            put_word(&it, at, bytes);
        at += bytes;
        at += *at == ' ';
    }
    page->text.failed = page->text.failed || clean.failed;
    tdm_text_free(&clean);
    tdm_page_line(page);
}

void tdm_page_rule(tdm_page *page, const char *title)
{
    const char *dash = page->style.unicode ? "\u2500" : "-";
    tdm_text clean = {0};
    tdm_add_printable(&clean, title, page->style.unicode);
    const char *shown = clean.data ? clean.data : "";
    const size_t room = page->style.width - 6;
    const size_t cut = bytes_of_columns(shown, clean.size, room);
    tdm_page_bold(page);
    tdm_text_format(&page->text, "%s%s ", dash, dash);
    tdm_text_add_bytes(&page->text, shown, cut);
    tdm_text_add(&page->text, " ");
    for (size_t i = tdm_columns(shown, cut) + 4; i < page->style.width; i++)
        tdm_text_add(&page->text, dash);
    tdm_page_plain(page);
    tdm_page_line(page);
    page->text.failed = page->text.failed || clean.failed;
    tdm_text_free(&clean);
}
