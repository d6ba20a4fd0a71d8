#include <stdio.h>
#include <string.h>

#include "diag/diag.h"
#include "support/cases.h"
#include "support/failing_allocator.h"

static const struct source source = {.name = "a.yaml", .bytes = ""};

static struct span place(uint32_t line, uint32_t column) {
  return (struct span){&source, line, column, line, column + 1};
}

static struct arena *start(struct diags *diags) {
  struct arena *arena = arena_new(NULL);
  diags_init(diags, arena);
  return arena;
}

static void diag_add__fills_the_words_in(void **state) {
  (void)state;
  struct diags diags;
  struct arena *arena = start(&diags);
  struct diag *diag = DIAG(&diags, OUT_OF_RANGE, place(3, 4), "99", "path", "-20", "20");
  assert_string_equal(diag->message, "99 is outside the plausible range of 'path', -20 to 20");
  assert_int_equal(diag->level, DIAG_ERROR);
  assert_int_equal(diags.errors, 1);
  assert_int_equal(diags.warnings, 0);
  DIAG(&diags, UNUSED, place(3, 4), "finding", "x");
  assert_int_equal(diags.errors, 1);
  assert_int_equal(diags.warnings, 1);
  arena_free(arena);
}

static void diag_add__double_braces_keep_one_pair(void **state) {
  (void)state;
  struct diags diags;
  struct arena *arena = start(&diags);
  struct diag *diag = DIAG(&diags, TEXT_SIDE, place(1, 1), "left");
  assert_non_null(strstr(diag->message, "'left'; write {left}, so"));
  diag = DIAG(&diags, TEXT_BRACE, place(1, 1), NULL);
  assert_non_null(strstr(diag->message, "'{' without its '}'"));
  arena_free(arena);
}

static void diag_add__words_are_copied_and_never_read_as_wording(void **state) {
  (void)state;
  struct diags diags;
  struct arena *arena = start(&diags);
  char word[] = "{1}%s";
  struct diag *diag = DIAG(&diags, UNKNOWN_NAME, place(1, 1), "cause", word);
  memset(word, 'x', sizeof word - 1);
  assert_string_equal(diag->message, "there is no cause '{1}%s'");
  arena_free(arena);
}

static void diag_add__a_missing_word_leaves_its_mark(void **state) {
  (void)state;
  struct diags diags;
  struct arena *arena = start(&diags);
  struct diag *diag = DIAG(&diags, UNKNOWN_NAME, place(1, 1), "cause");
  assert_string_equal(diag->message, "there is no cause '{1}'");
  arena_free(arena);
}

static void diag_add__a_very_long_word_is_cut_between_characters(void **state) {
  (void)state;
  struct diags diags;
  struct arena *arena = start(&diags);
  static char word[2002];
  for (int i = 0; i < 1000; i++) memcpy(word + 1 + 2 * i, "\xC3\xA9", 2);
  word[0] = 'x';
  struct diag *diag = DIAG(&diags, YAML_KEY, place(1, 1), word);
  assert_int_equal(strlen(diag->message), strlen("a key is one word, not ") + 599 + 3);
  assert_string_equal(diag->message + strlen(diag->message) - 5, "\xC3\xA9...");
  arena_free(arena);
}

/* Without the summary, which comes last and has no place. */
static void check_order(const struct diags *diags) {
  for (size_t i = 1; i + 1 < diags->list.n; i++)
    assert_true(span_compare(&diags->list.at[i - 1].at, &diags->list.at[i].at) <= 0);
}

static void diags_finish__sorts_by_place_then_code_then_adding(void **state) {
  (void)state;
  struct diags diags;
  struct arena *arena = start(&diags);
  DIAG(&diags, BAD_NAME, place(9, 1), "late", "_");
  DIAG(&diags, BAD_NUMBER, place(2, 2), "second", "");
  DIAG(&diags, BAD_NAME, place(2, 2), "first", "_");
  DIAG(&diags, BAD_NUMBER, place(2, 2), "third", "");
  DIAG(&diags, UNUSED, place(1, 7), "cause", "warned");
  diags_finish(&diags);
  static const char *const quoted[] = {"'warned'", "'first'", "'second'", "'third'", "'late'"};
  assert_int_equal(diags.list.n, COUNT_OF(quoted));
  for (size_t i = 0; i < COUNT_OF(quoted); i++)
    assert_non_null(strstr(diags.list.at[i].message, quoted[i]));
  arena_free(arena);
}

/* The order of adding must not matter, however many are added. */
static void check_cap(uint32_t count, uint32_t step) {
  struct diags diags;
  struct arena *arena = start(&diags);
  char word[16];
  for (uint32_t i = 0; i < count; i++) {
    uint32_t line = 1 + (uint32_t)((uint64_t)i * step % count);
    snprintf(word, sizeof word, "l%u", (unsigned)line);
    DIAG(&diags, BAD_NAME, place(line, 1), word, "_");
    if (i % 100 == 0) DIAG(&diags, UNUSED, place(line, 2), "cause", word);
  }
  diags_finish(&diags);
  diags_finish(&diags);
  assert_int_equal(diags.errors, count);
  assert_int_equal(diags.warnings, (count + 99) / 100);
  assert_int_equal(diags.list.n, 50 + diags.warnings + 1);
  check_order(&diags);
  uint32_t line = 1;
  for (size_t i = 0; i < diags.list.n; i++)
    if (diags.list.at[i].level == DIAG_ERROR) assert_int_equal(diags.list.at[i].at.line, line++);
  snprintf(word, sizeof word, "%u more", (unsigned)(count - 50));
  size_t summaries = 0;
  for (size_t i = 0; i < diags.list.n; i++)
    if (diags.list.at[i].code == DIAG_TOO_MANY) {
      summaries++;
      assert_ptr_equal(strstr(diags.list.at[i].message, word), diags.list.at[i].message);
    }
  assert_int_equal(summaries, 1);
  arena_free(arena);
}

static void diags_finish__puts_what_was_not_read_first(void **state) {
  (void)state;
  struct diags diags;
  struct arena *arena = start(&diags);
  DIAG(&diags, HELD_BACK, (struct span){0}, "1 error", "is");
  DIAG(&diags, BAD_NAME, place(1, 1), "X", "_");
  DIAG(&diags, UNKNOWN_ENTRY, place(8, 1), "evidance", "evidence");
  DIAG(&diags, YAML_SYNTAX, place(9, 1), "a tab");
  diags_finish(&diags);
  static const enum diag_code codes[] = {DIAG_UNKNOWN_ENTRY, DIAG_YAML_SYNTAX, DIAG_BAD_NAME,
                                         DIAG_HELD_BACK};
  assert_int_equal(diags.list.n, COUNT_OF(codes));
  for (size_t i = 0; i < COUNT_OF(codes); i++) assert_int_equal(diags.list.at[i].code, codes[i]);
  arena_free(arena);
}

static void diag_add__holds_back_that_a_lost_name_is_missing(void **state) {
  (void)state;
  struct diags diags;
  struct arena *arena = start(&diags);
  struct names *lost = names_new(arena);
  names_add(lost, "grip", 4, 0);
  diags.lost = lost;
  assert_null(DIAG(&diags, UNKNOWN_NAME, place(1, 1), "evidence", "grip"));
  assert_null(DIAG(&diags, FORMULA_NAME, place(1, 1), "grip"));
  assert_non_null(DIAG(&diags, UNKNOWN_NAME, place(1, 1), "evidence", "grips"));
  assert_non_null(DIAG(&diags, BAD_NAME, place(1, 1), "grip", "_"));
  assert_int_equal(diags.held, 2);
  assert_int_equal(diags.errors, 2);
  diags.lost_all = true;
  assert_null(DIAG(&diags, UNKNOWN_NAME, place(1, 1), "evidence", "grips"));
  assert_int_equal(diags.held, 3);
  arena_free(arena);
}

static void diags_finish__keeps_the_first_fifty_whatever_the_order(void **state) {
  (void)state;
  check_cap(51, 1);
  check_cap(51, 50);
  check_cap(1009, 1);
  check_cap(1009, 1008); /* last to first */
  check_cap(1009, 487);
  check_cap(5003, 2741);
}

static void diags_finish__the_summary_comes_last(void **state) {
  (void)state;
  struct diags diags;
  struct arena *arena = start(&diags);
  for (uint32_t i = 0; i < 60; i++) DIAG(&diags, BAD_NAME, place(i + 1, 1), "X", "_");
  diags_finish(&diags);
  assert_string_equal(diags.list.at[50].message, "10 more errors are not shown");
  assert_int_equal(diags.list.at[50].level, DIAG_NOTE);
  arena_free(arena);
}

static void diags_finish__fifty_need_no_summary(void **state) {
  (void)state;
  struct diags diags;
  struct arena *arena = start(&diags);
  for (uint32_t i = 0; i < 50; i++) DIAG(&diags, BAD_NAME, place(i + 1, 1), "X", "_");
  diags_finish(&diags);
  assert_int_equal(diags.list.n, 50);
  arena_free(arena);
}

static void diags_finish__of_an_empty_list_is_empty(void **state) {
  (void)state;
  struct diags diags;
  struct arena *arena = start(&diags);
  diags_finish(&diags);
  assert_int_equal(diags.list.n, 0);
  arena_free(arena);
}

static void diag_nearest__hints_only_when_near(void **state) {
  (void)state;
  static const char *const names[] = {"face", "path"};
  struct diags diags;
  struct arena *arena = start(&diags);
  struct diag *diag = DIAG(&diags, UNKNOWN_NAME, place(1, 1), "evidence", "pth");
  diag_nearest(&diags, diag, "pth", names, 2);
  assert_string_equal(diag->hint, "did you mean 'path'?");
  diag = DIAG(&diags, UNKNOWN_NAME, place(1, 1), "evidence", "tempo");
  diag_nearest(&diags, diag, "tempo", names, 2);
  assert_null(diag->hint);
  arena_free(arena);
}

static void diag_note__and_hint_accept_no_diagnostic(void **state) {
  (void)state;
  static const char *const names[] = {"face"};
  struct diags diags;
  struct arena *arena = start(&diags);
  diag_note(&diags, NULL, place(1, 1), "x");
  diag_hint(&diags, NULL, "x");
  diag_nearest(&diags, NULL, "fac", names, 1);
  assert_false(diags.no_memory);
  arena_free(arena);
}

/* Adds errors, notes and hints, and prints; true when memory ran out on the way, and the list says
 * so. */
static bool out_of_memory_told(struct failing_allocator *heap) {
  static const char *const names[] = {"path"};
  struct arena *arena = arena_new(&heap->allocator);
  if (arena == NULL) return true;
  struct diags diags;
  diags_init(&diags, arena);
  for (uint32_t i = 0; i < 60; i++) {
    struct diag *diag = DIAG(&diags, UNKNOWN_NAME, place(60 - i, 1), "evidence", "pth");
    diag_note(&diags, diag, place(1, 1), "seen here");
    diag_nearest(&diags, diag, "pth", names, 1);
  }
  diags_finish(&diags);
  assert_int_equal(diags.errors, 60);
  bool told = diags.no_memory;
  struct text text;
  text_init(&text, arena);
  diags_print(&text, &diags);
  const char *printed = text_done(&text);
  if (told && printed != NULL) assert_non_null(strstr(printed, "out of memory"));
  told = told || printed == NULL;
  arena_free(arena);
  return told;
}

static void diags__tell_of_memory_that_ran_out_at_any_call(void **state) {
  (void)state;
  for (int for_good = 0; for_good < 2; for_good++) {
    struct failing_allocator heap;
    size_t n = 1;
    do {
      failing_allocator_init(&heap, n++, for_good);
      bool told = out_of_memory_told(&heap);
      assert_int_equal(told, failing_allocator_reached(&heap));
      assert_int_equal(heap.bytes, 0);
    } while (failing_allocator_reached(&heap));
    assert_true(n > 100);
  }
}

static void diag_table__words_are_unique_and_wordings_whole(void **state) {
  (void)state;
  for (int a = 0; a < DIAG_CODES; a++) {
    const char *word = diag_word((enum diag_code)a);
    assert_int_equal(strspn(word, "abcdefghijklmnopqrstuvwxyz-"), strlen(word));
    assert_true(strlen(diag_explanation((enum diag_code)a)) > 20);
    for (int b = 0; b < a; b++) assert_string_not_equal(word, diag_word((enum diag_code)b));
  }
  assert_string_equal(diag_word(DIAG_CIRCLE), "circle");
  assert_int_equal(diag_level_of(DIAG_CONTRADICTION), DIAG_WARNING);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(diag_add__fills_the_words_in),
      cmocka_unit_test(diag_add__double_braces_keep_one_pair),
      cmocka_unit_test(diag_add__words_are_copied_and_never_read_as_wording),
      cmocka_unit_test(diag_add__a_missing_word_leaves_its_mark),
      cmocka_unit_test(diag_add__a_very_long_word_is_cut_between_characters),
      cmocka_unit_test(diags_finish__sorts_by_place_then_code_then_adding),
      cmocka_unit_test(diags_finish__puts_what_was_not_read_first),
      cmocka_unit_test(diag_add__holds_back_that_a_lost_name_is_missing),
      cmocka_unit_test(diags_finish__keeps_the_first_fifty_whatever_the_order),
      cmocka_unit_test(diags_finish__the_summary_comes_last),
      cmocka_unit_test(diags_finish__fifty_need_no_summary),
      cmocka_unit_test(diags_finish__of_an_empty_list_is_empty),
      cmocka_unit_test(diag_nearest__hints_only_when_near),
      cmocka_unit_test(diag_note__and_hint_accept_no_diagnostic),
      cmocka_unit_test(diags__tell_of_memory_that_ran_out_at_any_call),
      cmocka_unit_test(diag_table__words_are_unique_and_wordings_whole),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
