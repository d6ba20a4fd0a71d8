#include "support/failing_allocator.h"

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
