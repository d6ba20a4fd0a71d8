/* Patterns: examples that match, and what is told of slow ones. */
#include <stdio.h>
#include <string.h>

#include "support/cases.h"
#include "support/knowledge.h"
#include "workshop/check_parts.h"
#include "workshop/small.h"

static void check_example_text__matches(void **state) {
  (void)state;
  static const char *const patterns[] = {
      "slice",
      "^slic(e|ing)$",
      "\\b(was|were|been) (fine|ok(ay)?) (until|till)\\b",
      "(?i)(?<!no )(?<!not )\\bpain(ful)?\\b(?![- ]?free)",
      "a{3}b{2,4}c{1,}",
      "[^a-z]+x[]x]",
      "\\d+ (deg|degrees)\\s+left",
      "(?:very )*far",
      "(?<side>left|right) of",
      "a\\.b\\*c",
      "x?y??z++",
      "(?=f)face",
  };
  struct arena *arena = arena_new(NULL);
  struct diags diags;
  diags_init(&diags, arena);
  for (size_t i = 0; i < COUNT_OF(patterns); i++) {
    const struct pattern *pattern =
        pattern_compile(arena, patterns[i], strlen(patterns[i]), (struct span){0}, &diags);
    const char *example = check_example_text(arena, patterns[i]);
    assert_non_null(pattern);
    assert_non_null(example);
    if (pattern_match(pattern, example, strlen(example), 0, NULL, 0) != PATTERN_YES)
      fail_msg("'%s' does not match '%s'", patterns[i], example);
  }
  arena_free(arena);
}

/* How the one slow pattern is told, or "". */
static void told(char *out, size_t room, const char *pattern) {
  const struct check_options options = {.seed = 1, .samples = 1};
  struct knowledge knowledge;
  char text[16384];
  snprintf(text, sizeof text, SMALL SMALL_RULE("asked", "{words: {matches: '%s'}}", "{weak: hint}"),
           pattern);
  assert_true(knowledge_load_text(&knowledge, text));
  const struct check_report *report =
      check_knowledge(knowledge.arena, knowledge.network, &options, NULL);
  assert_non_null(report);
  snprintf(out, room, "%s", "");
  for (size_t i = 0; i < report->n; i++)
    if (report->findings[i].diag.code == DIAG_SLOW_PATTERN)
      snprintf(out, room, "%s", report->findings[i].diag.message);
  knowledge_free(&knowledge);
}

static void check_patterns__tells_the_slow_and_the_nested(void **state) {
  (void)state;
  static const struct {
    const char *pattern, *told;
  } rows[] = {
      {"(a+)+$", "repeats what repeats already and gives up"},
      {"^(\\w+\\s?)*$", "repeats what repeats already and gives up"},
      {"(?:(?:very )*very )*far", "repeats what repeats already and gives up"},
      {"\\w*\\w*\\w*\\w*\\w*!!", "gives up"},
      {"(?>a+)*b", "repeats what repeats already"}, /* atomic: never slow, but nested */
      {"slic(e|ing)", ""},
      {"(very )*far", ""},
      {"\\w+ \\w+ far", ""},
      {"(a++)+b", ""}, /* what is possessive gives nothing back */
      {"a{1,3}(b{2})*", ""},
  };
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    char message[512];
    told(message, sizeof message, rows[i].pattern);
    if (strstr(message, rows[i].told) == NULL || (*rows[i].told == '\0' && *message != '\0'))
      fail_msg("%s: %s", rows[i].pattern, message);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(check_example_text__matches),
      cmocka_unit_test(check_patterns__tells_the_slow_and_the_nested),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
