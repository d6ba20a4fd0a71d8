/* The order of files, entries, keys and clauses leaves no mark: the shipped knowledge is taken
 * apart, shuffled at every depth where order has no meaning, written as other YAML, and must give
 * the same digest, the same bits and the same pages. */
#include "support/cases.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "render/answer.h"
#include "support/knowledge.h"

#define CASES 60

/* Lists and mappings whose order means nothing; an entry's own keys, but for the first, are
 * shuffled too. The words of a choice, of a number or of a phrase stand as their author put them.
 */
static bool is_unordered(const char *key) {
  static const char *const keys[] = {"all",     "any",  "none", "one_of",
                                     "removes", "also", "then", "changes"};
  for (size_t i = 0; key && i < COUNT_OF(keys); i++)
    if (strcmp(keys[i], key) == 0) return true;
  return false;
}

static void write_string(struct text *out, const char *bytes) {
  text_add_char(out, '"');
  for (; *bytes; bytes++) {
    if (*bytes == '"' || *bytes == '\\') text_add_char(out, '\\');
    if (*bytes == '\n') text_add(out, "\\n");
    else text_add_char(out, *bytes);
  }
  text_add_char(out, '"');
}

static void shuffle_nodes(const struct node **at, size_t n, uint64_t *state) {
  for (size_t i = n; i > 1; i--) {
    size_t k = (size_t)(random_next(state) % i);
    const struct node *swapped = at[i - 1];
    at[i - 1] = at[k];
    at[k] = swapped;
  }
}

static void write_node(struct text *out, const struct node *node, uint64_t *state, unsigned depth) {
  const struct node **children = calloc(node->n + 1, sizeof *children);
  size_t n = 0, fixed = depth == 1 ? 1 : 0;
  if (node->kind == NODE_SCALAR) {
    write_string(out, node->text);
    free(children);
    return;
  }
  for (const struct node *child = node->first; child; child = child->next) children[n++] = child;
  if (depth == 0 || is_unordered(node->key)) shuffle_nodes(children, n, state);
  else if (depth == 1 && n > fixed) shuffle_nodes(children + fixed, n - fixed, state);
  text_add(out, node->kind == NODE_MAP ? "{" : "[");
  for (size_t i = 0; i < n; i++) {
    text_add(out, i ? ",\n" : "");
    if (node->kind == NODE_MAP) {
      write_string(out, children[i]->key);
      text_add(out, ": ");
    }
    write_node(out, children[i], state, depth + 1);
  }
  text_add(out, node->kind == NODE_MAP ? "}" : "]");
  free(children);
}

/* All files as one list of entries, shuffled. */
static const char *shuffled_knowledge(struct arena *arena, uint64_t seed) {
  struct text out;
  text_init(&out, arena);
  struct knowledge_files files = knowledge_shipped_files(arena);
  struct node whole = {.kind = NODE_LIST};
  struct diags diags;
  struct node **end = &whole.first;
  diags_init(&diags, arena);
  for (size_t i = 0; i < files.n; i++) {
    struct node *list = node_read(arena, files.at[i].source, &diags);
    assert_non_null(list);
    for (*end = list->first; *end; end = &(*end)->next) whole.n++;
  }
  write_node(&out, &whole, &seed, 0);
  return text_done(&out);
}

static const char *pages(struct arena *arena, const struct network *network, uint64_t seed) {
  struct run *run = run_new(NULL, network);
  struct text out;
  text_init(&out, arena);
  random_case(run, &seed, 4 + (size_t)(seed % 30));
  assert_true(run_chain(run, NULL));
  answer_text(&out, run, false);
  struct json json;
  json_start(&json, &out, false);
  answer_json(&json, run);
  text_add_bytes(&out, (const char *)run->certainty,
                 network->model->n_claims * sizeof *run->certainty);
  char *copy = arena_take(arena, out.n + 1);
  memcpy(copy, out.at, out.n);
  size_t n = out.n;
  run_free(run);
  /* the length is part of what is compared */
  char *counted = arena_take(arena, n + 1 + sizeof n);
  memcpy(counted, &n, sizeof n);
  memcpy(counted + sizeof n, copy, n);
  return counted;
}

static void assert_same_pages(const char *a, const char *b) {
  size_t n, m;
  memcpy(&n, a, sizeof n);
  memcpy(&m, b, sizeof m);
  assert_int_equal(n, m);
  assert_memory_equal(a + sizeof n, b + sizeof n, n);
}

static void compare(const struct knowledge *plain, const struct knowledge *other) {
  struct arena *arena = arena_new(NULL);
  assert_true(plain->network->digest == other->network->digest);
  for (uint64_t i = 0; i < CASES; i++)
    assert_same_pages(pages(arena, plain->network, i), pages(arena, other->network, i));
  arena_free(arena);
}

static void network_compile__order_of_files_leaves_no_mark(void **state) {
  struct knowledge plain, other;
  (void)state;
  assert_true(knowledge_load_shipped(&plain, 0));
  for (uint64_t seed = 1; seed <= 2; seed++) {
    assert_true(knowledge_load_shipped(&other, seed));
    compare(&plain, &other);
    knowledge_free(&other);
  }
  knowledge_free(&plain);
}

static void network_compile__order_of_entries_keys_and_clauses_leaves_no_mark(void **state) {
  struct knowledge plain, other;
  struct arena *arena = arena_new(NULL);
  (void)state;
  assert_true(knowledge_load_shipped(&plain, 0));
  for (uint64_t seed = 1; seed <= 3; seed++) {
    const char *yaml = shuffled_knowledge(arena, seed);
    if (!knowledge_load_text(&other, yaml)) knowledge_print(&other);
    assert_non_null(other.network);
    compare(&plain, &other);
    knowledge_free(&other);
  }
  knowledge_free(&plain);
  arena_free(arena);
}

/* The comparison can fail: one strength changed is another digest. */
static void network_compile__a_changed_strength_changes_the_digest(void **state) {
  static const char yaml[] =
      "- evidence: path\n  title: path\n  about: x\n  kind: number\n  unit: deg\n  range: [-9, 9]\n"
      "  error: 1\n  spread: 1\n  ask: x\n  effort: look\n  source: practice\n"
      "- finding: f\n  title: f\n  about: f\n"
      "- rule: r\n  when: {path: {above: 2}}\n  then: {f: 0.%c}\n  because: x\n  kind: geometry\n"
      "  source: practice\n";
  struct knowledge a, b;
  char text[sizeof yaml];
  (void)state;
  snprintf(text, sizeof text, yaml, '4');
  assert_true(knowledge_load_text(&a, text));
  snprintf(text, sizeof text, yaml, '5');
  assert_true(knowledge_load_text(&b, text));
  assert_true(a.network->digest != b.network->digest);
  knowledge_free(&a);
  knowledge_free(&b);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(network_compile__order_of_files_leaves_no_mark),
      cmocka_unit_test(network_compile__order_of_entries_keys_and_clauses_leaves_no_mark),
      cmocka_unit_test(network_compile__a_changed_strength_changes_the_digest),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
