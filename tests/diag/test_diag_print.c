#include <stdio.h>
#include <string.h>

#include "diag/diag.h"
#include "support/cases.h"

/* Prints one diagnostic at the span of a line-counted source and compares. */
static void check_at(const char *bytes, struct span at, const char *expected) {
  struct source source = {.name = "kb/a.yaml", .bytes = bytes, .n = strlen(bytes)};
  struct arena *arena = arena_new(NULL);
  struct diags diags;
  struct text text;
  diags_init(&diags, arena);
  text_init(&text, arena);
  at.source = &source;
  diag_print(&text, DIAG(&diags, EMPTY_CONDITION, at, "all"));
  assert_string_equal(text_done(&text), expected);
  arena_free(arena);
}

static struct span characters(uint32_t line, uint32_t column, uint32_t n) {
  return (struct span){NULL, line, column, line, column + n};
}

#define HEAD(place) "kb/a.yaml:" place ": error: 'all' holds no condition [empty-condition]\n"

static void diag_print__marks_the_place_in_its_line(void **state) {
  (void)state;
  check_at("- rule: x\n  when: [ ]\n", characters(2, 9, 3),
           HEAD("2:9") "    2 |   when: [ ]\n"
                       "      |         ^~~\n");
}

static void diag_print__counts_characters_not_bytes(void **state) {
  (void)state;
  check_at("t: \xC3\xA9\xC3\xA9 x", characters(1, 7, 1),
           HEAD("1:7") "    1 | t: \xC3\xA9\xC3\xA9 x\n"
                       "      |       ^\n");
}

static void diag_print__lines_up_under_wide_and_combining_characters(void **state) {
  (void)state;
  check_at("\xE7\x90\x83\xE7\x90\x83 x", characters(1, 2, 3),
           HEAD("1:2") "    1 | \xE7\x90\x83\xE7\x90\x83 x\n"
                       "      |   ^~~~\n");
  check_at("e\xCC\x81 x", characters(1, 4, 1),
           HEAD("1:4") "    1 | e\xCC\x81 x\n"
                       "      |   ^\n");
}

static void diag_print__tabs_become_spaces(void **state) {
  (void)state;
  check_at("\ta\tbc", characters(1, 4, 2),
           HEAD("1:4") "    1 |     a   bc\n"
                       "      |         ^~\n");
}

static void diag_print__shows_hidden_characters_escaped(void **state) {
  (void)state;
  check_at("a\x1B[31m\xE2\x80\xAE\x9Fz", characters(1, 9, 1),
           HEAD("1:9") "    1 | a<U+001B>[31m<U+202E><9F>z\n"
                       "      |                          ^\n");
}

static void diag_print__a_span_of_lines_marks_its_first(void **state) {
  (void)state;
  check_at("a: [1,\n  2]\n", (struct span){NULL, 1, 4, 2, 5},
           HEAD("1:4") "    1 | a: [1,\n"
                       "      |    ^~~\n");
}

static void diag_print__an_empty_span_is_one_caret(void **state) {
  (void)state;
  check_at("a:\r\n", characters(1, 3, 0),
           HEAD("1:3") "    1 | a:\n"
                       "      |   ^\n");
  check_at("", characters(1, 1, 0),
           HEAD("1:1") "    1 |\n"
                       "      | ^\n");
}

static void diag_print__a_line_past_the_end_has_no_picture(void **state) {
  (void)state;
  check_at("a\n", characters(7, 1, 1), HEAD("7:1"));
}

static void diag_print__a_file_without_a_place_is_named_alone(void **state) {
  (void)state;
  check_at("a\n", (struct span){0},
           "kb/a.yaml: error: 'all' holds no condition [empty-condition]\n");
}

/* Adds a string n times. */
static void repeat(char *out, const char *string, int n) {
  while (n-- > 0) strcat(out, string);
}

/* 30 columns lie in front of a far place; 100 are shown. */
static void diag_print__windows_a_long_line(void **state) {
  (void)state;
  char line[301], expected[700];
  for (int i = 0; i < 300; i++) line[i] = (char)('a' + i % 26);
  line[300] = '\0';
  snprintf(expected, sizeof expected, HEAD("1:151") "    1 | ...%.100s...\n      | %33s^~~~\n",
           line + 120, "");
  check_at(line, characters(1, 151, 4), expected);

  snprintf(expected, sizeof expected, HEAD("1:11") "    1 | %.100s...\n      | %10s^", line, "");
  repeat(expected, "~", 89);
  check_at(line, characters(1, 11, 250), strcat(expected, "\n"));

  snprintf(expected, sizeof expected, HEAD("1:300") "    1 | ...%s\n      | %33s^\n", line + 269,
           "");
  check_at(line, characters(1, 300, 1), expected);
}

static void diag_print__adds_notes_and_hint(void **state) {
  (void)state;
  struct source here = {.name = "a.yaml", .bytes = "a: 1\na: 2\n", .n = 10};
  struct arena *arena = arena_new(NULL);
  struct diags diags;
  struct text text;
  diags_init(&diags, arena);
  text_init(&text, arena);
  struct diag *diag = DIAG(&diags, YAML_DUPLICATE_KEY, ((struct span){&here, 2, 1, 2, 2}), "a");
  diag_note(&diags, diag, (struct span){&here, 1, 1, 1, 2}, "it stands here first");
  diag_note(&diags, diag, (struct span){0}, "a note without a place");
  diag_hint(&diags, diag, "did you mean 'b'?");
  diags_print(&text, &diags);
  assert_string_equal(text_done(&text),
                      "a.yaml:2:1: error: key 'a' stands twice in one mapping [duplicate-key]\n"
                      "    2 | a: 2\n"
                      "      | ^\n"
                      "a.yaml:1:1: note: it stands here first\n"
                      "    1 | a: 1\n"
                      "      | ^\n"
                      "  note: a note without a place\n"
                      "  hint: did you mean 'b'?\n");
  arena_free(arena);
}

static void diag_print__keeps_a_message_on_one_line(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct diags diags;
  struct text text;
  diags_init(&diags, arena);
  text_init(&text, arena);
  DIAG(&diags, UNKNOWN_NAME, (struct span){0}, "cause", "a\nb\t\x1B[0m\xC3\xA9");
  diags_print(&text, &diags);
  assert_string_equal(text_done(&text),
                      "error: there is no cause 'a\\nb\\t<U+001B>[0m\xC3\xA9' [unknown-name]\n");
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(diag_print__marks_the_place_in_its_line),
      cmocka_unit_test(diag_print__counts_characters_not_bytes),
      cmocka_unit_test(diag_print__lines_up_under_wide_and_combining_characters),
      cmocka_unit_test(diag_print__tabs_become_spaces),
      cmocka_unit_test(diag_print__shows_hidden_characters_escaped),
      cmocka_unit_test(diag_print__a_span_of_lines_marks_its_first),
      cmocka_unit_test(diag_print__an_empty_span_is_one_caret),
      cmocka_unit_test(diag_print__a_line_past_the_end_has_no_picture),
      cmocka_unit_test(diag_print__a_file_without_a_place_is_named_alone),
      cmocka_unit_test(diag_print__windows_a_long_line),
      cmocka_unit_test(diag_print__adds_notes_and_hint),
      cmocka_unit_test(diag_print__keeps_a_message_on_one_line),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
