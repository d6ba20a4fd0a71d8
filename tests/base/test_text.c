#include <string.h>

#include "base/text.h"
#include "support/cases.h"
#include "support/failing_allocator.h"

static void text_done__of_nothing_is_empty(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct text text;
  text_init(&text, arena);
  assert_string_equal(text_done(&text), "");
  text_add(&text, "");
  assert_string_equal(text_done(&text), "");
  arena_free(arena);
}

static void text_add__grows_without_losing_a_byte(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct text text;
  text_init(&text, arena);
  for (int i = 0; i < 10000; i++) text_add_char(&text, (char)('a' + i % 26));
  assert_int_equal(text.n, 10000);
  const char *done = text_done(&text);
  assert_int_equal(strlen(done), 10000);
  for (int i = 0; i < 10000; i++) assert_int_equal(done[i], 'a' + i % 26);
  arena_free(arena);
}

/* Lengths around the first room and its doubles, where an off-by-one would show. */
static void text_add_bytes__fits_at_every_length(void **state) {
  (void)state;
  static char bytes[300];
  memset(bytes, 'x', sizeof bytes);
  for (size_t n = 0; n < sizeof bytes; n++) {
    struct arena *arena = arena_new(NULL);
    struct text text;
    text_init(&text, arena);
    text_add_bytes(&text, bytes, n);
    text_format(&text, "%s|", "");
    assert_int_equal(strlen(text_done(&text)), n + 1);
    arena_free(arena);
  }
}

static void text_format__fills_in(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct text text;
  text_init(&text, arena);
  text_format(&text, "%s:%d:%zu%c", "a.yaml", -3, (size_t)7, '!');
  assert_string_equal(text_done(&text), "a.yaml:-3:7!");
  arena_free(arena);
}

static void text_done__is_null_once_memory_ran_out(void **state) {
  (void)state;
  struct failing_allocator heap;
  failing_allocator_init(&heap, 3, false);
  struct arena *arena = arena_new(&heap.allocator);
  struct text text;
  text_init(&text, arena);
  for (int i = 0; i < 100; i++) text_format(&text, "%d", i);
  text_number(&text, 1);
  assert_null(text_done(&text));
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(text_done__of_nothing_is_empty),
      cmocka_unit_test(text_add__grows_without_losing_a_byte),
      cmocka_unit_test(text_add_bytes__fits_at_every_length),
      cmocka_unit_test(text_format__fills_in),
      cmocka_unit_test(text_done__is_null_once_memory_ran_out),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
