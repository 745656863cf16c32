/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Allocations that fail on demand. The linker's --wrap sends the calls of the library and of the test here.
 */
#ifndef TESTS_FAILING_H
#define TESTS_FAILING_H

#include <stdbool.h>
#include <stddef.h>

/* The allocation after `count` others returns NULL, once; a negative count lets all succeed. */
void fail_allocation(long count);
/* Whether the last one asked for is still to come. */
bool failure_is_due(void);

/* For libraries that take an allocator. */
void *__wrap_malloc(size_t size);

#endif
