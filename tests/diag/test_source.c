#include <string.h>

#include "diag/source.h"
#include "support/cases.h"

static struct source source_of(const char *name, const char *bytes) {
  return (struct source){.name = name, .bytes = bytes, .n = strlen(bytes)};
}

static void source_line__gives_each_line_without_its_end(void **state) {
  (void)state;
  static const struct {
    const char *bytes;
    uint32_t line;
    const char *expected; /* NULL: past the end */
  } rows[] = {
      {"a\nbc\n", 1, "a"},
      {"a\nbc\n", 2, "bc"},
      {"a\nbc\n", 3, ""},
      {"a\nbc\n", 4, NULL},
      {"a\nbc", 2, "bc"},
      {"a\nbc", 3, NULL},
      {"", 1, ""},
      {"", 2, NULL},
      {"a\r\nb\r\n", 1, "a"},
      {"a\r\nb\r\n", 2, "b"},
      {"x", 0, NULL},
      {"\xEF\xBB\xBF"
       "a\nb",
       1, "a"},
      {"\xEF\xBB\xBF"
       "a\nb",
       2, "b"},
  };
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct source source = source_of("s", rows[i].bytes);
    size_t n = 99;
    const char *line = source_line(&source, rows[i].line, &n);
    assert_int_equal(line != NULL, rows[i].expected != NULL);
    if (line == NULL) continue;
    assert_int_equal(n, strlen(rows[i].expected));
    assert_memory_equal(line, rows[i].expected, n);
  }
}

static void span_part__lies_in_the_first_line(void **state) {
  (void)state;
  struct source source = source_of("s", "0123456789");
  struct span part = span_part((struct span){&source, 4, 10, 6, 2}, 3, 2);
  assert_ptr_equal(part.source, &source);
  assert_int_equal(part.line, 4);
  assert_int_equal(part.column, 13);
  assert_int_equal(part.end_line, 4);
  assert_int_equal(part.end_column, 15);
}

static void span_compare__orders_by_name_line_column(void **state) {
  (void)state;
  struct source a = source_of("a", ""), b = source_of("b", ""), a_again = source_of("a", "");
  const struct span in_order[] = {
      {NULL, 9, 9, 9, 9}, {&a, 1, 1, 1, 1}, {&a, 1, 5, 1, 6}, {&a, 2, 1, 2, 9}, {&b, 1, 1, 1, 1},
  };
  for (size_t i = 0; i < COUNT_OF(in_order); i++)
    for (size_t j = 0; j < COUNT_OF(in_order); j++) {
      int order = span_compare(&in_order[i], &in_order[j]);
      assert_int_equal((order > 0) - (order < 0), (i > j) - (i < j));
    }
  struct span same = {&a_again, 1, 5, 3, 3};
  assert_int_equal(span_compare(&same, &in_order[2]), 0);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(source_line__gives_each_line_without_its_end),
      cmocka_unit_test(span_part__lies_in_the_first_line),
      cmocka_unit_test(span_compare__orders_by_name_line_column),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
