/* Every way a file can be refused, with the exact text that is shown. */
#include <stdlib.h>
#include <string.h>

#include "input/node.h"
#include "support/cases.h"

static const struct {
  const char *yaml;
  size_t n; /* 0: up to the NUL */
  const char *shown;
} rows[] = {
    /* duplicate keys */
    {"path: 1\nface: 2\npath: 3\n", 0,
     "a.yaml:3:1: error: key 'path' stands twice in one mapping [duplicate-key]\n"
     "    3 | path: 3\n"
     "      | ^~~~\n"
     "a.yaml:1:1: note: it stands here first\n"
     "    1 | path: 1\n"
     "      | ^~~~\n"},
    {"{a: 1, 'a': 2, \"\\x61\": 3}\n", 0,
     "a.yaml:1:8: error: key 'a' stands twice in one mapping [duplicate-key]\n"
     "    1 | {a: 1, 'a': 2, \"\\x61\": 3}\n"
     "      |        ^~~\n"
     "a.yaml:1:2: note: it stands here first\n"
     "    1 | {a: 1, 'a': 2, \"\\x61\": 3}\n"
     "      |  ^\n"
     "a.yaml:1:16: error: key 'a' stands twice in one mapping [duplicate-key]\n"
     "    1 | {a: 1, 'a': 2, \"\\x61\": 3}\n"
     "      |                ^~~~~~\n"
     "a.yaml:1:2: note: it stands here first\n"
     "    1 | {a: 1, 'a': 2, \"\\x61\": 3}\n"
     "      |  ^\n"},
    /* keys that are no words */
    {"? [a, b]\n: 1\n", 0,
     "a.yaml:1:3: error: a key is one word, not a list [yaml-key]\n"
     "    1 | ? [a, b]\n"
     "      |   ^~~~~~\n"},
    {"{{a: 1}: 2}\n", 0,
     "a.yaml:1:2: error: a key is one word, not a mapping [yaml-key]\n"
     "    1 | {{a: 1}: 2}\n"
     "      |  ^~~~~~\n"},
    {"?\n: 1\n", 0,
     "a.yaml:1:2: error: a key is one word, not nothing [yaml-key]\n"
     "    1 | ?\n"
     "      |  ^\n"},
    /* what YAML has and the rule language has not */
    {"a: &anchor 1\nb: *anchor\n", 0,
     "a.yaml:1:4: error: anchors (&) are not part of the rule language; write the text out [yaml-alias]\n"
     "    1 | a: &anchor 1\n"
     "      |    ^~~~~~~\n"
     "a.yaml:2:4: error: aliases (*) are not part of the rule language; write the text out [yaml-alias]\n"
     "    2 | b: *anchor\n"
     "      |    ^~~~~~~\n"},
    {"a: !!int 5\n", 0,
     "a.yaml:1:4: error: tags (!) are not part of the rule language; write the text out [yaml-alias]\n"
     "    1 | a: !!int 5\n"
     "      |    ^\n"},
    {"! a: 5\n", 0,
     "a.yaml:1:1: error: tags (!) are not part of the rule language; write the text out [yaml-alias]\n"
     "    1 | ! a: 5\n"
     "      | ^\n"},
    {"a: !x [1]\nb: &y {c: 1}\n", 0,
     "a.yaml:1:4: error: tags (!) are not part of the rule language; write the text out [yaml-alias]\n"
     "    1 | a: !x [1]\n"
     "      |    ^\n"
     "a.yaml:2:4: error: anchors (&) are not part of the rule language; write the text out [yaml-alias]\n"
     "    2 | b: &y {c: 1}\n"
     "      |    ^~\n"},
    {"%YAML 1.1\n---\na: 1\n", 0,
     "a.yaml:1:1: error: directives (a line that starts with %) are not part of the rule language; write the text out "
     "[yaml-alias]\n"
     "    1 | %YAML 1.1\n"
     "      | ^\n"},
    {"- a\n---\n- b\n", 0,
     "a.yaml:2:1: error: a second document starts here; a file holds one [yaml-documents]\n"
     "    2 | ---\n"
     "      | ^~~\n"},
    {"---\n---\n", 0,
     "a.yaml:2:1: error: a second document starts here; a file holds one [yaml-documents]\n"
     "    2 | ---\n"
     "      | ^~~\n"},
    /* depth */
    {"[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]\n", 0,
     "a.yaml:1:33: error: nested deeper than 32 levels [yaml-depth]\n"
     "    1 | [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]\n"
     "      |                                 ^\n"},
    /* characters */
    {"a: x\0y\n", 7,
     "a.yaml:1:5: error: the control character U+0000 is not allowed in the text; write plain UTF-8 [yaml-encoding]\n"
     "    1 | a: x<U+0000>y\n"
     "      |     ^~~~~~~~\n"},
    {"a: \"x\\0y\"\n", 0,
     "a.yaml:1:4: error: the escaped control character U+0000 is not allowed in the text; write plain UTF-8 "
     "[yaml-encoding]\n"
     "    1 | a: \"x\\0y\"\n"
     "      |    ^~~~~~\n"},
    {"a: \"\\u202Ex\"\n", 0,
     "a.yaml:1:4: error: the escaped text-reordering character U+202E is not allowed in the text; write plain UTF-8 "
     "[yaml-encoding]\n"
     "    1 | a: \"\\u202Ex\"\n"
     "      |    ^~~~~~~~~\n"},
    {"a: \x1B[31m\n", 0,
     "a.yaml:1:4: error: the control character U+001B is not allowed in the text; write plain UTF-8 [yaml-encoding]\n"
     "    1 | a: <U+001B>[31m\n"
     "      |    ^~~~~~~~\n"},
    {"# \xE2\x80\xAE\n\xC3\xA9: \xD8\x9C\n", 0,
     "a.yaml:1:3: error: the text-reordering character U+202E is not allowed in the text; write plain UTF-8 "
     "[yaml-encoding]\n"
     "    1 | # <U+202E>\n"
     "      |   ^~~~~~~~\n"
     "a.yaml:2:4: error: the text-reordering character U+061C is not allowed in the text; write plain UTF-8 "
     "[yaml-encoding]\n"
     "    2 | \xC3\xA9: <U+061C>\n"
     "      |    ^~~~~~~~\n"},
    {"a: \xC2\x85\n", 0,
     "a.yaml:1:4: error: the control character U+0085 is not allowed in the text; write plain UTF-8 [yaml-encoding]\n"
     "    1 | a: <U+0085>\n"
     "      |    ^~~~~~~~\n"},
    {"a: 1\xE2\x80\xA8"
     "b: 2\n",
     0,
     "a.yaml:1:5: error: the line separator U+2028 is not allowed in the text; write plain UTF-8 [yaml-encoding]\n"
     "    1 | a: 1<U+2028>b: 2\n"
     "      |     ^~~~~~~~\n"},
    {"a: 1\rb: 2\n", 0,
     "a.yaml:1:5: error: the control character U+000D is not allowed in the text; write plain UTF-8 [yaml-encoding]\n"
     "    1 | a: 1<U+000D>b: 2\n"
     "      |     ^~~~~~~~\n"},
    {"a: b\xEF\xBB\xBF\n", 0,
     "a.yaml:1:5: error: the invisible character U+FEFF is not allowed in the text; write plain UTF-8 [yaml-encoding]\n"
     "    1 | a: b<U+FEFF>\n"
     "      |     ^~~~~~~~\n"},
    {"a: caf\xE9\n", 0,
     "a.yaml:1:7: error: the byte E9 is not allowed in the text; write plain UTF-8 [yaml-encoding]\n"
     "    1 | a: caf<E9>\n"
     "      |       ^~~~\n"},
    {"\xFF\xFE"
     "a\0\n\0",
     6,
     "a.yaml:1:1: error: the byte FF is not allowed in the text; write plain UTF-8 [yaml-encoding]\n"
     "    1 | <FF><FE>a<U+0000>\n"
     "      | ^~~~\n"
     "a.yaml:1:2: error: the byte FE is not allowed in the text; write plain UTF-8 [yaml-encoding]\n"
     "    1 | <FF><FE>a<U+0000>\n"
     "      |     ^~~~\n"
     "a.yaml:1:4: error: the control character U+0000 is not allowed in the text; write plain UTF-8 [yaml-encoding]\n"
     "    1 | <FF><FE>a<U+0000>\n"
     "      |          ^~~~~~~~\n"
     "a.yaml:2:1: error: the control character U+0000 is not allowed in the text; write plain UTF-8 [yaml-encoding]\n"
     "    2 | <U+0000>\n"
     "      | ^~~~~~~~\n"},
    /* no YAML */
    {"a: b: c\n", 0,
     "a.yaml:1:5: error: this is not YAML: mapping values are not allowed in this context [yaml-syntax]\n"
     "    1 | a: b: c\n"
     "      |     ^\n"
     "  hint: a text that holds ': ' stands in quotes or behind >-; else look at the indentation\n"},
    {"because: The ball: goes left\n", 0,
     "a.yaml:1:18: error: this is not YAML: mapping values are not allowed in this context [yaml-syntax]\n"
     "    1 | because: The ball: goes left\n"
     "      |                  ^\n"
     "  hint: a text that holds ': ' stands in quotes or behind >-; else look at the indentation\n"},
    {"because: {path} is far {left}\n", 0,
     "a.yaml:1:17: error: this is not YAML: did not find expected key [yaml-syntax]\n"
     "    1 | because: {path} is far {left}\n"
     "      |                 ^\n"
     "a.yaml:1:1: note: while parsing a block mapping\n"
     "    1 | because: {path} is far {left}\n"
     "      | ^\n"
     "  hint: look at the indentation; a text that begins with { or [ stands in quotes or behind >-\n"},
    {"a: 1\n b: 2\n", 0,
     "a.yaml:2:3: error: this is not YAML: mapping values are not allowed in this context [yaml-syntax]\n"
     "    2 |  b: 2\n"
     "      |   ^\n"
     "  hint: a text that holds ': ' stands in quotes or behind >-; else look at the indentation\n"},
    {"a: [1, 2\nb: 3\n", 0,
     "a.yaml:2:2: error: this is not YAML: did not find expected ',' or ']' [yaml-syntax]\n"
     "    2 | b: 3\n"
     "      |  ^\n"
     "a.yaml:1:4: note: while parsing a flow sequence\n"
     "    1 | a: [1, 2\n"
     "      |    ^\n"},
    {"a: 'open\n", 0,
     "a.yaml:2:1: error: this is not YAML: found unexpected end of stream [yaml-syntax]\n"
     "    2 |\n"
     "      | ^\n"
     "a.yaml:1:4: note: while scanning a quoted scalar\n"
     "    1 | a: 'open\n"
     "      |    ^\n"
     "  hint: a quote was opened and not closed\n"},
    {"a:\n\t- 1\n", 0,
     "a.yaml:2:1: error: this is not YAML: found character that cannot start any token [yaml-syntax]\n"
     "    2 |     - 1\n"
     "      | ^\n"
     "  hint: indent with spaces, not tabs\n"},
    {"a: @x\n", 0,
     "a.yaml:1:4: error: this is not YAML: found character that cannot start any token [yaml-syntax]\n"
     "    1 | a: @x\n"
     "      |    ^\n"
     "  hint: put the text in quotes\n"},
    {"- a\nb: 1\n", 0,
     "a.yaml:2:1: error: this is not YAML: did not find expected '-' indicator [yaml-syntax]\n"
     "    2 | b: 1\n"
     "      | ^\n"
     "a.yaml:1:1: note: while parsing a block collection\n"
     "    1 | - a\n"
     "      | ^\n"
     "  hint: look at the indentation; an entry of a list begins with a dash\n"},
    {"a: 1\nb\nc: 2\n", 0,
     "a.yaml:3:1: error: this is not YAML: could not find expected ':' [yaml-syntax]\n"
     "    3 | c: 2\n"
     "      | ^\n"
     "a.yaml:2:1: note: while scanning a simple key\n"
     "    2 | b\n"
     "      | ^\n"
     "  hint: a key is followed by a colon and a space\n"},
    {"a: \"\\q\"\n", 0,
     "a.yaml:1:5: error: this is not YAML: found unknown escape character [yaml-syntax]\n"
     "    1 | a: \"\\q\"\n"
     "      |     ^\n"
     "a.yaml:1:4: note: while parsing a quoted scalar\n"
     "    1 | a: \"\\q\"\n"
     "      |    ^\n"},
    {"a: {b: 1", 0,
     "a.yaml:1:9: error: this is not YAML: did not find expected ',' or '}' [yaml-syntax]\n"
     "    1 | a: {b: 1\n"
     "      |         ^\n"
     "a.yaml:1:4: note: while parsing a flow mapping\n"
     "    1 | a: {b: 1\n"
     "      |    ^\n"},
};

static void check_row(const char *yaml, size_t n, const char *shown) {
  struct arena *arena = arena_new(NULL);
  struct source source = {.name = "a.yaml", .bytes = yaml, .n = n != 0 ? n : strlen(yaml)};
  struct diags diags;
  struct text text;
  diags_init(&diags, arena);
  text_init(&text, arena);
  assert_null(node_read(arena, &source, &diags));
  diags_finish(&diags);
  diags_print(&text, &diags);
  assert_string_equal(text_done(&text), shown);
  arena_free(arena);
}

static void node_read__says_what_is_wrong_and_where(void **state) {
  (void)state;
  for (size_t i = 0; i < COUNT_OF(rows); i++) check_row(rows[i].yaml, rows[i].n, rows[i].shown);
}

/* A file that is no text at all is not worth fifty messages. */
static void node_read__stops_early_in_a_file_that_is_no_text(void **state) {
  (void)state;
  char bytes[4096];
  for (size_t i = 0; i < sizeof bytes; i++) bytes[i] = (char)(i * 7);
  struct arena *arena = arena_new(NULL);
  struct source source = {.name = "a.yaml", .bytes = bytes, .n = sizeof bytes};
  struct diags diags;
  diags_init(&diags, arena);
  assert_null(node_read(arena, &source, &diags));
  assert_int_equal(diags.errors, 5);
  arena_free(arena);
}

/* Control and reordering characters, each alone in a text. */
static void node_read__refuses_each_hidden_character(void **state) {
  (void)state;
  static const struct {
    unsigned first, last;
  } ranges[] = {{1, 8},           {11, 31},         {127, 159},      {0x61C, 0x61C},
                {0x200E, 0x200F}, {0x2028, 0x202E}, {0x2066, 0x2069}};
  for (size_t r = 0; r < COUNT_OF(ranges); r++)
    for (unsigned code = ranges[r].first; code <= ranges[r].last; code++) {
      char yaml[16] = "a: x";
      if (code < 0x80) yaml[3] = (char)code;
      else if (code < 0x800)
        memcpy(yaml + 3, (char[]){(char)(0xC0 | code >> 6), (char)(0x80 | (code & 0x3F))}, 2);
      else
        memcpy(yaml + 3,
               (char[]){(char)(0xE0 | code >> 12), (char)(0x80 | (code >> 6 & 0x3F)),
                        (char)(0x80 | (code & 0x3F))},
               3);
      struct arena *arena = arena_new(NULL);
      struct source source = {.name = "a.yaml", .bytes = yaml, .n = strlen(yaml)};
      struct diags diags;
      diags_init(&diags, arena);
      assert_null(node_read(arena, &source, &diags));
      assert_int_equal(diags.errors, 1);
      assert_int_equal(diags.list.at[0].code, DIAG_YAML_ENCODING);
      assert_int_equal(diags.list.at[0].at.column, 4);
      arena_free(arena);
    }
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(node_read__says_what_is_wrong_and_where),
      cmocka_unit_test(node_read__stops_early_in_a_file_that_is_no_text),
      cmocka_unit_test(node_read__refuses_each_hidden_character),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
