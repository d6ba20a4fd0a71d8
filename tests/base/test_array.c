#include "base/array.h"
#include "support/cases.h"
#include "support/failing_allocator.h"

struct numbers {
  ARRAY(int) list;
};

static void array_push__keeps_all_elements_in_order(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct numbers numbers = {0};
  for (int i = 0; i < 1000; i++) {
    int *last = array_push(arena, &numbers.list);
    assert_non_null(last);
    assert_int_equal(*last, 0);
    *last = i;
  }
  assert_int_equal(numbers.list.n, 1000);
  for (int i = 0; i < 1000; i++) assert_int_equal(numbers.list.at[i], i);
  arena_free(arena);
}

static void array_push__an_older_pointer_stays_readable(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct numbers numbers = {0};
  int *first = array_push(arena, &numbers.list);
  *first = 7;
  for (int i = 0; i < 100; i++) assert_non_null(array_push(arena, &numbers.list));
  assert_int_equal(*first, 7);
  assert_ptr_not_equal(first, numbers.list.at);
  arena_free(arena);
}

static void array_push__no_memory_changes_nothing(void **state) {
  (void)state;
  struct failing_allocator heap;
  failing_allocator_init(&heap, 3, true);
  struct arena *arena = arena_new(&heap.allocator);
  struct numbers numbers = {0};
  size_t pushed = 0;
  for (int *last; (last = array_push(arena, &numbers.list)) != NULL; pushed++) *last = (int)pushed;
  assert_true(pushed > 0);
  assert_int_equal(numbers.list.n, pushed);
  assert_int_equal(numbers.list.room, pushed);
  for (size_t i = 0; i < pushed; i++) assert_int_equal(numbers.list.at[i], i);
  arena_free(arena);
}

static void array_grow__overflow_fails(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  size_t room = SIZE_MAX / 2 + 1;
  assert_null(array_grow(arena, NULL, 0, &room, 1));
  room = SIZE_MAX / 4;
  assert_null(array_grow(arena, NULL, 0, &room, 16));
  assert_int_equal(room, SIZE_MAX / 4);
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(array_push__keeps_all_elements_in_order),
      cmocka_unit_test(array_push__an_older_pointer_stays_readable),
      cmocka_unit_test(array_push__no_memory_changes_nothing),
      cmocka_unit_test(array_grow__overflow_fails),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
