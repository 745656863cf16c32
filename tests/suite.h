/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One Check program: a list of tests and a main. */
#ifndef TESTS_SUITE_H
#define TESTS_SUITE_H

#include <check.h>
#include <gsl/gsl_errno.h>
#include <stdlib.h>

/* tests: NULL-terminated. */
static inline int run_suite(const char *name, const TTest *const *tests)
{
    Suite *suite = suite_create(name);
    TCase *all = tcase_create(name);
    tcase_set_timeout(all, 120);
    for (; *tests; tests++)
        tcase_add_test(all, *tests);
    suite_add_tcase(suite, all);
    SRunner *runner = srunner_create(suite);
    (void)gsl_set_error_handler_off(); /* as the library does on reading */
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

#endif
