#include <stdalign.h>
#include <string.h>

#include "base/arena.h"
#include "support/cases.h"
#include "support/failing_allocator.h"

static const size_t block_sizes[] = {0, 1, 8, 100, 4096};

static void arena_take__pieces_are_zeroed_aligned_and_apart(void **state) {
  (void)state;
  for (size_t b = 0; b < COUNT_OF(block_sizes); b++) {
    struct failing_allocator heap;
    failing_allocator_init(&heap, 0, false);
    heap.allocator.block = block_sizes[b];
    struct arena *arena = arena_new(&heap.allocator);
    unsigned char *pieces[200];
    for (size_t i = 0; i < 200; i++) {
      pieces[i] = arena_take(arena, i);
      assert_int_equal((uintptr_t)pieces[i] % alignof(max_align_t), 0);
      for (size_t j = 0; j < i; j++) assert_int_equal(pieces[i][j], 0);
      memset(pieces[i], (int)i, i);
    }
    for (size_t i = 0; i < 200; i++)
      for (size_t j = 0; j < i; j++) assert_int_equal(pieces[i][j], i);
    arena_free(arena);
    assert_int_equal(heap.bytes, 0);
  }
}

static void arena_take__a_block_of_one_makes_every_taking_its_own(void **state) {
  (void)state;
  struct failing_allocator heap;
  failing_allocator_init(&heap, 0, false);
  struct arena *arena = arena_new(&heap.allocator);
  size_t before = heap.calls;
  for (int i = 0; i < 10; i++) arena_take(arena, 3);
  assert_int_equal(heap.calls, before + 10);
  arena_free(arena);
}

static void arena_take__a_large_piece_leaves_the_common_block_in_use(void **state) {
  (void)state;
  struct failing_allocator heap;
  failing_allocator_init(&heap, 0, false);
  heap.allocator.block = 4096;
  struct arena *arena = arena_new(&heap.allocator);
  char *small = arena_take(arena, 16);
  assert_non_null(arena_take(arena, 100000));
  assert_ptr_equal((char *)arena_take(arena, 16), small + 16);
  assert_int_equal(heap.calls, 2);
  arena_free(arena);
}

static void arena_take__failure_is_remembered_until_reset(void **state) {
  (void)state;
  struct failing_allocator heap;
  failing_allocator_init(&heap, 2, false);
  struct arena *arena = arena_new(&heap.allocator);
  assert_false(arena_failed(arena));
  assert_null(arena_take(arena, 8));
  assert_non_null(arena_take(arena, 8));
  assert_true(arena_failed(arena));
  arena_reset(arena);
  assert_false(arena_failed(arena));
  arena_free(arena);
  assert_int_equal(heap.bytes, 0);
}

static void arena_take__impossible_sizes_fail(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  assert_null(arena_take(arena, SIZE_MAX));
  assert_null(arena_take(arena, SIZE_MAX - 8));
  assert_null(arena_take_many(arena, SIZE_MAX / 2, 3));
  assert_null(arena_copy(arena, "x", SIZE_MAX));
  assert_true(arena_failed(arena));
  arena_free(arena);
}

static void arena_new__no_memory_gives_null(void **state) {
  (void)state;
  struct failing_allocator heap;
  failing_allocator_init(&heap, 1, false);
  assert_null(arena_new(&heap.allocator));
  arena_free(NULL);
}

static void arena_copy__ends_with_nul_and_keeps_inner_nul(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  assert_memory_equal(arena_copy(arena, "ab\0cd", 5), "ab\0cd", 6);
  assert_string_equal(arena_copy(arena, NULL, 0), "");
  assert_string_equal(arena_copy_string(arena, "path"), "path");
  arena_free(arena);
}

static void arena_reset__keeps_only_the_first_block(void **state) {
  (void)state;
  struct failing_allocator heap;
  failing_allocator_init(&heap, 0, false);
  heap.allocator.block = 256;
  struct arena *arena = arena_new(&heap.allocator);
  size_t empty = heap.bytes;
  char *first = arena_take(arena, 40);
  memset(first, 'x', 40);
  for (int i = 0; i < 100; i++) arena_take(arena, 50);
  assert_true(heap.bytes > empty);
  arena_reset(arena);
  assert_int_equal(heap.bytes, empty);
  char *again = arena_take(arena, 40);
  assert_ptr_equal(again, first);
  for (int i = 0; i < 40; i++) assert_int_equal(again[i], 0);
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(arena_take__pieces_are_zeroed_aligned_and_apart),
      cmocka_unit_test(arena_take__a_block_of_one_makes_every_taking_its_own),
      cmocka_unit_test(arena_take__a_large_piece_leaves_the_common_block_in_use),
      cmocka_unit_test(arena_take__failure_is_remembered_until_reset),
      cmocka_unit_test(arena_take__impossible_sizes_fail),
      cmocka_unit_test(arena_new__no_memory_gives_null),
      cmocka_unit_test(arena_copy__ends_with_nul_and_keeps_inner_nul),
      cmocka_unit_test(arena_reset__keeps_only_the_first_block),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
