/* What every unit test includes, in the order that cmocka needs. */
#ifndef TESTS_UNIT_TEST_H
#define TESTS_UNIT_TEST_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Functions, not macros, so that a check in a loop stays one statement. */
static inline void
check_close(double value, double wanted, double tolerance, const char *text,
    const char *file, int line)
{
	if (fabs(value - wanted) <= tolerance)
		return;
	print_error("%s is %.10g, wanted %.10g (within %g)\n", text, value,
	    wanted, tolerance);
	_fail(file, line);
}

static inline void
check_nan(double value, const char *text, const char *file, int line)
{
	if (isnan(value))
		return;
	print_error("%s is %.10g, wanted NaN\n", text, value);
	_fail(file, line);
}

static inline void
check_contains(const char *text, const char *part, const char *file, int line)
{
	if (strstr(text, part) != NULL)
		return;
	print_error("\"%s\" does not contain \"%s\"\n", text, part);
	_fail(file, line);
}

/* Random cases to run: all, or a twentieth under valgrind, which is slow. */
static inline int
rounds(int all)
{
	return getenv("LULL_VALGRIND") != NULL ? all / 20 : all;
}

/* Doubles within a tolerance; a NaN is close to nothing. */
#define assert_close(value, wanted, tolerance)                                 \
	check_close((value), (wanted), (tolerance), #value, __FILE__, __LINE__)

#define assert_nan(value) check_nan((value), #value, __FILE__, __LINE__)

#define assert_contains(text, part)                                            \
	check_contains((text), (part), __FILE__, __LINE__)

/* Runs the group; the exit code is the number of failures. */
#define RUN_TESTS(tests)                                                       \
	cmocka_run_group_tests_name(__FILE__, tests, NULL, NULL)

#endif
