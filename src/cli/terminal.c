/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "terminal.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/ioctl.h>
#include <unistd.h>

static const char *environment(const char *name)
{
    const char *value = getenv(name);
    return value ? value : "";
}

/* Strings only: setlocale would change how numbers are written. */
static bool has_utf8(void)
{
    static const char *const names[] = {"LC_ALL", "LC_CTYPE", "LANG"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        const char *value = environment(names[i]);
        if (!value[0])
            continue;
        const char *set = strchr(value, '.');
        return set && (strncasecmp(set + 1, "UTF-8", 5) == 0 || strncasecmp(set + 1, "UTF8", 4) == 0);
    }
    return false;
}

static bool on_terminal(const tdm_options *options)
{
    return !options->outputs[TDM_OUTPUT_RESULT] && isatty(STDOUT_FILENO);
}

static bool wants_colour(const tdm_options *options)
{
    if (options->colour != TDM_WHEN_AUTO)
        return options->colour == TDM_WHEN_ALWAYS;
    return on_terminal(options) && !environment("NO_COLOR")[0] && strcmp(environment("TERM"), "dumb") != 0;
}

static unsigned wanted_width(const tdm_options *options)
{
    struct winsize size = {0};
    if (options->width > 0)
        return options->width;
    if (on_terminal(options) && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
        return size.ws_col < 40 ? 40 : size.ws_col > 200 ? 200 : size.ws_col;
    return 80;
}

tdm_text_style tdm_terminal_style(const tdm_options *options)
{
    const char *depth = environment("COLORTERM");
    const bool colour = wants_colour(options);
    return (tdm_text_style){
        .colour = colour,
        .truecolour = colour && (strcmp(depth, "truecolor") == 0 || strcmp(depth, "24bit") == 0),
        .unicode = has_utf8(),
        .width = wanted_width(options),
    };
}

bool tdm_terminal_shows_report(const tdm_options *options)
{
    return options->format == TDM_FORMAT_TEXT && on_terminal(options) && isatty(STDERR_FILENO);
}
