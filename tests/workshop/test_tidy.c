#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/cases.h"
#include "support/failing_allocator.h"
#include "support/knowledge.h"

#include "workshop/tidy.h"

static const char *tidied(struct arena *arena, const char *yaml, struct diags *diags) {
  struct source *source = arena_new_object(arena, struct source);
  *source = (struct source){.name = "test", .bytes = yaml, .n = strlen(yaml)};
  const struct text *text = tidy_source(arena, source, diags);
  return text ? text_done(text) : NULL;
}

/* ---- single constructs ---- */

static const struct {
  const char *before, *after;
} rows[] = {
    /* indentation and blanks */
    {"-   rule:   a   \n    kind:  x", "- rule: a\n  kind: x\n"},
    {"- rule: a\n  then:\n  - b\n  -   c\n  kind: x\n",
     "- rule: a\n  then:\n    - b\n    - c\n  kind: x\n"},
    {"-\n     rule: a\n     kind:\n        x\n", "-\n  rule: a\n  kind:\n    x\n"},
    {"-   -   a\n    -   b\n-   c: [ ]\n", "- - a\n  - b\n- c: []\n"},
    {"- a: b\r\n  c: d\r\n", "- a: b\n  c: d\n"},
    {"\xEF\xBB\xBF- a: b\n", "- a: b\n"},
    {"", ""},
    {"\n\n# alone\n\n", "# alone\n"},
    {"---\n-  a: b\n...\n", "---\n- a: b\n...\n"},
    {"- a:\n- b:\n    c:\n", "- a:\n- b:\n    c:\n"},
    /* empty lines */
    {"\n\n- a: b\n\n\n\n- a: c\n\n", "- a: b\n\n- a: c\n"},
    /* comments */
    {"# x  \n-  a: b   # y\n      # z\n   # end of the entry\n# next\n-  a: c\n#last",
     "# x\n- a: b   # y\n  # z\n  # end of the entry\n# next\n- a: c\n#last\n"},
    {"- a: # why\n     - b\n     # of c\n     - c\n", "- a: # why\n    - b\n    # of c\n    - c\n"},
    {"- a: '# no'\n  b: \"x # no\"\n  c: x#no\n", "- a: '# no'\n  b: \"x # no\"\n  c: x#no\n"},
    {"- a: >-   # head\n     text\n  # of b\n  b: c\n",
     "- a: >-   # head\n    text\n  # of b\n  b: c\n"},
    /* flow */
    {"- a: {b:   c,d : [1,2 ,3 , ], \"e\":f,g, h: }\n",
     "- a: {b: c, d: [1, 2, 3,], \"e\": f, g, h: }\n"},
    {"- a: [b: c, {d: e}]\n", "- a: [b: c, {d: e}]\n"},
    {"- a: {b: 1,   # first\n             c: [x,\n  y\n ],\n# own\n d: 2\n}\n",
     "- a: {b: 1,   # first\n    c: [x,\n      y\n    ],\n    # own\n    d: 2\n    }\n"},
    {"- a: {b: one\n      two, c: 'x\n          y'}\n", "- a: {b: one two, c: 'x\n    y'}\n"},
    /* plain and quoted over several lines */
    {"- a: one\n     two\n\n     three\n  b: c\n", "- a: one two\n\n    three\n  b: c\n"},
    {"- a: 'it''s\n   so  \n\n\n   yes '\n", "- a: 'it''s\n    so\n\n\n    yes '\n"},
    {"- a: \"one \\\n        two\\ \n   three\"\n", "- a: \"one \\\n    two\\ \n    three\"\n"},
    {"- 'a b'  :   c\n", "- 'a b': c\n"},
    /* block scalars */
    {"- a: |\n     one  \n       two\n\n     # text\n\n\n  b: c\n",
     "- a: |\n    one  \n      two\n\n    # text\n\n  b: c\n"},
    {"- a: |+\n     one\n\n\n  b: c\n", "- a: |+\n    one\n\n\n  b: c\n"},
    {"- a: >-\n     one\n     two\n\n\n     three\n", "- a: >-\n    one two\n\n\n    three\n"},
    {"- a: >-\n     one\n       deep\n     two\n", "- a: >-\n    one\n      deep\n    two\n"},
    {"- a: >-\n    one  \n    two\n", "- a: >-\n    one   two\n"},
    {"-    a: >2\n         two\n        one\n", "- a: >2\n      two\n     one\n"},
    {"- a:\n  - |2\n      x\n  -   >-\n      y\n",
     "- a:\n    - |2\n        x\n    - >-\n      y\n"},
    {"- a: >-\n  b: |\n  c: d\n", "- a: >-\n  b: |\n  c: d\n"},
};

static void tidy_source__lays_out_each_construct(void **state) {
  (void)state;
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct arena *arena = arena_new(NULL);
    struct diags diags;
    diags_init(&diags, arena);
    const char *once = tidied(arena, rows[i].before, &diags);
    assert_non_null(once);
    assert_string_equal(once, rows[i].after);
    assert_string_equal(tidied(arena, once, &diags), once);
    arena_free(arena);
  }
}

static size_t longest_line(const char *text) {
  size_t longest = 0;
  for (const char *end; *text; text = *end ? end + 1 : end) {
    size_t n = 0;
    end = strchr(text, '\n');
    if (!end) end = text + strlen(text);
    for (const char *at = text; at < end; at++) n += ((unsigned char)*at & 0xC0u) != 0x80;
    if (n > longest) longest = n;
  }
  return longest;
}

/* Words of seven characters in a text of 4 blanks: 12 of them make 99, and one more would be 107.
 */
static void tidy_source__fills_to_the_width_in_characters(void **state) {
  struct arena *arena = arena_new(NULL);
  struct text text;
  struct diags diags;
  (void)state;
  diags_init(&diags, arena);
  text_init(&text, arena);
  text_add(&text, "- a: >-\n");
  for (size_t i = 0; i < 40; i++)
    text_add(&text, "    \xC3\xA4"
                    "bcdefg\n");
  const char *once = tidied(arena, text_done(&text), &diags);
  assert_non_null(once);
  assert_int_equal(longest_line(once), 4 + 12 * 8 - 1);
  assert_string_equal(tidied(arena, once, &diags), once);
  text_init(&text, arena);
  text_add(&text, "- a: >-\n    x\n    ");
  for (size_t i = 0; i < 150; i++) text_add(&text, "y");
  once = tidied(arena, text_done(&text), &diags);
  assert_non_null(once); /* a long word stands alone, whole */
  assert_int_equal(longest_line(once), 154);
  arena_free(arena);
}

/* A text on one line is broken where it is too long, whatever its quotes; in brackets, and where a
 * backslash may escape a blank, it stays. */
static void tidy_source__breaks_a_text_too_long_for_its_line(void **state) {
  static const struct {
    const char *before, *after;
    bool broken;
  } forms[] = {{"- a: ", "\n", true},       {"- a: '", "'\n", true},
               {"- a: \"", "\"\n", true},   {"- a:\n    - ", "\n", true},
               {"- a: {b: ", "}\n", false}, {"- a: \"\\t", "\"\n", false}};
  (void)state;
  for (size_t i = 0; i < COUNT_OF(forms); i++) {
    struct arena *arena = arena_new(NULL);
    struct text text;
    struct diags diags;
    diags_init(&diags, arena);
    text_init(&text, arena);
    text_add(&text, forms[i].before);
    for (size_t k = 0; k < 20; k++) text_add(&text, k == 0 ? "abcdefg" : " abcdefg");
    text_add(&text, forms[i].after);
    const char *once = tidied(arena, text_done(&text), &diags);
    assert_non_null(once);
    assert_int_equal(longest_line(once) <= TIDY_WIDTH, forms[i].broken);
    assert_string_equal(tidied(arena, once, &diags), once);
    arena_free(arena);
  }
}

static void tidy_source__refuses_what_it_would_change(void **state) {
  static const char *const refused[] = {"- ? a\n  : b\n", "- {? a : b}\n",
                                        "- a: |\n    no line end"};
  (void)state;
  for (size_t i = 0; i < COUNT_OF(refused); i++) {
    struct arena *arena = arena_new(NULL);
    struct diags diags;
    diags_init(&diags, arena);
    assert_null(tidied(arena, refused[i], &diags));
    assert_int_equal(diags.errors, 1);
    assert_int_equal(diags.list.at[0].code, DIAG_TIDY_UNSAFE);
    arena_free(arena);
  }
}

static void tidy_source__survives_lack_of_memory(void **state) {
  static const char yaml[] = "-  a: >-\n     one\n     two\n   b: [c,d]  # x\n   e: f\n     g\n";
  struct failing_allocator failing;
  size_t n = 0;
  (void)state;
  do {
    failing_allocator_init(&failing, ++n, true);
    struct arena *arena = arena_new(&failing.allocator);
    struct diags diags;
    diags_init(&diags, arena);
    if (arena) {
      struct source source = {.name = "test", .bytes = yaml, .n = sizeof yaml - 1};
      const struct text *text = tidy_source(arena, &source, &diags);
      assert_true(text || failing_allocator_reached(&failing));
      assert_true(!text || !failing_allocator_reached(&failing));
      arena_free(arena);
    }
    assert_int_equal(failing.bytes, 0);
  } while (failing_allocator_reached(&failing));
  assert_true(n > 20);
}

/* ---- the shipped files ---- */

/* Comments as an eye finds them: from a # behind a blank or at the start of a line, outside quotes.
 */
static size_t comments(struct text *out, const char *at) {
  size_t n = 0;
  char quote = 0, before = '\n';
  for (; *at; before = *at++) {
    if (*at == '\n') quote = 0;
    if (quote ? *at == quote : (*at == '"' || *at == '\'') && strchr(" {[\n", before))
      quote = quote ? 0 : *at;
    if (*at != '#' || quote || !strchr(" \n", before)) continue;
    size_t length = strcspn(at, "\n");
    while (length > 0 && at[length - 1] == ' ') length--;
    text_add_bytes(out, at, length);
    text_add_char(out, '\n');
    at += strcspn(at, "\n") - 1;
    n++;
  }
  return n;
}

static struct source *copy_as(struct arena *arena, const struct source *source,
                              const struct text *text) {
  struct source *made = arena_new_object(arena, struct source);
  *made = (struct source){.name = source->name, .bytes = text_done(text), .n = text->n};
  return made;
}

static void tidy_source__keeps_every_comment_of_the_shipped_files(void **state) {
  struct arena *arena = arena_new(NULL);
  struct knowledge_files files = knowledge_shipped_files(arena);
  struct diags diags;
  size_t n = 0;
  (void)state;
  diags_init(&diags, arena);
  for (size_t i = 0; i < files.n; i++) {
    const struct text *once = tidy_source(arena, files.at[i].source, &diags);
    assert_non_null(once);
    struct text before, after;
    text_init(&before, arena);
    text_init(&after, arena);
    size_t count = comments(&before, files.at[i].source->bytes);
    assert_int_equal(comments(&after, text_done(once)), count);
    assert_string_equal(text_done(&after), text_done(&before));
    n += count;
  }
  assert_true(n > 150);
  arena_free(arena);
}

static uint64_t digest_of(struct arena *arena, const struct knowledge_files *files) {
  struct diags diags;
  diags_init(&diags, arena);
  const struct model *model = model_read(arena, files->at, files->n, &diags);
  const struct network *network = model ? network_compile(arena, model, &diags) : NULL;
  assert_non_null(network);
  return network->digest;
}

static void tidy_source__is_idempotent_and_keeps_the_network(void **state) {
  struct arena *arena = arena_new(NULL);
  struct knowledge_files files = knowledge_shipped_files(arena);
  struct diags diags;
  (void)state;
  diags_init(&diags, arena);
  uint64_t digest = digest_of(arena, &files);
  for (size_t i = 0; i < files.n; i++) {
    const struct text *once = tidy_source(arena, files.at[i].source, &diags);
    assert_non_null(once);
    files.at[i].source = copy_as(arena, files.at[i].source, once);
    const struct text *twice = tidy_source(arena, files.at[i].source, &diags);
    assert_non_null(twice);
    assert_string_equal(text_done(twice), text_done(once));
  }
  assert_true(digest_of(arena, &files) == digest);
  arena_free(arena);
}

/* Twice the indentation, blanks at the ends of lines that are no text, and empty lines. */
static const char *spoilt(struct arena *arena, const char *at) {
  struct text out;
  text_init(&out, arena);
  for (; *at; at += strspn(at, "\n")) {
    size_t blanks = strspn(at, " ");
    for (size_t i = 0; i < 2 * blanks; i++) text_add_char(&out, ' ');
    at += blanks;
    for (; at[0] == '-' && at[1] == ' '; at += 2) text_add(&out, "-   ");
    size_t n = strcspn(at, "\n"), key = strspn(at, "abcdefghijklmnopqrstuvwxyz_");
    text_add_bytes(&out, at, n);
    if (strncmp(at + key, ": {", 3) == 0 && at[n - 1] == '}') text_add(&out, "  ");
    at += n;
    for (size_t breaks = strspn(at, "\n"), i = 0; i < breaks; i++) text_add(&out, "\n");
    if (strncmp(at, "\n\n- ", 4) == 0) text_add(&out, "\n\n");
  }
  return text_done(&out);
}

static void tidy_source__brings_a_spoilt_layout_back(void **state) {
  struct arena *arena = arena_new(NULL);
  struct knowledge_files files = knowledge_shipped_files(arena);
  struct diags diags;
  (void)state;
  diags_init(&diags, arena);
  for (size_t i = 0; i < files.n; i++) {
    const char *once = tidied(arena, files.at[i].source->bytes, &diags);
    assert_non_null(once);
    const char *bad = spoilt(arena, once);
    assert_string_not_equal(bad, once);
    const char *back = tidied(arena, bad, &diags);
    assert_non_null(back);
    assert_string_equal(back, once);
  }
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(tidy_source__lays_out_each_construct),
      cmocka_unit_test(tidy_source__fills_to_the_width_in_characters),
      cmocka_unit_test(tidy_source__breaks_a_text_too_long_for_its_line),
      cmocka_unit_test(tidy_source__refuses_what_it_would_change),
      cmocka_unit_test(tidy_source__survives_lack_of_memory),
      cmocka_unit_test(tidy_source__keeps_every_comment_of_the_shipped_files),
      cmocka_unit_test(tidy_source__is_idempotent_and_keeps_the_network),
      cmocka_unit_test(tidy_source__brings_a_spoilt_layout_back),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
