/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One Check program: a list of tests and a main. */
#ifndef TESTS_SUITE_H
#define TESTS_SUITE_H

#include <check.h>
#include <gsl/gsl_errno.h>
#include <stdlib.h>

/* A case with time enough for a slow machine under a sanitizer. */
static inline TCase *patient_case(const char *name)
{
    TCase *all = tcase_create(name);
    tcase_set_timeout(all, 300);
    return all;
}

/* The exit status of main. */
static inline int run_case(const char *name, TCase *all)
{
    Suite *suite = suite_create(name);
    suite_add_tcase(suite, all);
    SRunner *runner = srunner_create(suite);
    (void)gsl_set_error_handler_off(); /* as the library does on reading */
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

/* tests: NULL-terminated. */
static inline int run_suite(const char *name, const TTest *const *tests)
{
    TCase *all = patient_case(name);
    for (; *tests; tests++)
        tcase_add_test(all, *tests);
    return run_case(name, all);
}

#endif
