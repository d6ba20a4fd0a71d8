/* The chain of steps: what the answer rests on, traced back from the claims through rules to the
 * readings. Marking goes down the layers, so it ends; steps are then listed upwards, each after all
 * that it rests on. */
#include "explain/explain.h"
#include "model/formula.h"

struct marks {
  const struct run *run;
  bool all;
  bool *evidence, *rules, *claims, *drills;
};

/* Of an `any` that holds only the surest clauses matter; of every other join all do. */
bool clause_decides(const struct run *run, size_t joined, size_t clause) {
  const struct judgement *whole = &run->nodes[joined], *part = &run->nodes[clause];
  bool one_is_enough = run->network->nodes[joined].kind == CONDITION_ANY && whole->known &&
                       whole->belief > BELIEF_THRESHOLD;
  return !one_is_enough || (part->known && part->belief == whole->belief);
}

static bool marks_new(struct marks *marks, struct arena *arena, const struct run *run) {
  const struct model *model = run->network->model;
  marks->run = run;
  marks->all = false;
  marks->evidence = arena_new_array(arena, bool, model->n_evidence + 1);
  marks->rules = arena_new_array(arena, bool, model->n_rules + 1);
  marks->claims = arena_new_array(arena, bool, model->n_claims + 1);
  marks->drills = arena_new_array(arena, bool, run->n_drills + 1);
  return marks->evidence != NULL && marks->rules != NULL && marks->claims != NULL &&
         marks->drills != NULL;
}

/* ---- marking, downwards ---- */

static void mark_claim(struct marks *marks, size_t claim);

static void mark_evidence(struct marks *marks, size_t evidence);

/* What its own error is reckoned from counts too. */
static void mark_formula(struct marks *marks, const struct formula *formula) {
  for (size_t i = 0; i < formula->n_inputs; i++) mark_evidence(marks, formula->inputs[i]);
  if (formula->doubt != NULL) mark_formula(marks, formula->doubt);
}

static void mark_evidence(struct marks *marks, size_t evidence) {
  const struct reading *reading = &marks->run->readings[evidence];
  if (reading->state == READING_UNKNOWN || marks->evidence[evidence]) return;
  marks->evidence[evidence] = true;
  if (reading->state != READING_DERIVED) return;
  if (reading->formula == NULL) mark_evidence(marks, marks->run->network->model->club_evidence);
  else mark_formula(marks, reading->formula);
}

static void mark_leaf(struct marks *marks, const struct condition *condition) {
  if (condition->evidence != NO_INDEX) mark_evidence(marks, condition->evidence);
  if (condition->claim != NO_INDEX) mark_claim(marks, condition->claim);
  for (size_t i = 0; condition->formula != NULL && i < condition->formula->n_inputs; i++)
    mark_evidence(marks, condition->formula->inputs[i]);
}

static void mark_premise(struct marks *marks, size_t index) {
  const struct network *network = marks->run->network;
  const struct premise_node *node = &network->nodes[index];
  if (node->test != NO_INDEX) {
    mark_leaf(marks, network->tests[node->test].condition);
    return;
  }
  size_t child = index + 1;
  for (size_t i = 0; i < node->n_clauses; i++) {
    if (marks->all || clause_decides(marks->run, index, child)) mark_premise(marks, child);
    child += network->nodes[child].n_nodes;
  }
}

static void mark_rule(struct marks *marks, size_t rule) {
  if (marks->rules[rule]) return;
  marks->rules[rule] = true;
  mark_premise(marks, marks->run->network->rules[rule].first_node);
}

/* Overshadowed rules too: that they fired and did not count belongs to the explanation. */
static void mark_claim(struct marks *marks, size_t claim) {
  const struct network *network = marks->run->network;
  if (marks->claims[claim] || marks->run->claims[claim] != CLAIM_KNOWN) return;
  marks->claims[claim] = true;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++)
    if (marks->run->contributions[i].state != CONTRIBUTION_NONE)
      mark_rule(marks, network->contributions[i].rule);
}

static void mark_drill(struct marks *marks, size_t place) {
  const struct ranked_drill *ranked = &marks->run->drills[place];
  marks->drills[place] = true;
  mark_claim(marks, ranked->claim);
  for (size_t i = 0; i < ranked->n_shares; i++)
    if (ranked->shares[i].part > 0) mark_claim(marks, ranked->shares[i].cause);
  if (marks->run->network->needs[ranked->claim] != NO_INDEX)
    mark_premise(marks, marks->run->network->needs[ranked->claim]);
  if (ranked->removal == REMOVAL_RULE) mark_rule(marks, ranked->removed_by);
}

static void mark_all(struct marks *marks) {
  const struct run *run = marks->run;
  marks->all = true;
  for (size_t i = 0; i < run->network->model->n_evidence; i++) mark_evidence(marks, i);
  for (size_t i = 0; i < run->network->model->n_rules; i++) mark_rule(marks, i);
  for (size_t i = 0; i < run->network->model->n_claims; i++) mark_claim(marks, i);
  for (size_t i = 0; i < run->n_drills; i++) mark_drill(marks, i);
}

static size_t place_of_drill(const struct run *run, size_t claim) {
  for (size_t i = 0; i < run->n_drills; i++)
    if (run->drills[i].claim == claim) return i;
  return NO_INDEX;
}

/* ---- listing, upwards ---- */

struct list {
  ARRAY(struct step) steps;
  struct arena *arena;
};

static void list_add(struct list *list, enum step_kind kind, size_t index) {
  struct step *step = array_push(list->arena, &list->steps);
  if (step != NULL) *step = (struct step){kind, index};
}

static void list_derived(struct list *list, struct marks *marks, size_t evidence);

static void list_inputs(struct list *list, struct marks *marks, const struct formula *formula) {
  for (size_t i = 0; i < formula->n_inputs; i++) list_derived(list, marks, formula->inputs[i]);
  if (formula->doubt != NULL) list_inputs(list, marks, formula->doubt);
}

/* A derived reading after its inputs; the mark is taken away so that each is listed once. */
static void list_derived(struct list *list, struct marks *marks, size_t evidence) {
  const struct reading *reading = &marks->run->readings[evidence];
  if (!marks->evidence[evidence] || reading->state != READING_DERIVED) return;
  marks->evidence[evidence] = false;
  if (reading->formula != NULL) list_inputs(list, marks, reading->formula);
  list_add(list, STEP_DERIVED, evidence);
}

static void list_readings(struct list *list, struct marks *marks) {
  size_t n = marks->run->network->model->n_evidence;
  for (size_t i = 0; i < n; i++)
    if (marks->evidence[i] && marks->run->readings[i].state == READING_GIVEN)
      list_add(list, STEP_GIVEN, i);
  for (size_t i = 0; i < n; i++) list_derived(list, marks, i);
}

/* Within a layer rules come before claims, because a claim is final only after the last of its
 * rules. */
static void list_layer(struct list *list, const struct marks *marks, size_t layer) {
  const struct network *network = marks->run->network;
  for (size_t i = 0; i < network->model->n_rules; i++) {
    size_t rule = network->order[i];
    if (marks->rules[rule] && network->rules[rule].layer == layer) list_add(list, STEP_RULE, rule);
  }
  for (size_t i = 0; i < network->model->n_claims; i++)
    if (marks->claims[i] && network->claim_layer[i] == layer) list_add(list, STEP_CLAIM, i);
}

/* Known readings, fired rules and known claims of the run: what could be a step. */
static size_t count_possible(const struct run *run) {
  const struct model *model = run->network->model;
  size_t n = 0;
  for (size_t i = 0; i < model->n_evidence; i++) n += run->readings[i].state != READING_UNKNOWN;
  for (size_t i = 0; i < model->n_rules; i++) n += run->rules[i] == RULE_FIRED;
  for (size_t i = 0; i < model->n_claims; i++) n += run->claims[i] == CLAIM_KNOWN;
  return n;
}

static struct chain list_marked(struct arena *arena, struct marks *marks) {
  struct list list = {.arena = arena};
  size_t drills = 0, silent = 0;
  list_readings(&list, marks);
  for (size_t layer = 1; layer <= marks->run->network->n_layers; layer++)
    list_layer(&list, marks, layer);
  for (size_t i = 0; i < marks->run->n_drills; i++) {
    if (!marks->drills[i]) continue;
    list_add(&list, STEP_DRILL, i);
    drills++;
  }
  for (size_t i = 0; i < marks->run->network->model->n_rules; i++)
    silent += marks->rules[i] && marks->run->rules[i] != RULE_FIRED;
  size_t possible = count_possible(marks->run), listed = list.steps.n - drills - silent;
  return (struct chain){list.steps.at, list.steps.n, possible > listed ? possible - listed : 0};
}

/* ---- chains ---- */

/* Where no cause has anything for it, what was found is the answer. */
static void mark_findings(struct marks *marks) {
  const struct run *run = marks->run;
  for (size_t i = 0; i < run->network->model->first_cause; i++)
    if (run->certainty[i] > BELIEF_THRESHOLD) mark_claim(marks, i);
}

static void mark_answer(struct marks *marks) {
  const struct run *run = marks->run;
  size_t cause = run_leading(run), drill = run_drill(run);
  if (cause == NO_INDEX && run->n_causes != 0 && run->causes[0].certainty > 0)
    cause = run->causes[0].claim;
  if (cause != NO_INDEX) mark_claim(marks, cause);
  else mark_findings(marks);
  if (run->red_flag != NO_INDEX) mark_claim(marks, run->red_flag);
  size_t place = drill != NO_INDEX ? place_of_drill(run, drill) : NO_INDEX;
  if (place != NO_INDEX) mark_drill(marks, place);
}

struct chain chain_of_answer(struct arena *arena, const struct run *run, bool all) {
  struct marks marks;
  if (!marks_new(&marks, arena, run)) return (struct chain){0};
  if (all) mark_all(&marks);
  else mark_answer(&marks);
  return list_marked(arena, &marks);
}

struct chain chain_of_subject(struct arena *arena, const struct run *run, struct subject subject) {
  struct marks marks;
  if (!marks_new(&marks, arena, run)) return (struct chain){0};
  if (subject.kind == SUBJECT_EVIDENCE) mark_evidence(&marks, subject.index);
  if (subject.kind == SUBJECT_RULE) mark_rule(&marks, subject.index);
  if (subject.kind == SUBJECT_CLAIM) {
    mark_claim(&marks, subject.index);
    size_t place = place_of_drill(run, subject.index);
    if (place != NO_INDEX) mark_drill(&marks, place);
  }
  return list_marked(arena, &marks);
}

size_t chain_find(const struct chain *chain, enum step_kind kind, size_t index) {
  for (size_t i = 0; i < chain->n; i++)
    if (chain->steps[i].kind == kind && chain->steps[i].index == index) return i;
  return NO_INDEX;
}

const size_t *chain_readings(struct arena *arena, const struct chain *chain, size_t *n) {
  size_t *readings = arena_new_array(arena, size_t, chain->n + 1);
  *n = 0;
  if (readings == NULL) return NULL;
  for (size_t i = 0; i < chain->n; i++)
    if (chain->steps[i].kind == STEP_GIVEN) readings[(*n)++] = chain->steps[i].index;
  return readings;
}
