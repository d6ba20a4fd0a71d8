/* The chain of steps as JSON: the same as the text, with numbers in full. A step names others by
 * their number in "step". */
#include <math.h>
#include <string.h>

#include "model/formula.h"
#include "render/steps.h"
#include "render/steps_parts.h"
#include "render/wording_parts.h"

struct page {
  struct json *json;
  const struct run *run;
  const struct model *model;
  const struct chain *chain;
};

/* ---- parts that other views use ---- */

void steps_key_text(struct json *json, const char *key, const struct text *text) {
  const char *done = text_done(text);
  if (done == NULL) json->out->failed = true;
  json_key_string(json, key, done != NULL ? done : "");
}

void steps_key_wording(struct json *json, const char *key, const struct run *run,
                       const struct wording *wording) {
  struct text text;
  text_init(&text, json->out->arena);
  wording_add(&text, run, wording);
  steps_key_text(json, key, &text);
}

void steps_key_place(struct json *json, struct span at) {
  json_key_object(json, "place");
  json_key_string(json, "file", at.source != NULL ? at.source->name : NULL);
  json_key_count(json, "line", at.line);
  json_key_count(json, "column", at.column);
  json_end(json);
}

void steps_reading_json(struct json *json, const struct run *run, size_t evidence) {
  const struct evidence *about = &run->network->model->evidence[evidence];
  const struct reading *reading = &run->readings[evidence];
  static const char *const states[] = {"unknown", "given", "derived"};
  json_key_string(json, "evidence", about->name);
  json_key_string(json, "title", about->title);
  json_key_string(json, "state", states[reading->state]);
  struct text shown;
  text_init(&shown, json->out->arena);
  wording_reading(&shown, run, evidence);
  steps_key_text(json, "shown", &shown);
  if (reading->state == READING_UNKNOWN) return;
  if (about->kind == EVIDENCE_NUMBER) {
    json_key_number(json, "value", reading->number);
    json_key_number(json, "error", reading->error);
    json_key_string(json, "unit", about->unit->name);
  } else if (about->kind == EVIDENCE_TEXT) {
    json_key_string(json, "value", reading->text);
  } else {
    json_key_string(json, "value", about->choices[reading->choice].name);
    json_key_number(json, "sure", reading->sure);
  }
  if (reading->given != NULL) json_key_string(json, "given_as", reading->given->typed);
  if (reading->given != NULL) json_key_count(json, "shots", wording_shots(run, evidence));
  if (reading->formula != NULL) json_key_string(json, "formula", reading->formula->text);
}

/* ---- readings ---- */

/* Without a chain, or for what is not in it, there is no number to give. */
static void key_step(const struct page *page, const char *key, enum step_kind kind, size_t index) {
  size_t place = page->chain != NULL ? chain_find(page->chain, kind, index) : NO_INDEX;
  if (place != NO_INDEX) json_key_count(page->json, key, place + 1);
}

static void key_reading_step(const struct page *page, size_t evidence) {
  key_step(page, "step", STEP_GIVEN, evidence);
  key_step(page, "step", STEP_DERIVED, evidence);
}

static void add_inputs(const struct page *page, const size_t *inputs, size_t n) {
  json_key_list(page->json, "inputs");
  for (size_t i = 0; i < n; i++) {
    json_object(page->json);
    json_key_string(page->json, "evidence", page->model->evidence[inputs[i]].name);
    key_reading_step(page, inputs[i]);
    json_end(page->json);
  }
  json_end(page->json);
}

/* "own_error": what the knowledge states; the root of the formula's own name also holds what its
 * bend adds. */
static void add_own_error(const struct page *page, const struct formula *formula) {
  json_key_object(page->json, "own_error");
  if (formula->doubt != NULL) {
    json_key_string(page->json, "formula", formula->doubt->text);
    add_inputs(page, formula->doubt->inputs, formula->doubt->n_inputs);
  } else {
    json_key_number(page->json, "stated", formula->error);
  }
  json_end(page->json);
}

static void add_slopes(const struct page *page, const struct reading *reading) {
  json_key_list(page->json, "error_from");
  for (size_t i = 0; reading->gradient != NULL && i < page->run->n_roots; i++) {
    if (reading->gradient[i] == 0) continue;
    json_object(page->json);
    json_key_string(page->json, "evidence", page->model->evidence[page->run->roots[i]].name);
    json_key_bool(page->json, "of_formula", i >= page->run->n_given_roots);
    json_key_number(page->json, "slope", reading->gradient[i]);
    json_key_number(page->json, "error", page->run->root_errors[i]);
    json_end(page->json);
  }
  json_end(page->json);
}

/* "mean_of": [error of one reading, spread, shots] */
static void add_mean(const struct page *page, size_t evidence) {
  unsigned shots = wording_shots(page->run, evidence);
  if (page->model->evidence[evidence].kind != EVIDENCE_NUMBER || shots <= 1) return;
  json_key_list(page->json, "mean_of");
  json_number(page->json, page->run->readings[evidence].given->error);
  json_number(page->json, page->model->evidence[evidence].spread);
  json_count(page->json, shots);
  json_end(page->json);
}

static void add_reading(const struct page *page, size_t evidence) {
  const struct reading *reading = &page->run->readings[evidence];
  steps_reading_json(page->json, page->run, evidence);
  add_mean(page, evidence);
  if (reading->state != READING_DERIVED) return;
  if (reading->formula != NULL)
    add_inputs(page, reading->formula->inputs, reading->formula->n_inputs);
  else add_inputs(page, &page->model->club_evidence, 1);
  if (reading->formula != NULL) add_own_error(page, reading->formula);
  if (page->model->evidence[evidence].kind == EVIDENCE_NUMBER) add_slopes(page, reading);
}

/* ---- rules ---- */

void steps_key_judgement(struct json *json, const char *key, const struct judgement *judged) {
  json_key(json, key);
  if (judged->known) json_number(json, judged->belief);
  else json_null(json);
}

static void add_leaf(const struct page *page, const struct premise_node *node) {
  const struct condition *condition = page->run->network->tests[node->test].condition;
  json_key_string(page->json, "condition", condition->printed);
  steps_key_judgement(page->json, "belief", &page->run->tests[node->test]);
  if (condition->evidence != NO_INDEX) {
    json_key_string(page->json, "evidence", page->model->evidence[condition->evidence].name);
    key_reading_step(page, condition->evidence);
  }
  if (condition->claim != NO_INDEX) {
    json_key_string(page->json, "claim", page->model->claims[condition->claim].name);
    key_step(page, "step", STEP_CLAIM, condition->claim);
  }
  if (condition->formula != NULL)
    add_inputs(page, condition->formula->inputs, condition->formula->n_inputs);
}

static void add_premise(const struct page *page, size_t index, bool decides) {
  const struct premise_node *node = &page->run->network->nodes[index];
  bool joined =
      node->kind == CONDITION_ALL || node->kind == CONDITION_ANY || node->kind == CONDITION_NONE;
  json_object(page->json);
  if (!joined) {
    add_leaf(page, node);
    json_key_bool(page->json, "decides", decides);
    json_end(page->json);
    return;
  }
  json_key_string(page->json, "join",
                  node->kind == CONDITION_ALL   ? "all"
                  : node->kind == CONDITION_ANY ? "any"
                                                : "none");
  steps_key_judgement(page->json, "belief", &page->run->nodes[index]);
  json_key_list(page->json, "clauses");
  size_t child = index + 1;
  for (size_t i = 0; i < node->n_clauses; i++) {
    add_premise(page, child, decides && clause_decides(page->run, index, child));
    child += page->run->network->nodes[child].n_nodes;
  }
  json_end(page->json);
  json_end(page->json);
}

static void add_conclusions(const struct page *page, size_t rule) {
  const struct rule *about = &page->model->rules[rule];
  double premise = page->run->nodes[page->run->network->rules[rule].first_node].belief;
  bool fired = page->run->rules[rule] == RULE_FIRED;
  json_key_list(page->json, "conclusions");
  for (size_t i = 0; i < about->n_then; i++) {
    json_object(page->json);
    json_key_string(page->json, "claim", page->model->claims[about->then[i].claim].name);
    json_key_number(page->json, "strength", about->then[i].strength);
    if (fired) json_key_number(page->json, "value", premise * about->then[i].strength);
    key_step(page, "step", STEP_CLAIM, about->then[i].claim);
    json_end(page->json);
  }
  json_end(page->json);
  json_key_list(page->json, "removes");
  for (size_t i = 0; i < about->n_removes; i++)
    json_string(page->json, page->model->claims[about->removes[i]].name);
  json_end(page->json);
}

void steps_rule_json(struct json *json, const struct run *run, const struct chain *chain,
                     size_t rule) {
  static const char *const states[] = {"failed", "fired", "unknown"};
  struct page page = {json, run, run->network->model, chain};
  const struct rule *about = &page.model->rules[rule];
  json_key_string(json, "rule", about->name);
  steps_key_place(json, about->at);
  json_key_count(json, "layer", run->network->rules[rule].layer);
  json_key_string(json, "state", states[run->rules[rule]]);
  json_key_string(json, "group", about->group);
  json_key_string(json, "rule_kind", rule_kind_word(about->kind));
  json_key_string(json, "source", source_word(page.model, about->source));
  steps_key_wording(json, "because", run, &about->because);
  json_key(json, "premise");
  add_premise(&page, run->network->rules[rule].first_node, true);
  add_conclusions(&page, rule);
}

/* ---- claims and drills ---- */

void steps_key_supports(struct json *json, const struct run *run, const struct chain *chain,
                        size_t claim) {
  struct page page = {json, run, run->network->model, chain};
  struct supports supports = claim_supports(json->out->arena, run, claim);
  json_key_list(json, "contributions");
  for (size_t i = 0; i < supports.n_counted + supports.n_overshadowed; i++) {
    const struct support *support = &supports.list[i];
    json_object(json);
    json_key_string(json, "rule", page.model->rules[support->rule].name);
    key_step(&page, "step", STEP_RULE, support->rule);
    json_key_number(json, "premise", support->premise);
    json_key_number(json, "strength", support->strength);
    json_key_number(json, "value", support->value);
    json_key_bool(json, "counted", support->counted);
    json_key_string(json, "group", page.model->rules[support->rule].group);
    json_end(json);
  }
  json_end(json);
}

void steps_claim_json(struct json *json, const struct run *run, size_t claim) {
  static const char *const states[] = {"silent", "known", "unknown"};
  const struct claim *about = &run->network->model->claims[claim];
  json_key_string(json, claim_kind_word(about->kind), about->name);
  steps_key_wording(json, "title", run, &about->title);
  json_key_string(json, "state", states[run->claims[claim]]);
  json_key_number(json, "certainty", run->certainty[claim]);
}

void steps_drill_json(struct json *json, const struct run *run, const struct chain *chain,
                      const struct ranked_drill *ranked) {
  struct page page = {json, run, run->network->model, chain};
  const struct claim *about = &page.model->claims[ranked->claim];
  json_key_string(json, "drill", about->name);
  steps_key_wording(json, "title", run, &about->title);
  json_key_list(json, "causes");
  for (size_t i = 0; i < ranked->n_shares; i++) {
    json_object(json);
    json_key_string(json, "cause", page.model->claims[ranked->shares[i].cause].name);
    key_step(&page, "step", STEP_CLAIM, ranked->shares[i].cause);
    json_key_number(json, "certainty", ranked->shares[i].certainty);
    json_key_number(json, "effect", ranked->shares[i].effect);
    json_key_number(json, "part", ranked->shares[i].part);
    json_end(json);
  }
  json_end(json);
  json_key_number(json, "from_causes", ranked->from_causes);
  json_key_number(json, "advice", ranked->advice);
  json_key_string(json, "task", about->drill->external ? "external" : "body");
  json_key_number(json, "value", ranked->value);
  json_key_string(json, "removed_by",
                  ranked->removal == REMOVAL_RULE    ? page.model->rules[ranked->removed_by].name
                  : ranked->removal == REMOVAL_NEEDS ? "needs"
                                                     : NULL);
}

/* ---- the whole ---- */

static void add_step(const struct page *page, size_t place) {
  static const char *const kinds[] = {"given", "derived", "rule", "claim", "drill"};
  const struct step *step = &page->chain->steps[place];
  json_object(page->json);
  json_key_count(page->json, "number", place + 1);
  json_key_string(page->json, "kind", kinds[step->kind]);
  switch (step->kind) {
  case STEP_GIVEN:
  case STEP_DERIVED: add_reading(page, step->index); break;
  case STEP_RULE: steps_rule_json(page->json, page->run, page->chain, step->index); break;
  case STEP_CLAIM:
    steps_claim_json(page->json, page->run, step->index);
    steps_key_supports(page->json, page->run, page->chain, step->index);
    break;
  case STEP_DRILL:
    steps_drill_json(page->json, page->run, page->chain, &page->run->drills[step->index]);
    break;
  }
  json_end(page->json);
}

void steps_chain_json(struct json *json, const struct run *run, const struct chain *chain) {
  struct page page = {json, run, run->network->model, chain};
  json_list(json);
  for (size_t i = 0; i < chain->n; i++) add_step(&page, i);
  json_end(json);
  if (arena_failed(json->out->arena)) json->out->failed = true;
}

void steps_json(struct json *json, const struct run *run, bool all) {
  struct chain chain = chain_of_answer(json->out->arena, run, all);
  json_object(json);
  json_key_string(json, "hand", run->hand == HAND_LEFT ? "left" : "right");
  json_key_string(json, "values_for_hand", "right");
  json_key_count(json, "left_out", chain.n_left_out);
  json_key(json, "steps");
  steps_chain_json(json, run, &chain);
  json_end(json);
}
