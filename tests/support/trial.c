#include "support/trial.h"

#include <math.h>
#include <string.h>

#include "support/cases.h"

/* The pieces in one string of the arena. */
static const char *join(struct arena *arena, const char *const *pieces) {
  struct text text;
  text_init(&text, arena);
  for (; *pieces; pieces++) text_add(&text, *pieces);
  assert_non_null(text_done(&text));
  return text_done(&text);
}

void trial_open(struct trial *trial, const char *const *pieces) {
  struct arena *arena = arena_new(NULL);
  if (!knowledge_load_text(&trial->knowledge, join(arena, pieces))) {
    knowledge_print(&trial->knowledge);
    fail_msg("the knowledge of the test is faulty");
  }
  arena_free(arena);
  trial->model = trial->knowledge.model;
  trial->network = trial->knowledge.network;
  trial->run = run_new(NULL, trial->network);
  assert_non_null(trial->run);
}

void trial_close(struct trial *trial) {
  run_free(trial->run);
  knowledge_free(&trial->knowledge);
}

const char *trial_faults(struct arena *arena, const char *const *pieces) {
  struct knowledge knowledge;
  struct text text;
  text_init(&text, arena);
  if (knowledge_load_text(&knowledge, join(arena, pieces))) fail_msg("no fault was found");
  diags_print(&text, &knowledge.diags);
  assert_non_null(text_done(&text));
  knowledge_free(&knowledge);
  return text_done(&text);
}

void trial_give(struct trial *trial, const char *evidence, const char *text) {
  struct value value;
  size_t index = trial_evidence(trial, evidence);
  if (!value_read(trial->knowledge.arena, &trial->knowledge.diags, trial->model, index, text,
                  (struct span){0}, &value)) {
    knowledge_print(&trial->knowledge);
    fail_msg("%s=%s is faulty", evidence, text);
  }
  assert_true(run_give(trial->run, &value));
}

void trial_chain(struct trial *trial) {
  assert_true(run_chain(trial->run, &trial->knowledge.diags));
}

void trial_try(struct trial *trial, const char *const *evidence) {
  char name[64];
  run_reset(trial->run);
  for (; *evidence; evidence++) {
    size_t n = strcspn(*evidence, "=");
    assert_true(n < sizeof name && (*evidence)[n] == '=');
    memcpy(name, *evidence, n);
    name[n] = '\0';
    trial_give(trial, name, *evidence + n + 1);
  }
  trial_chain(trial);
}

static size_t must_find(size_t index, const char *name) {
  if (index == NO_INDEX) fail_msg("there is no %s", name);
  return index;
}

size_t trial_evidence(const struct trial *trial, const char *name) {
  return must_find(model_find_evidence(trial->model, name), name);
}

size_t trial_claim(const struct trial *trial, const char *name) {
  return must_find(model_find_claim(trial->model, name), name);
}

size_t trial_rule(const struct trial *trial, const char *name) {
  return must_find(model_find_rule(trial->model, name), name);
}

const struct reading *trial_reading(const struct trial *trial, const char *name) {
  return &trial->run->readings[trial_evidence(trial, name)];
}

double trial_certainty(const struct trial *trial, const char *name) {
  return trial->run->certainty[trial_claim(trial, name)];
}

const struct judgement *trial_premise(const struct trial *trial, const char *rule) {
  return &trial->run->nodes[trial->network->rules[trial_rule(trial, rule)].first_node];
}

void assert_near(double got, double wanted, double tolerance) {
  if (!(fabs(got - wanted) <= tolerance)) fail_msg("%.17g is not %.17g", got, wanted);
}
