/* One flag a kind and a place. Claims are counted from the first of their kind: drill i is claim
 * first_drill + i. */
#include "workshop/coverage.h"

#include <math.h>

#include "explain/explain.h"

/* Questions that an answer asks at most; see render/answer.c. */
#define CHECKS_SHOWN 3

/* ---- making it ---- */

static bool is_numeric(const struct condition *condition) {
  return condition->kind <= CONDITION_NEAR || condition->kind == CONDITION_FORMULA;
}

static size_t list_limits(const struct condition *condition, size_t test, struct threshold *out) {
  size_t n = 0;
  if (!is_numeric(condition)) return 0;
  if (condition->kind == CONDITION_FORMULA) {
    out[n++] = (struct threshold){test, 0};
    return n;
  }
  if (!isinf(condition->low)) out[n++] = (struct threshold){test, condition->low};
  if (!isinf(condition->high)) out[n++] = (struct threshold){test, condition->high};
  return n;
}

static bool make_thresholds(struct coverage *coverage, struct arena *arena) {
  const struct network *network = coverage->network;
  struct threshold *list = arena_new_array(arena, struct threshold, 2 * network->n_tests + 1);
  size_t n = 0;
  if (!list) return false;
  for (size_t i = 0; i < network->n_tests; i++)
    n += list_limits(network->tests[i].condition, i, &list[n]);
  coverage->thresholds = list;
  coverage->of[COVERED_BELOW] = coverage->of[COVERED_ABOVE] = n;
  return true;
}

static size_t *new_index(struct arena *arena, size_t n) {
  size_t *index = arena_new_array(arena, size_t, n + 1);
  for (size_t i = 0; index && i < n; i++) index[i] = NO_INDEX;
  return index;
}

static bool make_text_indices(struct coverage *coverage, struct arena *arena) {
  const struct model *model = coverage->network->model;
  coverage->text_of_rule = new_index(arena, model->n_rules);
  coverage->text_of_claim = new_index(arena, model->n_claims);
  coverage->text_of_red_flag = new_index(arena, model->n_claims);
  coverage->text_of_evidence = new_index(arena, model->n_evidence);
  return coverage->text_of_rule && coverage->text_of_claim && coverage->text_of_red_flag &&
         coverage->text_of_evidence;
}

static bool make_texts(struct coverage *coverage, struct arena *arena) {
  const struct model *model = coverage->network->model;
  size_t room = model->n_rules + 2 * model->n_claims + model->n_evidence, n = 0;
  struct owned_text *list = arena_new_array(arena, struct owned_text, room + 1);
  if (!list || !make_text_indices(coverage, arena)) return false;
#define ADD_TEXT(index, owner_kind, i)                                                             \
  (coverage->index[i] = n, list[n++] = (struct owned_text){owner_kind, i})
  for (size_t i = 0; i < model->n_rules; i++) ADD_TEXT(text_of_rule, TEXT_OF_RULE, i);
  for (size_t i = 0; i < model->n_claims; i++) ADD_TEXT(text_of_claim, TEXT_OF_CLAIM, i);
  for (size_t i = 0; i < model->n_claims; i++)
    if (model->claims[i].red_flag.n > 0) ADD_TEXT(text_of_red_flag, TEXT_OF_RED_FLAG, i);
  for (size_t i = 0; i < model->n_evidence; i++)
    if (model->evidence[i].ask.n > 0) ADD_TEXT(text_of_evidence, TEXT_OF_EVIDENCE, i);
#undef ADD_TEXT
  coverage->texts = list;
  coverage->of[COVERED_TEXT] = n;
  return true;
}

struct coverage *coverage_new(struct arena *arena, const struct network *network) {
  const struct model *model = network->model;
  struct coverage *coverage = arena_new_object(arena, struct coverage);
  if (!coverage) return NULL;
  coverage->network = network;
  size_t *of = coverage->of;
  of[COVERED_FIRED] = of[COVERED_FAILED] = model->n_rules;
  of[COVERED_HELD] = of[COVERED_NOT_HELD] = network->n_tests;
  of[COVERED_DRILL] = model->n_claims - model->first_drill;
  of[COVERED_LEADING] = of[COVERED_CANDIDATE] = model->first_drill - model->first_cause;
  if (!make_thresholds(coverage, arena) || !make_texts(coverage, arena)) return NULL;
  for (size_t kind = 0; kind < COVERED_KINDS; kind++) {
    coverage->seen[kind] = arena_new_array(arena, bool, of[kind] + 1);
    if (!coverage->seen[kind]) return NULL;
  }
  return coverage;
}

/* ---- gathering ---- */

static void mark(struct coverage *coverage, enum covered kind, size_t i) {
  coverage->seen[kind][i] = true;
}

static void add_rules(struct coverage *coverage, const struct run *run) {
  for (size_t i = 0; i < coverage->of[COVERED_FIRED]; i++) {
    if (run->rules[i] == RULE_FIRED) mark(coverage, COVERED_FIRED, i);
    if (run->rules[i] == RULE_FAILED) mark(coverage, COVERED_FAILED, i);
  }
}

static void add_conditions(struct coverage *coverage, const struct run *run) {
  for (size_t i = 0; i < coverage->of[COVERED_HELD]; i++) {
    if (!run->tests[i].known) continue;
    bool held = run->tests[i].belief > BELIEF_THRESHOLD;
    mark(coverage, held ? COVERED_HELD : COVERED_NOT_HELD, i);
  }
}

/* Where the value lies from the limit: below 0, above 0, 0 when it is there or not known. A
 * formula is a difference, whose sign its belief has. */
static double side_of(const struct run *run, const struct threshold *threshold) {
  const struct condition *condition = run->network->tests[threshold->test].condition;
  if (condition->kind == CONDITION_FORMULA)
    return run->tests[threshold->test].known ? run->tests[threshold->test].belief : 0;
  const struct reading *reading = &run->readings[condition->evidence];
  return reading->state == READING_UNKNOWN ? 0 : reading->number - threshold->limit;
}

static void add_thresholds(struct coverage *coverage, const struct run *run) {
  for (size_t i = 0; i < coverage->of[COVERED_BELOW]; i++) {
    double side = side_of(run, &coverage->thresholds[i]);
    if (side < 0) mark(coverage, COVERED_BELOW, i);
    if (side > 0) mark(coverage, COVERED_ABOVE, i);
  }
}

static void add_causes(struct coverage *coverage, const struct run *run) {
  size_t first = run->network->model->first_cause;
  for (size_t i = 0; i < run->n_causes; i++) {
    const struct ranked_cause *cause = &run->causes[i];
    if (cause->standing == STANDING_LEADING) mark(coverage, COVERED_LEADING, cause->claim - first);
    else if (cause->standing != STANDING_UNLIKELY)
      mark(coverage, COVERED_CANDIDATE, cause->claim - first);
  }
}

static void mark_text(struct coverage *coverage, size_t text) {
  if (text != NO_INDEX) mark(coverage, COVERED_TEXT, text);
}

static void add_step_texts(struct coverage *coverage, const struct run *run,
                           struct arena *scratch) {
  struct chain chain = chain_of_answer(scratch, run, false);
  for (size_t i = 0; i < chain.n; i++) {
    const struct step *step = &chain.steps[i];
    if (step->kind == STEP_RULE) mark_text(coverage, coverage->text_of_rule[step->index]);
    if (step->kind == STEP_CLAIM) mark_text(coverage, coverage->text_of_claim[step->index]);
  }
}

static void add_texts(struct coverage *coverage, const struct run *run, struct arena *scratch) {
  size_t drill = run_drill(run);
  add_step_texts(coverage, run, scratch);
  for (size_t i = 0; i < run->network->model->first_cause; i++)
    if (run->certainty[i] > BELIEF_THRESHOLD) mark_text(coverage, coverage->text_of_claim[i]);
  for (size_t i = 0; i < run->n_causes; i++)
    if (run->causes[i].standing <= STANDING_POSSIBLE)
      mark_text(coverage, coverage->text_of_claim[run->causes[i].claim]);
  for (size_t i = 0; i < run->n_drills; i++)
    if (run->drills[i].removal == REMOVAL_RULE)
      mark_text(coverage, coverage->text_of_rule[run->drills[i].removed_by]);
  if (drill != NO_INDEX) mark_text(coverage, coverage->text_of_claim[drill]);
  if (run->red_flag != NO_INDEX) mark_text(coverage, coverage->text_of_red_flag[run->red_flag]);
  for (size_t i = 0; i < run->n_checks && i < CHECKS_SHOWN; i++)
    mark_text(coverage, coverage->text_of_evidence[run->checks[i].evidence]);
}

void coverage_add(struct coverage *coverage, const struct run *run, struct arena *scratch) {
  size_t drill = run_drill(run);
  add_rules(coverage, run);
  add_conditions(coverage, run);
  add_thresholds(coverage, run);
  if (drill != NO_INDEX) mark(coverage, COVERED_DRILL, drill - run->network->model->first_drill);
  add_causes(coverage, run);
  add_texts(coverage, run, scratch);
}

/* ---- looking ---- */

size_t coverage_count(const struct coverage *coverage, enum covered kind) {
  size_t n = 0;
  for (size_t i = 0; i < coverage->of[kind]; i++) n += coverage->seen[kind][i];
  return n;
}

unsigned coverage_percent(size_t n, size_t of) {
  return of == 0 ? 100 : (unsigned)(100 * n / of);
}

static struct span place_of_text(const struct model *model, const struct owned_text *text) {
  switch (text->owner) {
  case TEXT_OF_RULE: return model->rules[text->index].at;
  case TEXT_OF_EVIDENCE: return model->evidence[text->index].at;
  case TEXT_OF_CLAIM:
  case TEXT_OF_RED_FLAG: break;
  }
  return model->claims[text->index].at;
}

struct span coverage_place(const struct coverage *coverage, enum covered kind, size_t i) {
  const struct network *network = coverage->network;
  const struct model *model = network->model;
  switch (kind) {
  case COVERED_FIRED:
  case COVERED_FAILED: return model->rules[i].at;
  case COVERED_HELD:
  case COVERED_NOT_HELD: return network->tests[i].condition->at;
  case COVERED_BELOW:
  case COVERED_ABOVE: return network->tests[coverage->thresholds[i].test].condition->at;
  case COVERED_DRILL: return model->claims[model->first_drill + i].at;
  case COVERED_LEADING:
  case COVERED_CANDIDATE: return model->claims[model->first_cause + i].at;
  case COVERED_TEXT: return place_of_text(model, &coverage->texts[i]);
  case COVERED_KINDS: break;
  }
  return (struct span){0};
}

const char *covered_words(enum covered kind) {
  static const char *const words[] = {"rules fired",         "rules failed",     "conditions held",
                                      "conditions not held", "thresholds below", "thresholds above",
                                      "drills first",        "causes leading",   "causes open",
                                      "texts shown"};
  return words[kind];
}
