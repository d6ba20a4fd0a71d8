/* What every program of cases includes: cmocka with the headers it needs, and comparisons that say
 * more. Test code only. */
#ifndef TESTS_SUPPORT_CASES_H
#define TESTS_SUPPORT_CASES_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define COUNT_OF(array) (sizeof(array) / sizeof(array)[0])

#endif
