/* libyaml takes memory by itself, past our allocator. Its own taking functions are replaced here,
 * so that each can fail. */
#include <stdlib.h>
#include <string.h>

#include "input/node.h"
#include "support/cases.h"

#define SEEN_BY_LIBYAML __attribute__((visibility("default")))
SEEN_BY_LIBYAML void *yaml_malloc(size_t size);
SEEN_BY_LIBYAML void *yaml_realloc(void *piece, size_t size);

static size_t calls, fail_at;

void *yaml_malloc(size_t size) {
  return ++calls == fail_at ? NULL : malloc(size != 0 ? size : 1);
}

void *yaml_realloc(void *piece, size_t size) {
  if (++calls == fail_at) return NULL;
  return piece != NULL ? realloc(piece, size != 0 ? size : 1) : malloc(size != 0 ? size : 1);
}

static bool is_read(void) {
  static const char yaml[] =
      "- {a: [1, 'x', \"y\\n\"], b: a rather long plain text}\n- >-\n  c\n- ? d\n  : e\n";
  struct arena *arena = arena_new(NULL);
  struct source source = {.name = "a.yaml", .bytes = yaml, .n = sizeof yaml - 1};
  struct diags diags;
  diags_init(&diags, arena);
  calls = 0;
  bool read = node_read(arena, &source, &diags) != NULL;
  bool failed = fail_at != 0 && calls >= fail_at;
  assert_int_equal(read, !failed);
  assert_int_equal(diags.no_memory, failed);
  if (failed) {
    assert_int_equal(diags.list.n, 1);
    assert_int_equal(diags.list.at[0].code, DIAG_NO_MEMORY);
  }
  arena_free(arena);
  return read;
}

static void node_read__libyaml_may_run_out_of_memory_at_any_call(void **state) {
  (void)state;
  for (fail_at = 1; !is_read(); fail_at++) {
  }
  assert_true(fail_at > 20);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(node_read__libyaml_may_run_out_of_memory_at_any_call),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
