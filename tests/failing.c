/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "failing.h"

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *memory, size_t size);
char *__real_strdup(const char *string);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *memory, size_t size);
char *__wrap_strdup(const char *string);

static long left = -1; /* allocations until one fails; below zero none does */

void fail_allocation(long count)
{
    left = count;
}

bool failure_is_due(void)
{
    return left >= 0;
}

static bool fails(void)
{
    return left >= 0 && left-- == 0;
}

void *__wrap_malloc(size_t size)
{
    return fails() ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size)
{
    return fails() ? NULL : __real_calloc(count, size);
}

void *__wrap_realloc(void *memory, size_t size)
{
    return fails() ? NULL : __real_realloc(memory, size);
}

char *__wrap_strdup(const char *string)
{
    return fails() ? NULL : __real_strdup(string);
}
