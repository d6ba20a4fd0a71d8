/* Findings, causes and drills: what nothing can reach, and what lacks a drill, a number, or
 * evidence of more than one kind. */
#include <math.h>
#include <string.h>

#include "workshop/check_parts.h"

#define EFFORTS 4

/* ---- reach ---- */

static bool has_rule_for(const struct network *network, size_t claim) {
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++)
    if (network->contributions[i].strength > 0) return true;
  return false;
}

static void note_dead_rules(struct checker *checker, size_t claim) {
  const struct network *network = checker->network;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++) {
    size_t rule = network->contributions[i].rule;
    if (network->contributions[i].strength > 0)
      check_note(checker, checker->model->rules[rule].at,
                 checker->dead[rule] ? "this rule for it never fires" : "this rule is too weak");
  }
}

static void check_reach(struct checker *checker, size_t index) {
  const struct claim *claim = &checker->model->claims[index];
  if (checker->most[index] > BELIEF_THRESHOLD) return;
  FIND(checker, UNREACHABLE, claim->at, claim->at, claim_kind_word(claim->kind), claim->name,
       "be believed",
       has_rule_for(checker->network, index) ? "no rule for it can fire and is strong enough"
                                             : "no rule speaks for it");
  note_dead_rules(checker, index);
}

/* ---- what speaks for and against a cause ---- */

static bool has_rule_against(const struct network *network, size_t claim) {
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++)
    if (network->contributions[i].strength < 0) return true;
  return false;
}

/* What a player or coach can be asked for: what formulas and clubs alone fill is not evidence of
 * its own. */
static bool is_asked(const struct evidence *evidence) {
  return evidence->ask.n > 0 && evidence->kind != EVIDENCE_CLUB;
}

struct support {
  size_t by_effort[EFFORTS];
  size_t n, last; /* how many pieces of evidence; one of them */
};

static struct support gather_support(const struct checker *checker, size_t claim) {
  const struct network *network = checker->network;
  size_t n_evidence = checker->model->n_evidence;
  struct support support = {.n = 0};
  for (size_t k = 0; k < n_evidence; k++) {
    const struct evidence *evidence = &checker->model->evidence[k];
    bool read = false;
    for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
         i++)
      read = read || (network->contributions[i].strength > 0 &&
                      checker->roots[network->contributions[i].rule * n_evidence + k]);
    if (!read || !is_asked(evidence)) continue;
    support.by_effort[evidence->effort]++;
    support.n++;
    support.last = k;
  }
  return support;
}

static const char *kind_words(enum effort effort) {
  static const char *const words[] = {[EFFORT_KNOW] = "what the player knows",
                                      [EFFORT_LOOK] = "what is looked at on the spot",
                                      [EFFORT_VIDEO] = "video",
                                      [EFFORT_MEASURE] = "measuring"};
  return words[effort];
}

static void check_support(struct checker *checker, size_t index) {
  const struct claim *claim = &checker->model->claims[index];
  struct support support = gather_support(checker, index);
  size_t kinds = 0, effort = 0;
  for (size_t i = 0; i < EFFORTS; i++)
    if (support.by_effort[i] > 0) {
      kinds++;
      effort = i;
    }
  if (support.n == 1)
    FIND(checker, ONE_KIND, claim->at, claim->at, claim->name, "one piece of evidence",
         checker->model->evidence[support.last].name);
  else if (kinds == 1)
    FIND(checker, ONE_KIND, claim->at, claim->at, claim->name, "one kind of evidence",
         kind_words((enum effort)effort));
}

static bool is_drilled(const struct model *model, size_t cause) {
  for (size_t i = model->first_drill; i < model->n_claims; i++)
    for (size_t k = 0; k < model->claims[i].drill->n_changes; k++)
      if (model->claims[i].drill->changes[k].cause == cause) return true;
  return false;
}

static void check_cause(struct checker *checker, size_t index) {
  const struct claim *claim = &checker->model->claims[index];
  if (!is_drilled(checker->model, index))
    FIND(checker, CAUSE_WITHOUT_DRILL, claim->at, claim->at, claim->name);
  if (!has_rule_for(checker->network, index)) return; /* told: unreachable */
  if (!has_rule_against(checker->network, index))
    FIND(checker, CAUSE_WITHOUT_AGAINST, claim->at, claim->at, claim->name);
  check_support(checker, index);
}

/* ---- drills ---- */

static bool shows_believed(const struct run *run, const void *context) {
  return run->certainty[*(const size_t *)context] > BELIEF_THRESHOLD;
}

/* A case of one of the drill's causes, in which it is not offered. */
static struct witness case_without(struct checker *checker, const struct drill *drill) {
  struct witness witness = {NULL, 0};
  for (size_t i = 0; witness.n == 0 && i < drill->n_changes; i++) {
    size_t cause = drill->changes[i].cause;
    struct condition believed = check_believed(cause, BELIEF_THRESHOLD);
    const struct solve_goal goal = {&believed, false};
    witness = check_search(checker, &goal, 1, shows_believed, &cause);
  }
  return witness;
}

/* A rule that takes the drill away wherever the cause is believed. */
static const struct rule *always_removed(struct checker *checker, size_t drill,
                                         const struct condition *believed) {
  for (size_t i = 0; i < checker->model->n_rules; i++) {
    const struct rule *rule = &checker->model->rules[i];
    for (size_t k = 0; k < rule->n_removes; k++)
      if (rule->removes[k] == drill && check_implies(checker, believed, rule->when) > 0)
        return rule;
  }
  return NULL;
}

/* Whether some case lets the drill be offered for the cause; else *why tells. */
static bool can_be_offered(struct checker *checker, size_t index, size_t cause, struct span *why) {
  const struct drill *drill = checker->model->claims[index].drill;
  struct condition believed = check_believed(cause, BELIEF_THRESHOLD);
  const struct solve_goal goals[] = {{&believed, false}, {drill->needs, false}};
  *why = checker->model->claims[cause].at;
  if (!(checker->most[cause] > BELIEF_THRESHOLD)) return false;
  if (drill->needs && solver_search(checker->solver, goals, 2, NULL, NULL) == SOLVED_NEVER) {
    *why = drill->needs->at;
    return false;
  }
  const struct rule *rule = always_removed(checker, index, &believed);
  if (rule) *why = rule->at;
  return rule == NULL;
}

static void check_drill(struct checker *checker, size_t index) {
  const struct claim *claim = &checker->model->claims[index];
  const struct drill *drill = claim->drill;
  struct span why = {0};
  bool offered = false;
  if (!drill->works) FIND(checker, DRILL_WITHOUT_NUMBER, claim->at, claim->at, claim->name);
  if (drill->n_changes == 0) {
    FIND(checker, DRILL_WITHOUT_CAUSE, claim->at, claim->at, claim->name);
    return;
  }
  for (size_t i = 0; !offered && i < drill->n_changes; i++)
    offered = can_be_offered(checker, index, drill->changes[i].cause, &why);
  if (offered) return;
  struct check_finding *finding =
      FIND(checker, UNREACHABLE, claim->at, claim->at, "drill", claim->name, "be offered",
           "each cause it changes is out of reach, at odds with its needs, or takes it away");
  check_note(checker, why, "because of this");
  struct witness witness = case_without(checker, drill);
  if (finding) finding->witness = witness;
}

void check_claims(struct checker *checker) {
  const struct model *model = checker->model;
  for (size_t i = 0; i < model->first_drill; i++) {
    check_reach(checker, i);
    if (i >= model->first_cause) check_cause(checker, i);
  }
  for (size_t i = model->first_drill; i < model->n_claims; i++) check_drill(checker, i);
}
