/* Why and why not as JSON: the same facts as the text, names and numbers in full. */
#include <math.h>

#include "model/formula.h"
#include "render/steps.h"
#include "render/steps_parts.h"
#include "render/why.h"
#include "render/why_parts.h"

struct page {
  struct json *json;
  const struct run *run;
  const struct model *model;
};

static const char *const RULE_STATES[] = {"failed", "fired", "unknown"};

static void add_words(struct page *page, const char *key, const struct wording *wording) {
  if (wording->n != 0) steps_key_wording(page->json, key, page->run, wording);
}

static void add_subject(struct page *page, struct subject subject) {
  json_key_string(page->json, "kind", subject_kind_word(page->model, subject));
  json_key_string(page->json, "name", subject_name(page->model, subject));
  steps_key_place(page->json, subject_span(page->model, subject));
}

/* ---- clauses that miss ---- */

static void add_shortfall(struct page *page, const struct shortfall *shortfall) {
  const struct condition *condition = page->run->network->tests[shortfall->test].condition;
  json_object(page->json);
  json_key_string(page->json, "condition", condition->printed);
  json_key_bool(page->json, "must_not_hold", shortfall->negated);
  steps_key_judgement(page->json, "belief", &shortfall->judged);
  if (condition->evidence != NO_INDEX)
    json_key_string(page->json, "evidence", page->model->evidence[condition->evidence].name);
  if (condition->claim != NO_INDEX)
    json_key_string(page->json, "claim", page->model->claims[condition->claim].name);
  if (shortfall->measured) {
    json_key_number(page->json, "misses_by", shortfall->units);
    json_key_number(page->json, "misses_by_errors", shortfall->errors);
  }
  json_end(page->json);
}

static void add_shortfalls(struct page *page, size_t rule) {
  struct shortfalls shortfalls = rule_shortfalls(page->json->out->arena, page->run, rule);
  json_key_list(page->json, "missed");
  for (size_t i = 0; i < shortfalls.n; i++) add_shortfall(page, &shortfalls.list[i]);
  json_end(page->json);
}

static void add_rules(struct page *page, const char *key, const struct support *list, size_t n) {
  json_key_list(page->json, key);
  for (size_t i = 0; i < n; i++) {
    const struct rule *rule = &page->model->rules[list[i].rule];
    json_object(page->json);
    json_key_string(page->json, "rule", rule->name);
    json_key_string(page->json, "state", RULE_STATES[list[i].state]);
    json_key_number(page->json, "strength", list[i].strength);
    if (list[i].state == RULE_FAILED) json_key_number(page->json, "premise", list[i].premise);
    steps_key_place(page->json, rule->at);
    add_shortfalls(page, list[i].rule);
    json_end(page->json);
  }
  json_end(page->json);
}

static void add_not_fired(struct page *page, size_t claim) {
  struct supports supports = claim_supports(page->json->out->arena, page->run, claim);
  const struct support *unknown = supports.list + supports.n_counted + supports.n_overshadowed;
  add_rules(page, "not_held", unknown + supports.n_unknown, supports.n_failed);
  add_rules(page, "not_judged", unknown, supports.n_unknown);
}

/* ---- subjects ---- */

static void add_claim(struct page *page, size_t claim) {
  size_t place = why_cause_place(page->run, claim);
  steps_claim_json(page->json, page->run, claim);
  add_words(page, "about", &page->model->claims[claim].about);
  add_words(page, "tell_apart", &page->model->claims[claim].tell_apart);
  if (place != NO_INDEX)
    json_key_string(page->json, "standing", standing_word(page->run->causes[place].standing));
}

static void add_drill(struct page *page, size_t claim) {
  size_t place = why_drill_place(page->run, claim);
  json_key_bool(page->json, "chosen", run_drill(page->run) == claim);
  json_key_bool(page->json, "of_use", place != NO_INDEX);
  if (place != NO_INDEX) steps_drill_json(page->json, page->run, NULL, &page->run->drills[place]);
  else steps_claim_json(page->json, page->run, claim);
}

static void add_formulas(struct page *page, size_t evidence) {
  const struct evidence *about = &page->model->evidence[evidence];
  json_key_list(page->json, "formulas");
  for (size_t i = 0; i < about->n_formulas; i++) {
    json_object(page->json);
    json_key_string(page->json, "formula", about->formulas[i]->text);
    json_key_list(page->json, "lacks");
    for (size_t k = 0; k < about->formulas[i]->n_inputs; k++)
      if (page->run->readings[about->formulas[i]->inputs[k]].state == READING_UNKNOWN)
        json_string(page->json, page->model->evidence[about->formulas[i]->inputs[k]].name);
    json_end(page->json);
    json_end(page->json);
  }
  json_end(page->json);
}

static void add_evidence(struct page *page, size_t evidence) {
  const struct evidence *about = &page->model->evidence[evidence];
  steps_reading_json(page->json, page->run, evidence);
  add_words(page, "about", &about->about);
  if (page->run->readings[evidence].state != READING_UNKNOWN) return;
  add_words(page, "ask", &about->ask);
  json_key_string(page->json, "effort", effort_word(about->effort));
  add_formulas(page, evidence);
}

static void add_body(struct page *page, struct subject subject) {
  add_subject(page, subject);
  if (subject.kind == SUBJECT_EVIDENCE) add_evidence(page, subject.index);
  else if (subject.kind == SUBJECT_RULE)
    steps_rule_json(page->json, page->run, NULL, subject.index);
  else if (page->model->claims[subject.index].kind == CLAIM_DRILL) add_drill(page, subject.index);
  else add_claim(page, subject.index);
}

void why_json(struct json *json, const struct run *run, struct subject subject) {
  struct page page = {json, run, run->network->model};
  struct chain chain = chain_of_subject(json->out->arena, run, subject);
  json_object(json);
  add_body(&page, subject);
  if (subject.kind == SUBJECT_RULE) add_shortfalls(&page, subject.index);
  if (subject.kind == SUBJECT_CLAIM) {
    steps_key_supports(json, run, &chain, subject.index);
    add_not_fired(&page, subject.index);
  }
  json_key(json, "steps");
  steps_chain_json(json, run, &chain);
  json_end(json);
}

/* ---- why not ---- */

/* What is asked after is so after all. */
static bool is_so(const struct page *page, struct subject subject) {
  const struct run *run = page->run;
  switch (subject.kind) {
  case SUBJECT_EVIDENCE: return run->readings[subject.index].state != READING_UNKNOWN;
  case SUBJECT_RULE: return run->rules[subject.index] == RULE_FIRED;
  default: break;
  }
  switch (page->model->claims[subject.index].kind) {
  case CLAIM_CAUSE: return run_leading(run) == subject.index;
  case CLAIM_DRILL: return run_drill(run) == subject.index;
  case CLAIM_FINDING: break;
  }
  return run->claims[subject.index] == CLAIM_KNOWN &&
         run->certainty[subject.index] > BELIEF_THRESHOLD;
}

static void add_rival(struct page *page, size_t claim) {
  enum claim_kind kind = page->model->claims[claim].kind;
  size_t rival = kind == CLAIM_CAUSE   ? run_leading(page->run)
                 : kind == CLAIM_DRILL ? run_drill(page->run)
                                       : NO_INDEX;
  json_key(page->json, "rival");
  if (rival == NO_INDEX || rival == claim) {
    json_null(page->json);
    return;
  }
  json_object(page->json);
  if (kind == CLAIM_DRILL) add_drill(page, rival);
  else add_claim(page, rival);
  json_end(page->json);
}

void whynot_json(struct json *json, const struct run *run, struct subject subject) {
  struct page page = {json, run, run->network->model};
  json_object(json);
  add_body(&page, subject);
  json_key_bool(json, "is_so", is_so(&page, subject));
  if (subject.kind == SUBJECT_RULE) add_shortfalls(&page, subject.index);
  if (subject.kind == SUBJECT_CLAIM) {
    add_rival(&page, subject.index);
    steps_key_supports(json, run, NULL, subject.index);
    add_not_fired(&page, subject.index);
    json_key_string(json, "red_flag",
                    run->red_flag != NO_INDEX ? page.model->claims[run->red_flag].name : NULL);
  }
  json_end(json);
  if (arena_failed(json->out->arena)) json->out->failed = true;
}
