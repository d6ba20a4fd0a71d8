#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "input/node.h"
#include "support/cases.h"
#include "support/failing_allocator.h"

/* One reading, with all that belongs to it. */
struct reading {
  struct arena *arena;
  struct source source;
  struct diags diags;
  struct node *root;
};

static void read_bytes(struct reading *reading, const struct wm_allocator *allocator,
                       const char *bytes, size_t n) {
  reading->arena = arena_new(allocator);
  reading->source = (struct source){.name = "a.yaml", .bytes = bytes, .n = n};
  diags_init(&reading->diags, reading->arena);
  reading->root = node_read(reading->arena, &reading->source, &reading->diags);
}

static void read_string(struct reading *reading, const char *string) {
  read_bytes(reading, NULL, string, strlen(string));
  assert_non_null(reading->root);
  assert_int_equal(reading->diags.errors, 0);
}

static void end_reading(struct reading *reading) {
  arena_free(reading->arena);
}

/* The tree on one line: key=value with quotes as written, [list], {map}, each followed by its span.
 */
static void draw(struct text *out, const struct node *node) {
  if (node->key != NULL)
    text_format(out, "%s@%u:%u=", node->key, (unsigned)node->key_at.line,
                (unsigned)node->key_at.column);
  if (node->kind == NODE_SCALAR) {
    text_format(out, node->quoted ? "\"%s\"" : "%s", node->text);
  } else {
    text_add_char(out, node->kind == NODE_LIST ? '[' : '{');
    for (const struct node *child = node->first; child != NULL; child = child->next) {
      if (child != node->first) text_add_char(out, ' ');
      draw(out, child);
    }
    text_add_char(out, node->kind == NODE_LIST ? ']' : '}');
  }
  text_format(out, "@%u:%u-%u:%u", (unsigned)node->at.line, (unsigned)node->at.column,
              (unsigned)node->at.end_line, (unsigned)node->at.end_column);
}

static void check_drawing(const char *yaml, const char *expected) {
  struct reading reading;
  struct text text;
  read_string(&reading, yaml);
  text_init(&text, reading.arena);
  draw(&text, reading.root);
  assert_string_equal(text_done(&text), expected);
  end_reading(&reading);
}

static void node_read__keeps_start_and_end_of_every_node(void **state) {
  (void)state;
  static const char *const rows[][2] = {
      {"a: 1\n", "{a@1:1=1@1:4-1:5}@1:1-1:5"},
      {"- rule: x\n  when:\n    all:\n      - path: {below: -2.5}\n",
       "[{rule@1:3=x@1:9-1:10 when@2:3={all@3:5=[{path@4:9={below@4:16=-2.5@4:23-4:27}@4:15-4:28}"
       "@4:9-4:28]@4:7-4:28}@3:5-4:28}@1:3-4:28]@1:1-4:28"},
      {"a: [1, 'x y', \"z\"]",
       "{a@1:1=[1@1:5-1:6 \"x y\"@1:8-1:13 \"z\"@1:15-1:18]@1:4-1:19}@1:1-1:19"},
      {"a:\nb: 2\n", "{a@1:1=@1:3-1:3 b@2:1=2@2:4-2:5}@1:1-2:5"},
      {"[\n1,\n2\n]\n", "[1@2:1-2:2 2@3:1-3:2]@1:1-4:2"},
      {"a: []\nb: {}\n", "{a@1:1=[]@1:4-1:6 b@2:1={}@2:4-2:6}@1:1-2:6"},
      {"a: one\n  two\n", "{a@1:1=one two@1:4-2:6}@1:1-2:6"},
      {"\xEF\xBB\xBF"
       "a: 1\n",
       "{a@1:1=1@1:4-1:5}@1:1-1:5"},
      {"\xC3\xA9: \xE2\x82\xAC x\r\nb: 1\r\n",
       "{\xC3\xA9@1:1=\xE2\x82\xAC x@1:4-1:7 b@2:1=1@2:4-2:5}@1:1-2:5"},
      {"--- # a comment\n- 1\n...\n# the end\n", "[1@2:3-2:4]@2:1-2:4"},
      {"'a b': 1", "{a b@1:1=1@1:8-1:9}@1:1-1:9"},
      {"word", "word@1:1-1:5"},
      {"# no line feed", "[]@1:15-1:15"},
      {"a:", "{a@1:1=@1:3-1:3}@1:1-1:3"},
  };
  for (size_t i = 0; i < COUNT_OF(rows); i++) check_drawing(rows[i][0], rows[i][1]);
}

static void node_read__block_scalars_count_as_quoted(void **state) {
  (void)state;
  struct reading reading;
  read_string(&reading, "a: >-\n  one\n  two\nb: |\n  x\n  y\n");
  const struct node *folded = node_get(reading.root, "a"), *kept = node_get(reading.root, "b");
  assert_string_equal(folded->text, "one two");
  assert_true(folded->quoted);
  assert_string_equal(kept->text, "x\ny\n");
  assert_int_equal(kept->n, 4);
  assert_int_equal(kept->at.line, 4);
  assert_int_equal(kept->at.column, 4);
  end_reading(&reading);
}

static void node_read__of_nothing_is_an_empty_list(void **state) {
  (void)state;
  static const char *const rows[] = {"",      "\n\n",       "# no line feed", "# only a comment\n",
                                     "---\n", "---\n...\n", "\xEF\xBB\xBF"};
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct reading reading;
    read_string(&reading, rows[i]);
    assert_int_equal(reading.root->kind, NODE_LIST);
    assert_int_equal(reading.root->n, 0);
    assert_null(reading.root->first);
    end_reading(&reading);
  }
}

static void node_read__thirty_two_levels_are_allowed(void **state) {
  (void)state;
  char yaml[2 * NODE_DEPTH_MAX + 2] = "";
  memset(yaml, '[', NODE_DEPTH_MAX);
  yaml[NODE_DEPTH_MAX] = 'x';
  memset(yaml + NODE_DEPTH_MAX + 1, ']', NODE_DEPTH_MAX);
  struct reading reading;
  read_string(&reading, yaml);
  const struct node *node = reading.root;
  for (int depth = 0; depth < NODE_DEPTH_MAX; depth++) node = node->first;
  assert_true(node_is(node, "x"));
  end_reading(&reading);
}

static void node_read__many_keys_are_told_apart(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct text yaml;
  text_init(&yaml, arena);
  for (int i = 0; i < 3000; i++) text_format(&yaml, "key_%d: %d\n", i, i);
  struct reading reading;
  read_string(&reading, text_done(&yaml));
  assert_int_equal(reading.root->n, 3000);
  assert_true(node_is(node_get(reading.root, "key_2999"), "2999"));
  end_reading(&reading);
  for (int again = 0; again < 3000; again += 499) {
    size_t n = yaml.n;
    text_format(&yaml, "key_%d: x\n", again);
    read_bytes(&reading, NULL, yaml.at, yaml.n);
    assert_null(reading.root);
    assert_int_equal(reading.diags.list.n, 1);
    assert_int_equal(reading.diags.list.at[0].at.line, 3001);
    assert_int_equal(reading.diags.list.at[0].notes.at[0].at.line, again + 1);
    end_reading(&reading);
    yaml.n = n;
  }
  arena_free(arena);
}

static void node_get__finds_only_in_mappings(void **state) {
  (void)state;
  struct reading reading;
  read_string(&reading, "a: 1\nb: [c]\n");
  assert_true(node_is(node_get(reading.root, "a"), "1"));
  assert_null(node_get(reading.root, "c"));
  assert_null(node_get(node_get(reading.root, "b"), "c"));
  assert_null(node_get(node_get(reading.root, "a"), "a"));
  assert_null(node_get(NULL, "a"));
  end_reading(&reading);
}

static void node_is__compares_scalars(void **state) {
  (void)state;
  struct reading reading;
  read_string(&reading, "a: yes\nb: [yes]\n");
  assert_true(node_is(node_get(reading.root, "a"), "yes"));
  assert_false(node_is(node_get(reading.root, "a"), "ye"));
  assert_false(node_is(node_get(reading.root, "b"), "yes"));
  assert_false(node_is(NULL, "yes"));
  end_reading(&reading);
}

static void node_describe__says_what_stands_there(void **state) {
  (void)state;
  static const char *const rows[][2] = {
      {"[a]", "a list"},
      {"{}", "a mapping"},
      {"7i", "'7i'"},
      {"a:", "nothing"},
      {"a: ''", "''"},
      {"a: aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa\xC3\xA9 and more",
       "'aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa...'"},
  };
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct reading reading;
    read_string(&reading, rows[i][0]);
    const struct node *node = node_get(reading.root, "a");
    if (node == NULL) node = reading.root;
    assert_string_equal(node_describe(reading.arena, node), rows[i][1]);
    end_reading(&reading);
  }
}

/* ---- memory that runs out ---- */

static const char *const whole =
    "- rule: x\n  when: {all: [{path: {below: -2.5}}, words: \"slic(e|ing)\"]}\n"
    "  because: >-\n    one\n    two\n"
    "- {a: 1, b: 2, c: 3, d: 4, e: 5, f: 6, g: 7, h: 8, i: 9, j: 10, k: 11,\n"
    "   l: 12, m: 13, n: 14, o: 15, p: 16, q: 17, r: 18}\n";
static const char *const faulty = "- {a: 1, a: 2}\n- *x\n- !t y\n- \"\\0\"\n- ? [1]\n  : 2\n- [\n";

/* Ends in a tree or in a diagnostic, and gives all back. */
static void read_with(struct failing_allocator *heap, const char *yaml) {
  struct reading reading;
  reading.arena = arena_new(&heap->allocator);
  if (reading.arena == NULL) return;
  reading.source = (struct source){.name = "a.yaml", .bytes = yaml, .n = strlen(yaml)};
  diags_init(&reading.diags, reading.arena);
  reading.root = node_read(reading.arena, &reading.source, &reading.diags);
  bool reached = failing_allocator_reached(heap);
  assert_int_equal(reading.diags.no_memory, reached);
  assert_int_equal(reading.root != NULL, !reached && yaml == whole);
  if (reading.root == NULL) assert_true(reading.diags.errors > 0);
  end_reading(&reading);
}

static void node_read__memory_may_run_out_at_any_call(void **state) {
  (void)state;
  const char *const texts[] = {whole, faulty, "\x07\n%\n"};
  for (size_t t = 0; t < COUNT_OF(texts); t++)
    for (int for_good = 0; for_good < 2; for_good++) {
      struct failing_allocator heap;
      size_t n = 1;
      do {
        failing_allocator_init(&heap, n++, for_good);
        read_with(&heap, texts[t]);
        assert_int_equal(heap.bytes, 0);
      } while (failing_allocator_reached(&heap));
      assert_true(n > 3);
    }
}

/* ---- hostile files ---- */

static double seconds_since(const struct timespec *start) {
  struct timespec now;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double)(now.tv_sec - start->tv_sec) + 1e-9 * (double)(now.tv_nsec - start->tv_nsec);
}

/* head, then count times unit; reads it and returns the code of the first diagnostic, or DIAG_CODES
 * when there is none. */
static enum diag_code read_repeated(const char *head, const char *unit, size_t count) {
  size_t length = strlen(unit), n = strlen(head) + count * length;
  char *bytes = malloc(n + 1);
  strcpy(bytes, head);
  for (size_t i = 0; i < count; i++) memcpy(bytes + strlen(head) + i * length, unit, length + 1);
  bytes[n] = '\0';
  struct timespec start;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &start);
  struct reading reading;
  read_bytes(&reading, NULL, bytes, n);
  diags_finish(&reading.diags);
  enum diag_code code = reading.diags.list.n != 0 ? reading.diags.list.at[0].code : DIAG_CODES;
  assert_int_equal(reading.root != NULL, code == DIAG_CODES);
  end_reading(&reading);
  free(bytes);
  assert_true(seconds_since(&start) <
              8); /* about 0.3 s without sanitizers; quadratic time would take minutes */
  return code;
}

static void node_read__hostile_nesting_ends_fast(void **state) {
  (void)state;
  static const char *const units[] = {"[", "{a: ", "{? ", "- ", "? ", "[{", "{[", "a: ["};
  for (size_t i = 0; i < COUNT_OF(units); i++) {
    enum diag_code code = read_repeated("", units[i], 20000);
    assert_true(code == DIAG_YAML_DEPTH || code == DIAG_YAML_SYNTAX);
  }
  assert_int_equal(read_repeated("", "[", 20000), DIAG_YAML_DEPTH);
  assert_int_equal(read_repeated("", "- ", 20000), DIAG_YAML_DEPTH);
  assert_int_equal(read_repeated("", "[\n", 2000000), DIAG_YAML_DEPTH);
}

static void node_read__a_large_file_is_read_fast(void **state) {
  (void)state;
  const char *rule =
      "- rule: a\n  when: {path: {below: -2.5}}\n  because: a sentence that says why\n";
  assert_int_equal(read_repeated("", rule, 5000000 / strlen(rule)), DIAG_CODES);
  assert_int_equal(read_repeated("[", "0,", 2500000), DIAG_YAML_VALUES);
  assert_int_equal(read_repeated("a: \"", "x ", 2500000), DIAG_YAML_SYNTAX);
  assert_int_equal(read_repeated("a: |\n", " x\n", 1700000), DIAG_CODES);
  assert_int_equal(read_repeated("", "#\n", 2500000), DIAG_CODES);
  assert_int_equal(read_repeated("", "%TAG !a! b\n", 450000), DIAG_YAML_ALIAS);
  assert_int_equal(read_repeated("{", "a, ", 300000), DIAG_YAML_DUPLICATE_KEY);
  assert_int_equal(read_repeated("", "- &a x\n", 400000), DIAG_YAML_ALIAS);
  assert_int_equal(read_repeated("", "- *a\n", 400000), DIAG_YAML_ALIAS);
  assert_int_equal(read_repeated("", "x", NODE_BYTES_MAX + 1), DIAG_FILE_TOO_LARGE);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(node_read__keeps_start_and_end_of_every_node),
      cmocka_unit_test(node_read__block_scalars_count_as_quoted),
      cmocka_unit_test(node_read__of_nothing_is_an_empty_list),
      cmocka_unit_test(node_read__thirty_two_levels_are_allowed),
      cmocka_unit_test(node_read__many_keys_are_told_apart),
      cmocka_unit_test(node_get__finds_only_in_mappings),
      cmocka_unit_test(node_is__compares_scalars),
      cmocka_unit_test(node_describe__says_what_stands_there),
      cmocka_unit_test(node_read__memory_may_run_out_at_any_call),
      cmocka_unit_test(node_read__hostile_nesting_ends_fast),
      cmocka_unit_test(node_read__a_large_file_is_read_fast),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
