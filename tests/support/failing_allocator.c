#include "support/failing_allocator.h"

#include "support/cases.h"

#include <stdlib.h>

static void *take(void *context, size_t size) {
  struct failing_allocator *failing = context;
  failing->calls++;
  bool late = failing->for_good && failing->calls > failing->fail_at;
  if (failing->fail_at != 0 && (failing->calls == failing->fail_at || late)) return NULL;
  failing->bytes += size;
  if (failing->bytes > failing->most) failing->most = failing->bytes;
  return malloc(size);
}

static void give_back(void *context, void *block, size_t size) {
  struct failing_allocator *failing = context;
  failing->bytes -= size;
  free(block);
}

void failing_allocator_init(struct failing_allocator *failing, size_t n, bool for_good) {
  *failing = (struct failing_allocator){
      .allocator = {take, give_back, failing, 1}, .fail_at = n, .for_good = for_good};
}

bool failing_allocator_reached(const struct failing_allocator *failing) {
  return failing->fail_at != 0 && failing->calls >= failing->fail_at;
}

size_t fail_at_each_taking(bool for_good,
                           enum wm_status (*use)(const struct wm_allocator *allocator,
                                                 void *context),
                           void *context) {
  for (size_t n = 1;; n++) {
    struct failing_allocator failing;
    failing_allocator_init(&failing, n, for_good);
    enum wm_status status = use(&failing.allocator, context);
    assert_int_equal(failing.bytes, 0);
    if (!failing_allocator_reached(&failing)) {
      assert_int_equal(status, WM_OK);
      return n - 1;
    }
    if (status != WM_INTERNAL) fail_msg("taking %zu failed, and the status is %d", n, (int)status);
  }
}
