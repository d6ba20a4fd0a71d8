/* The small knowledge with one thing wrong at a time: each value of it in turn left out, or written
 * as something else. Either a fault is told at a place in the file, or it is knowledge on which a
 * case runs. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "support/cases.h"
#include "support/trial.h"

static const char *const files[] = {"tests/kb_small/kb/cases.yaml", "tests/kb_small/kb/claims.yaml",
                                    "tests/kb_small/kb/evidence.yaml",
                                    "tests/kb_small/rules/rules.yaml"};

/* What a value is written as instead; NULL: it is left out. */
static const char *const instead[] = {NULL, "''",      "-1", "1e999",      "yes",        "{left",
                                      "[]", "[x, {}]", "{}", "{above: 2}", "to the left"};

struct writing {
  struct text out;
  size_t at;     /* the value being written, counted in the order of writing */
  size_t target; /* the value that is written otherwise */
  const char *as;
};

static void write_string(struct text *out, const char *string) {
  text_add_char(out, '"');
  for (; *string; string++) {
    if (*string == '"' || *string == '\\') text_add_char(out, '\\');
    if (*string == '\n') text_add(out, "\\n");
    else text_add_char(out, *string);
  }
  text_add_char(out, '"');
}

static void write_node(struct writing *writing, const struct node *node) {
  struct text *out = &writing->out;
  bool mutated = writing->at++ == writing->target;
  if (mutated && writing->as == NULL) return; /* after a key: nothing */
  if (mutated) {
    text_add(out, writing->as);
    return;
  }
  if (node->kind == NODE_SCALAR) {
    write_string(out, node->text);
    return;
  }
  text_add_char(out, node->kind == NODE_MAP ? '{' : '[');
  for (const struct node *child = node->first; child; child = child->next) {
    bool left_out = writing->at == writing->target && writing->as == NULL;
    if (node->kind == NODE_MAP && !left_out) {
      write_string(out, child->key);
      text_add(out, ": ");
    }
    write_node(writing, child);
    if (!left_out) text_add(out, child->next ? ",\n" : "");
  }
  text_add_char(out, node->kind == NODE_MAP ? '}' : ']');
}

static struct source *read_file(struct arena *arena, const char *path) {
  struct source *source = arena_new_object(arena, struct source);
  char *bytes = arena_take(arena, 1 << 16);
  FILE *in = fopen(path, "rb");
  assert_non_null(in);
  source->name = path;
  source->n = fread(bytes, 1, (1 << 16) - 1, in);
  source->bytes = bytes;
  fclose(in);
  return source;
}

/* All entries as one list. */
static struct node *read_whole(struct arena *arena) {
  struct node *whole = arena_new_object(arena, struct node);
  struct node **end = &whole->first;
  struct diags diags;
  diags_init(&diags, arena);
  whole->kind = NODE_LIST;
  for (size_t i = 0; i < COUNT_OF(files); i++) {
    struct node *list = node_read(arena, read_file(arena, files[i]), &diags);
    assert_non_null(list);
    for (*end = list->first; *end; end = &(*end)->next) whole->n++;
  }
  return whole;
}

static void check_faults(struct knowledge *knowledge) {
  for (size_t i = 0; i < knowledge->diags.list.n; i++) {
    const struct diag *diag = &knowledge->diags.list.at[i];
    size_t n;
    if (diag->level != DIAG_ERROR) continue;
    if (!diag->at.source || !source_line(diag->at.source, diag->at.line, &n))
      fail_msg("%s is told without a place: %s", diag_word(diag->code), diag->message);
    /* every word of a message is filled in */
    if (strstr(diag->message, "{0}") || strstr(diag->message, "{1}") ||
        strstr(diag->message, "{2}") || strstr(diag->message, "{3}"))
      fail_msg("%s: %s", diag_word(diag->code), diag->message);
  }
}

static void check_run(struct knowledge *knowledge, uint64_t seed) {
  struct run *run = run_new(NULL, knowledge->network);
  random_case(run, &seed, 6);
  assert_true(run_chain(run, &knowledge->diags));
  for (size_t i = 0; i < knowledge->model->n_claims; i++) assert_true(fabs(run->certainty[i]) <= 1);
  run_free(run);
}

/* True when the mutant loads. */
static bool try_mutant(const struct node *whole, size_t target, const char *as, size_t *count) {
  struct arena *arena = arena_new(NULL);
  struct knowledge knowledge;
  struct writing writing = {.target = target, .as = as};
  text_init(&writing.out, arena);
  write_node(&writing, whole);
  *count = writing.at;
  bool loads = knowledge_load_text(&knowledge, text_done(&writing.out));
  if (loads) check_run(&knowledge, target);
  else check_faults(&knowledge);
  knowledge_free(&knowledge);
  arena_free(arena);
  return loads;
}

static void model_read__one_thing_wrong_at_a_time(void **state) {
  struct arena *arena = arena_new(NULL);
  const struct node *whole = read_whole(arena);
  size_t count, mutants = 0, loads = 0;
  (void)state;
  assert_true(try_mutant(whole, SIZE_MAX, NULL, &count));
  for (size_t target = 1; target < count; target++)
    for (size_t i = 0; i < COUNT_OF(instead); i++, mutants++) {
      size_t written;
      loads += try_mutant(whole, target, instead[i], &written);
    }
  print_message("# %zu mutants of %zu values, of which %zu load\n", mutants, count, loads);
  assert_true(mutants > 3000 && loads > 100 && loads < mutants / 2);
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(model_read__one_thing_wrong_at_a_time),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
