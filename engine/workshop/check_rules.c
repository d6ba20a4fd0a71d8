/* Single rules: those that can never fire, and conditions that can never hold. */
#include <math.h>

#include "workshop/check_parts.h"

#define CLAUSES_MAX 24

/* ---- which conditions of a rule are in each other's way ---- */

struct clauses {
  const struct condition *at[CLAUSES_MAX];
  size_t n;
};

/* The conditions that must all hold. */
static void gather_clauses(struct clauses *clauses, const struct condition *condition) {
  if (condition->kind == CONDITION_ALL)
    for (size_t i = 0; i < condition->n_clauses; i++)
      gather_clauses(clauses, &condition->clauses[i]);
  else if (clauses->n < CLAUSES_MAX) clauses->at[clauses->n++] = condition;
}

static bool never_together(struct checker *checker, const struct condition *a,
                           const struct condition *b) {
  const struct solve_goal goals[] = {{a, false}, {b, false}};
  return solver_search(checker->solver, goals, a == b ? 1 : 2, NULL, NULL) == SOLVED_NEVER;
}

/* One clause (twice the same) or two that never hold together; false: it takes more than two. */
static bool find_culprits(struct checker *checker, const struct clauses *clauses,
                          const struct condition *culprits[2]) {
  for (size_t apart = 0; apart < clauses->n; apart++)
    for (size_t i = 0; i + apart < clauses->n; i++) {
      culprits[0] = clauses->at[i];
      culprits[1] = clauses->at[i + apart];
      if (never_together(checker, culprits[0], culprits[1])) return true;
    }
  return false;
}

/* A clause that asks of a finding more than its rules give. */
static const struct condition *too_sure(const struct checker *checker,
                                        const struct clauses *clauses) {
  for (size_t i = 0; i < clauses->n; i++)
    if (clauses->at[i]->kind == CONDITION_BELIEVED &&
        !(checker->most[clauses->at[i]->claim] > clauses->at[i]->low))
      return clauses->at[i];
  return NULL;
}

static void note_supporters(struct checker *checker, const struct condition *condition) {
  const struct network *network = checker->network;
  size_t told = 0;
  if (condition->kind != CONDITION_BELIEVED) return;
  size_t end = network->first_contribution[condition->claim + 1];
  for (size_t i = network->first_contribution[condition->claim]; i < end && told < 3; i++) {
    const struct rule *rule = &checker->model->rules[network->contributions[i].rule];
    struct text note;
    if (network->contributions[i].strength <= 0) continue;
    text_init(&note, checker->arena);
    text_format(&note, "'%s' is believed by rule '%s'",
                checker->model->claims[condition->claim].name, rule->name);
    check_note(checker, rule->at, text_done(&note));
    told++;
  }
}

static const char *never_reason(struct checker *checker, const struct condition *a,
                                const struct condition *b) {
  struct text reason;
  text_init(&reason, checker->arena);
  if (a == b) text_format(&reason, "'%s' never holds", a->printed);
  else text_format(&reason, "'%s' and '%s' never hold together", a->printed, b->printed);
  const char *done = text_done(&reason);
  return done ? done : "";
}

static void report_dead(struct checker *checker, const struct rule *rule) {
  struct clauses clauses = {.n = 0};
  const struct condition *culprits[2] = {NULL, NULL};
  gather_clauses(&clauses, rule->when);
  bool found = find_culprits(checker, &clauses, culprits);
  if (!found) culprits[0] = culprits[1] = too_sure(checker, &clauses);
  if (!found && culprits[0] && checker->most[culprits[0]->claim] > BELIEF_THRESHOLD)
    return; /* told at the condition */
  if (!culprits[0]) {
    FIND(checker, NEVER_FIRES, rule->at, rule->at, rule->name,
         "its conditions never hold together");
    return;
  }
  FIND(checker, NEVER_FIRES, rule->at, rule->at, rule->name,
       never_reason(checker, culprits[0], culprits[1]));
  check_note(checker, culprits[0]->at, "this condition");
  note_supporters(checker, culprits[0]);
  if (culprits[1] == culprits[0]) return;
  check_note(checker, culprits[1]->at, "and this one");
  note_supporters(checker, culprits[1]);
}

/* ---- single conditions ---- */

static bool shows_believed(const struct run *run, const void *context) {
  const size_t *claim = context;
  return run->certainty[*claim] > BELIEF_THRESHOLD;
}

/* Believed at times, but never above what the condition asks. */
static void check_certainty(struct checker *checker, const struct rule *rule,
                            const struct condition *leaf) {
  const struct claim *claim = &checker->model->claims[leaf->claim];
  double most = checker->most[leaf->claim];
  if (most > leaf->low || !(most > BELIEF_THRESHOLD)) return;
  struct condition believed = check_believed(leaf->claim, BELIEF_THRESHOLD);
  const struct solve_goal goal = {&believed, false};
  struct witness witness = check_search(checker, &goal, 1, shows_believed, &leaf->claim);
  struct check_finding *finding =
      FIND(checker, NEVER_SO_SURE, leaf->at, rule->at, claim_kind_word(claim->kind), claim->name,
           check_number(checker, most), check_number(checker, leaf->low));
  if (finding) finding->witness = witness;
  check_note(checker, claim->at, "it stands here");
  note_supporters(checker, leaf);
}

/* An interval that a reading with its usual error cannot tell, even from its middle. */
static void check_width(struct checker *checker, const struct rule *rule,
                        const struct condition *leaf) {
  const struct evidence *evidence = &checker->model->evidence[leaf->evidence];
  if (isinf(leaf->low) || isinf(leaf->high) || leaf->kind == CONDITION_OUTSIDE) return;
  double middle = leaf->low / 2 + leaf->high / 2;
  if (belief_between(middle, evidence->error, leaf->low, leaf->high) > BELIEF_THRESHOLD) return;
  struct domain domain = {leaf->low, leaf->high, 0, true, true, false, NULL};
  struct value *value = arena_new_object(checker->arena, struct value);
  struct check_finding *finding = FIND(checker, WITHIN_ERROR, leaf->at, rule->at, leaf->printed,
                                       check_number(checker, evidence->error), rule->name);
  check_note(checker, evidence->at, "its error stands here");
  if (!finding || !value) return;
  *value = check_value(checker, leaf->evidence, &domain);
  value->error = evidence->error;
  struct text typed;
  text_init(&typed, checker->arena);
  text_number(&typed, value->number);
  value->typed = text_done(&typed);
  finding->witness = (struct witness){value, 1};
}

static void check_leaves(struct checker *checker, const struct rule *rule,
                         const struct condition *condition) {
  for (size_t i = 0; i < condition->n_clauses; i++)
    check_leaves(checker, rule, &condition->clauses[i]);
  if (condition->kind == CONDITION_BELIEVED) check_certainty(checker, rule, condition);
  else if (condition->kind <= CONDITION_NEAR) check_width(checker, rule, condition);
}

void check_rules(struct checker *checker) {
  for (size_t i = 0; i < checker->model->n_rules; i++) {
    const struct rule *rule = &checker->model->rules[i];
    if (checker->dead[i]) report_dead(checker, rule);
    check_leaves(checker, rule, rule->when);
  }
}
