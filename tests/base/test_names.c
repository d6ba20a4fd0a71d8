#include <stdio.h>
#include <string.h>

#include "base/names.h"
#include "support/cases.h"
#include "support/failing_allocator.h"

#define MANY 5000

static void names_find__finds_each_of_many(void **state) {
  (void)state;
  static char keys[MANY][12];
  struct arena *arena = arena_new(NULL);
  struct names *names = names_new(arena);
  for (uint32_t i = 0; i < MANY; i++) {
    snprintf(keys[i], sizeof keys[i], "name_%u", (unsigned)i);
    assert_int_equal(names_find(names, keys[i], strlen(keys[i])), NAMES_NONE);
    assert_int_equal(names_add(names, keys[i], strlen(keys[i]), i), i);
  }
  for (uint32_t i = 0; i < MANY; i++)
    assert_int_equal(names_find(names, keys[i], strlen(keys[i])), i);
  arena_free(arena);
}

static void names_add__a_known_name_keeps_its_index(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct names *names = names_new(arena);
  assert_int_equal(names_add(names, "face", 4, 3), 3);
  assert_int_equal(names_add(names, "face to", 4, 9), 3);
  assert_int_equal(names_find(names, "face", 4), 3);
  arena_free(arena);
}

static void names_find__length_and_every_byte_count(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct names *names = names_new(arena);
  names_add(names, "a\0b", 3, 1);
  names_add(names, "", 0, 2);
  assert_int_equal(names_find(names, "a\0c", 3), NAMES_NONE);
  assert_int_equal(names_find(names, "a", 1), NAMES_NONE);
  assert_int_equal(names_find(names, "a\0b", 3), 1);
  assert_int_equal(names_find(names, "", 0), 2);
  arena_free(arena);
}

static void names_add__no_memory_is_told_and_the_rest_stays(void **state) {
  (void)state;
  static const char *const keys[] = {"a", "b", "c", "d", "e", "f", "g", "h",
                                     "i", "j", "k", "l", "m", "n", "o", "p"};
  for (size_t n = 2; n < 4; n++) {
    struct failing_allocator heap;
    failing_allocator_init(&heap, n, true);
    struct arena *arena = arena_new(&heap.allocator);
    assert_null(names_new(arena));
    arena_free(arena);
  }
  struct failing_allocator heap;
  failing_allocator_init(&heap, 4, true);
  struct arena *arena = arena_new(&heap.allocator);
  struct names *names = names_new(arena);
  uint32_t added = 0;
  while (added < COUNT_OF(keys) && names_add(names, keys[added], 1, added) == added) added++;
  assert_true(added > 0 && added < COUNT_OF(keys));
  for (uint32_t i = 0; i < added; i++) assert_int_equal(names_find(names, keys[i], 1), i);
  assert_int_equal(names_find(names, keys[added], 1), NAMES_NONE);
  arena_free(arena);
}

/* The values are those published with the hash (FNV-1a, 64 bits). */
static void digest_bytes__has_the_published_values(void **state) {
  (void)state;
  assert_true(digest_bytes(DIGEST_START, "", 0) == UINT64_C(0xcbf29ce484222325));
  assert_true(digest_bytes(DIGEST_START, "a", 1) == UINT64_C(0xaf63dc4c8601ec8c));
  assert_true(digest_bytes(DIGEST_START, "foobar", 6) == UINT64_C(0x85944171f73967e8));
}

static void digest_bytes__parts_give_the_digest_of_the_whole(void **state) {
  (void)state;
  uint64_t parts = digest_bytes(digest_bytes(DIGEST_START, "club ", 5), "path", 4);
  assert_true(parts == digest_bytes(DIGEST_START, "club path", 9));
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(names_find__finds_each_of_many),
      cmocka_unit_test(names_add__a_known_name_keeps_its_index),
      cmocka_unit_test(names_find__length_and_every_byte_count),
      cmocka_unit_test(names_add__no_memory_is_told_and_the_rest_stays),
      cmocka_unit_test(digest_bytes__has_the_published_values),
      cmocka_unit_test(digest_bytes__parts_give_the_digest_of_the_whole),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
