/* An allocator that fails at the n-th taking, and knows what has not been given back.
 * Its arenas take every piece from it, so that each taking can be made the failing one. Test code
 * only; one thread. */
#ifndef TESTS_SUPPORT_FAILING_ALLOCATOR_H
#define TESTS_SUPPORT_FAILING_ALLOCATOR_H

#include <stdbool.h>
#include <stddef.h>

#include "base/allocator.h"
#include "whymiss.h"

struct failing_allocator {
  struct wm_allocator allocator; /* give this to the code under test */
  size_t calls;                  /* takings so far */
  size_t fail_at;                /* the taking that fails, counted from 1; 0: none */
  bool for_good;                 /* all later takings fail too */
  size_t bytes;                  /* taken and not given back */
  size_t most;                   /* the highest value of bytes */
};

/* Sets one up that fails at the n-th taking. It must not move while in use. */
void failing_allocator_init(struct failing_allocator *failing, size_t n, bool for_good);
/* True when the failing taking was reached: run the code again with n + 1 until this is false. */
bool failing_allocator_reached(const struct failing_allocator *failing);

/* Runs the use again and again, letting the next taking fail each time (for_good: and all after
 * it), until none does. Asserts that each failure gives WM_INTERNAL, that nothing is left taken,
 * and that the last use gives WM_OK. Returns how many takings there are. */
size_t fail_at_each_taking(bool for_good,
                           enum wm_status (*use)(const struct wm_allocator *allocator,
                                                 void *context),
                           void *context);

#endif
