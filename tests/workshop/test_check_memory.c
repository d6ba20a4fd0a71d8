/* Check without memory: no report, and nothing that is not given back. */
#include "support/cases.h"
#include "support/failing_allocator.h"
#include "support/knowledge.h"
#include "workshop/check.h"
#include "workshop/small.h"

#define FAULTS                                                                                     \
  SMALL_GROUPED("very-open", "{face: {above: 5}}", "{open: points}")                               \
  SMALL_GROUPED("widely-open", "{face: {above: 4}}", "{open: 0.75}")                               \
  SMALL_RULE("never", "{all: [{open: believed}, {face: {below: 0}}]}", "{weak: hint}")             \
  SMALL_RULE("worn", "{words: {matches: '(a+)+$'}}", "{weak: hint}")

/* The first takings one by one, later ones in growing steps: there are thousands. */
static void check_knowledge__survives_every_failure(void **state) {
  (void)state;
  const struct check_options options = {.seed = 1, .samples = 1, .thorough = true};
  struct knowledge knowledge;
  struct failing_allocator failing;
  assert_true(knowledge_load_text(&knowledge, SMALL FAULTS));
  size_t n = 1, n_failed = 0;
  do {
    failing_allocator_init(&failing, n, true);
    struct arena *arena = arena_new(&failing.allocator);
    const struct check_report *report =
        arena ? check_knowledge(arena, knowledge.network, &options, &failing.allocator) : NULL;
    if (failing_allocator_reached(&failing)) {
      assert_null(report);
      n_failed++;
    } else {
      assert_non_null(report);
      assert_true(report->n > 3);
    }
    arena_free(arena);
    assert_int_equal(failing.bytes, 0);
    n += 1 + n / 20;
  } while (failing_allocator_reached(&failing));
  assert_true(n_failed > 50);
  knowledge_free(&knowledge);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(check_knowledge__survives_every_failure),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
