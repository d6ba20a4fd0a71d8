/* Pairs of rules for one claim: the same readings counted twice, one covered by the other, and two
 * that say the opposite on the same conditions. */
#include <math.h>
#include <string.h>

#include "workshop/check_parts.h"

static const struct rule *rule_of(const struct checker *checker, const struct contribution *one) {
  return &checker->model->rules[one->rule];
}

static bool same_group(const struct contribution *a, const struct contribution *b) {
  return a->group != NO_INDEX && a->group == b->group;
}

static bool same_sign(const struct contribution *a, const struct contribution *b) {
  return (a->strength > 0) == (b->strength > 0);
}

/* ---- shared readings ---- */

static const char *list_roots(struct checker *checker, const bool *row) {
  struct text text;
  size_t n = 0;
  text_init(&text, checker->arena);
  for (size_t i = 0; i < checker->model->n_evidence; i++) {
    if (!row[i]) continue;
    if (n++ == 6) {
      text_add(&text, ", ...");
      break;
    }
    text_add(&text, n > 1 ? ", " : "");
    text_add(&text, checker->model->evidence[i].name);
  }
  const char *done = text_done(&text);
  return done ? done : "";
}

/* Rules that exclude each other count nothing twice. */
static bool fire_together(struct checker *checker, const struct rule *a, const struct rule *b) {
  const struct solve_goal goals[] = {{a->when, false}, {b->when, false}};
  return solver_search(checker->solver, goals, 2, NULL, NULL) != SOLVED_NEVER;
}

static void check_shared(struct checker *checker, const struct contribution *a,
                         const struct contribution *b) {
  size_t n = checker->model->n_evidence;
  const bool *row = checker->roots + a->rule * n, *other = checker->roots + b->rule * n;
  const struct rule *first = rule_of(checker, a), *second = rule_of(checker, b);
  if (same_group(a, b) || !same_sign(a, b) || memcmp(row, other, n) != 0 ||
      !fire_together(checker, first, second))
    return;
  struct check_finding *finding =
      FIND(checker, SHARED_READINGS, second->at, second->at, first->name, second->name,
           checker->model->claims[a->claim].name, list_roots(checker, row));
  check_note(checker, first->at, "the other rule");
  check_about(checker, finding, first->at);
  struct witness witness = check_search_pair(checker, a->rule, b->rule);
  if (finding) finding->witness = witness;
}

/* ---- covered ---- */

static void report_covered(struct checker *checker, const struct contribution *narrow,
                           const struct contribution *wide) {
  const struct rule *rule = rule_of(checker, narrow), *by = rule_of(checker, wide);
  struct check_finding *finding =
      FIND(checker, COVERED, rule->at, rule->at, rule->name, by->name,
           checker->model->claims[narrow->claim].name,
           same_group(narrow, wide) ? "being of one group, only the other counts"
                                    : "being of no common group, both count");
  check_note(checker, by->at, "the rule that covers it");
  check_about(checker, finding, by->at);
  struct witness witness = check_search_pair(checker, narrow->rule, wide->rule);
  if (finding) finding->witness = witness;
}

/* Of two that cover each other in full, the later by name is told. */
static bool covers(struct checker *checker, const struct contribution *wide,
                   const struct contribution *narrow) {
  double factor =
      check_implies(checker, rule_of(checker, narrow)->when, rule_of(checker, wide)->when);
  return factor > 0 && factor * fabs(wide->strength) >= fabs(narrow->strength);
}

static void check_covered(struct checker *checker, const struct contribution *a,
                          const struct contribution *b) {
  if (covers(checker, a, b)) report_covered(checker, b, a);
  else if (covers(checker, b, a)) report_covered(checker, a, b);
}

/* ---- contradictions ---- */

static void check_opposed(struct checker *checker, const struct contribution *a,
                          const struct contribution *b) {
  const struct rule *first = rule_of(checker, a), *second = rule_of(checker, b);
  if (!(check_implies(checker, first->when, second->when) > 0) ||
      !(check_implies(checker, second->when, first->when) > 0))
    return;
  struct check_finding *finding = FIND(checker, CONTRADICTS, second->at, second->at, first->name,
                                       second->name, checker->model->claims[a->claim].name);
  check_note(checker, first->at, "the other rule");
  check_about(checker, finding, first->at);
  struct witness witness = check_search_pair(checker, a->rule, b->rule);
  if (finding) finding->witness = witness;
}

/* A rule that advises a drill, and one that removes it. */
static void check_removed(struct checker *checker, const struct contribution *advice) {
  const struct rule *first = rule_of(checker, advice);
  for (size_t i = 0; advice->strength > 0 && i < checker->model->n_rules; i++) {
    const struct rule *second = &checker->model->rules[i];
    bool removes = false;
    for (size_t k = 0; k < second->n_removes; k++)
      removes = removes || second->removes[k] == advice->claim;
    if (!removes || !(check_implies(checker, first->when, second->when) > 0)) continue;
    struct check_finding *finding = FIND(checker, CONTRADICTS, second->at, second->at, first->name,
                                         second->name, checker->model->claims[advice->claim].name);
    check_note(checker, first->at, "the other rule");
    check_about(checker, finding, first->at);
    struct witness witness = check_search_pair(checker, advice->rule, i);
    if (finding) finding->witness = witness;
  }
}

static void check_pair(struct checker *checker, const struct contribution *a,
                       const struct contribution *b) {
  if (checker->dead[a->rule] || checker->dead[b->rule]) return;
  check_shared(checker, a, b);
  if (same_sign(a, b)) check_covered(checker, a, b);
  else check_opposed(checker, a, b);
}

void check_pairs(struct checker *checker) {
  const struct network *network = checker->network;
  for (size_t claim = 0; claim < checker->model->n_claims; claim++) {
    size_t end = network->first_contribution[claim + 1];
    for (size_t i = network->first_contribution[claim]; i < end; i++) {
      for (size_t k = i + 1; k < end; k++)
        check_pair(checker, &network->contributions[i], &network->contributions[k]);
      if (claim >= checker->model->first_drill) check_removed(checker, &network->contributions[i]);
    }
  }
}
