#include <pthread.h>
#include <string.h>

#include "input/pattern.h"
#include "support/cases.h"
#include "support/failing_allocator.h"

static struct pattern *compile(struct arena *arena, const char *written) {
  struct diags diags;
  diags_init(&diags, arena);
  struct pattern *pattern =
      pattern_compile(arena, written, strlen(written), (struct span){0}, &diags);
  assert_non_null(pattern);
  assert_int_equal(diags.errors, 0);
  return pattern;
}

static enum pattern_answer match(const struct pattern *pattern, const char *subject) {
  return pattern_match(pattern, subject, strlen(subject), 0, NULL, 0);
}

static void pattern_match__is_caseless_and_knows_letters(void **state) {
  (void)state;
  static const struct {
    const char *pattern, *subject;
    enum pattern_answer answer;
  } rows[] = {
      {"slic(e|ing)", "my driver Slices", PATTERN_YES},
      {"slic(e|ing)", "a hook", PATTERN_NO},
      {"^tr\xC3\xA9s$", "TR\xC3\x89S", PATTERN_YES},
      {"^\\w+$", "caf\xC3\xA9", PATTERN_YES},
      {"^.$", "\xE7\x90\x83", PATTERN_YES},
      {"\\bto[ep]\\b", "off the toe.", PATTERN_YES},
      {"", "", PATTERN_YES},
      {"a", "", PATTERN_NO},
  };
  struct arena *arena = arena_new(NULL);
  for (size_t i = 0; i < COUNT_OF(rows); i++)
    assert_int_equal(match(compile(arena, rows[i].pattern), rows[i].subject), rows[i].answer);
  arena_free(arena);
}

static void pattern_match__gives_the_parts(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct pattern *pattern = compile(arena, "(\\d+) (?:(deg)|(mm))(x)?");
  const char *subject = "1 x 22 mm left";
  struct pattern_part parts[6];
  assert_int_equal(pattern_match(pattern, subject, strlen(subject), 0, parts, 6), PATTERN_YES);
  assert_int_equal(parts[0].start, 4);
  assert_int_equal(parts[0].end, 9);
  assert_int_equal(parts[1].start, 4);
  assert_int_equal(parts[1].end, 6);
  assert_true(parts[2].start == SIZE_MAX);
  assert_int_equal(parts[3].start, 7);
  assert_true(parts[4].start == SIZE_MAX);
  assert_true(parts[5].start == SIZE_MAX);
  assert_int_equal(pattern_match(pattern, subject, strlen(subject), 0, parts, 1), PATTERN_YES);
  assert_int_equal(parts[0].end, 9);
  assert_int_equal(pattern_match(pattern, subject, strlen(subject), 0, parts, 2), PATTERN_YES);
  assert_int_equal(parts[1].end, 6);
  arena_free(arena);
}

static void pattern_match__searches_from_a_byte(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct pattern *pattern = compile(arena, "a");
  struct pattern_part part;
  assert_int_equal(pattern_match(pattern, "abca", 4, 1, &part, 1), PATTERN_YES);
  assert_int_equal(part.start, 3);
  assert_int_equal(pattern_match(pattern, "abca", 4, 4, &part, 1), PATTERN_NO);
  assert_int_equal(pattern_match(pattern, "abca", 4, 5, &part, 1), PATTERN_NO);
  arena_free(arena);
}

static void pattern_match__bytes_that_are_no_utf8_match_nothing(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  assert_int_equal(match(compile(arena, "^a.b$"), "a\xFF"
                                                  "b"),
                   PATTERN_NO);
  assert_int_equal(match(compile(arena, "toe"), "\xFF\xFE toe \x80"), PATTERN_YES);
  arena_free(arena);
}

static void pattern_match__a_limit_is_not_a_no(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  assert_int_equal(match(compile(arena, "^(a+)+$"), "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaab"),
                   PATTERN_LIMIT);
  static char subject[200001];
  memset(subject, 'a', sizeof subject - 1);
  assert_int_equal(match(compile(arena, "^(?:a|b)*?c"), subject), PATTERN_LIMIT);
  assert_int_equal(match(compile(arena, "^(a(?1)?b)$"), subject), PATTERN_LIMIT);
  arena_free(arena);
}

static void check_fault(const char *line, const char *pattern, struct span at, const char *shown) {
  struct arena *arena = arena_new(NULL);
  struct source source = {.name = "a.yaml", .bytes = line, .n = strlen(line)};
  struct diags diags;
  struct text text;
  diags_init(&diags, arena);
  text_init(&text, arena);
  at.source = &source;
  assert_null(pattern_compile(arena, pattern, strlen(pattern), at, &diags));
  diags_print(&text, &diags);
  assert_string_equal(text_done(&text), shown);
  arena_free(arena);
}

static void pattern_compile__points_at_the_faulty_character(void **state) {
  (void)state;
  check_fault("m: sli)ce", "sli)ce", (struct span){NULL, 1, 4, 1, 10},
              "a.yaml:1:7: error: pattern: unmatched closing parenthesis [bad-pattern]\n"
              "    1 | m: sli)ce\n"
              "      |       ^\n");
  check_fault("m: '\xC3\xA9\xC3\xA9(ce'", "\xC3\xA9\xC3\xA9(ce", (struct span){NULL, 1, 4, 1, 11},
              "a.yaml:1:10: error: pattern: missing closing parenthesis [bad-pattern]\n"
              "    1 | m: '\xC3\xA9\xC3\xA9(ce'\n"
              "      |          ^\n");
  check_fault(
      "m: \"a\\\\x{110000}b\"", "a\\x{110000}b", (struct span){NULL, 1, 4, 1, 19},
      "a.yaml:1:4: error: pattern: character code point value in \\x{} or \\o{} is too large "
      "[bad-pattern]\n"
      "    1 | m: \"a\\\\x{110000}b\"\n"
      "      |    ^~~~~~~~~~~~~~~\n");
}

static void pattern_compile__refuses_the_dangerous_and_the_endless(void **state) {
  (void)state;
  char longer[5000];
  memset(longer, 'a', sizeof longer);
  longer[sizeof longer - 1] = '\0';
  char nested[400] = "";
  memset(nested, '(', 100);
  memset(nested + 100, ')', 100);
  const char *const rows[] = {"\\C",  "\xFF", "(?<=a*)b", "((((a{1,1000}){1,1000}){1,1000}))",
                              longer, nested};
  struct arena *arena = arena_new(NULL);
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct diags diags;
    diags_init(&diags, arena);
    assert_null(pattern_compile(arena, rows[i], strlen(rows[i]), (struct span){0}, &diags));
    assert_int_equal(diags.list.n, 1);
    assert_int_equal(diags.list.at[0].code, DIAG_BAD_PATTERN);
  }
  arena_free(arena);
}

static void pattern_compile__memory_may_run_out_at_any_call(void **state) {
  (void)state;
  struct failing_allocator heap;
  size_t n = 1;
  do {
    failing_allocator_init(&heap, n++, true);
    struct arena *arena = arena_new(&heap.allocator);
    if (arena == NULL) continue;
    struct diags diags;
    diags_init(&diags, arena);
    struct pattern *pattern = pattern_compile(arena, "(a|b)+c", 7, (struct span){0}, &diags);
    assert_int_equal(pattern == NULL, failing_allocator_reached(&heap));
    assert_int_equal(diags.no_memory, failing_allocator_reached(&heap));
    if (pattern != NULL) assert_int_equal(match(pattern, "xabac"), PATTERN_YES);
    pattern_free(pattern);
    arena_free(arena);
    assert_int_equal(heap.bytes, 0);
  } while (failing_allocator_reached(&heap));
  assert_true(n > 4);
}

static void *match_often(void *pattern) {
  size_t wrong = 0;
  for (int i = 0; i < 500; i++) {
    struct pattern_part parts[2];
    wrong +=
        pattern_match(pattern, "a toe shot", 10, 0, parts, 2) != PATTERN_YES || parts[1].start != 2;
    wrong += match(pattern, "a heel shot") != PATTERN_NO;
  }
  return (void *)(uintptr_t)wrong;
}

static void pattern_match__is_shared_by_threads(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct pattern *pattern = compile(arena, "\\b(toe)\\b");
  pthread_t threads[4];
  for (size_t i = 0; i < COUNT_OF(threads); i++)
    assert_int_equal(pthread_create(&threads[i], NULL, match_often, pattern), 0);
  for (size_t i = 0; i < COUNT_OF(threads); i++) {
    void *wrong = NULL;
    pthread_join(threads[i], &wrong);
    assert_null(wrong);
  }
  arena_free(arena);
}

static void pattern_groups__finds_all_of_a_name(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  size_t numbers[4] = {0};
  struct pattern *pattern = compile(arena, "(?J)(?<side>l)(x)|(?<other>o)|(?<side>r)");
  assert_int_equal(pattern_groups(pattern, "side", numbers, 4), 2);
  assert_int_equal(numbers[0], 1);
  assert_int_equal(numbers[1], 4);
  assert_int_equal(pattern_groups(pattern, "side", numbers, 1), 1);
  assert_int_equal(pattern_groups(pattern, "sid", numbers, 4), 0);
  assert_int_equal(pattern_groups(compile(arena, "x"), "side", numbers, 4), 0);
  arena_free(arena);
}

static void pattern_version__fits_any_room(void **state) {
  (void)state;
  char version[64], cut[4];
  pattern_version(version, sizeof version);
  assert_non_null(strchr(version, '.'));
  pattern_version(cut, sizeof cut);
  assert_int_equal(strlen(cut), 3);
  assert_memory_equal(cut, version, 3);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(pattern_match__is_caseless_and_knows_letters),
      cmocka_unit_test(pattern_match__gives_the_parts),
      cmocka_unit_test(pattern_match__searches_from_a_byte),
      cmocka_unit_test(pattern_match__bytes_that_are_no_utf8_match_nothing),
      cmocka_unit_test(pattern_match__a_limit_is_not_a_no),
      cmocka_unit_test(pattern_compile__points_at_the_faulty_character),
      cmocka_unit_test(pattern_compile__refuses_the_dangerous_and_the_endless),
      cmocka_unit_test(pattern_compile__memory_may_run_out_at_any_call),
      cmocka_unit_test(pattern_match__is_shared_by_threads),
      cmocka_unit_test(pattern_groups__finds_all_of_a_name),
      cmocka_unit_test(pattern_version__fits_any_room),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
