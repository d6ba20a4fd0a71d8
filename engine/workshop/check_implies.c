/* Whether one condition holds wherever another does, told from their shape alone: intervals, sets
 * of words, joins, and findings through the rules that conclude them. Sound and not complete: what
 * is implied by arithmetic between different readings is not seen.
 *
 * Invariant: a factor f > 0 of (a, b) says that in every case in which a's belief x is above 0.2,
 * b's is at least f x. For joins this is so because all is the least and any the greatest belief.
 */
#include <math.h>
#include <string.h>

#include "workshop/check_parts.h"

#define STEPS_MAX 4000
#define DEPTH_MAX 24

struct side {
  const struct condition *condition;
  bool negated;
};

struct implies {
  struct checker *checker;
  size_t steps;
  unsigned depth;
};

static double factor_of(struct implies *implies, struct side a, struct side b);

/* ---- leaves ---- */

static bool is_number(enum condition_kind kind) {
  return kind <= CONDITION_NEAR;
}

static bool is_choice(enum condition_kind kind) {
  return kind == CONDITION_IS || kind == CONDITION_ONE_OF;
}

/* What a number may be: inside or outside an interval. The opposite of a half-line is one too. */
struct interval {
  double low, high;
  bool outside;
};

static struct interval interval_of(struct side side) {
  const struct condition *condition = side.condition;
  struct interval interval = {condition->low, condition->high,
                              (condition->kind == CONDITION_OUTSIDE) != side.negated};
  if (!interval.outside) return interval;
  if (isinf(interval.low)) return (struct interval){interval.high, INFINITY, false};
  if (isinf(interval.high)) return (struct interval){-INFINITY, interval.low, false};
  return interval;
}

static bool number_implies(struct side a, struct side b) {
  struct interval x = interval_of(a), y = interval_of(b);
  if (!x.outside && !y.outside) return x.low >= y.low && x.high <= y.high;
  if (x.outside && y.outside) return x.low <= y.low && x.high >= y.high;
  if (!x.outside) return x.high <= y.low || x.low >= y.high;
  return false; /* both ends are open: no interval holds them */
}

static bool holds_choice(const struct condition *condition, size_t choice) {
  for (size_t i = 0; i < condition->n_choices; i++)
    if (condition->choices[i] == choice) return true;
  return false;
}

static bool choice_implies(const struct model *model, struct side a, struct side b) {
  size_t n = model->evidence[a.condition->evidence].n_choices;
  for (size_t i = 0; i < n; i++) {
    bool in_a = holds_choice(a.condition, i) != a.negated;
    if (in_a && holds_choice(b.condition, i) == b.negated) return false;
  }
  return true;
}

/* A value that is judged is known. */
static bool known_implied(struct side a, struct side b) {
  bool wants_known = b.condition->wanted != b.negated;
  if (a.condition->kind == CONDITION_KNOWN)
    return (a.condition->wanted != a.negated) == wants_known;
  return wants_known;
}

static bool leaf_implies(const struct model *model, struct side a, struct side b) {
  const struct condition *x = a.condition, *y = b.condition;
  bool printed = x->printed && y->printed;
  if (printed && a.negated == b.negated && strcmp(x->printed, y->printed) == 0) return true;
  if (x->claim != NO_INDEX && x->claim == y->claim)
    return a.negated == b.negated && (a.negated ? x->low == y->low : x->low >= y->low);
  if (x->evidence == NO_INDEX || x->evidence != y->evidence) return false;
  if (y->kind == CONDITION_KNOWN) return known_implied(a, b);
  if (is_number(x->kind) && is_number(y->kind)) return number_implies(a, b);
  return is_choice(x->kind) && is_choice(y->kind) && choice_implies(model, a, b);
}

/* ---- findings ---- */

static bool same_group(const struct contribution *a, const struct contribution *b) {
  return a->group != NO_INDEX && a->group == b->group;
}

/* What speaks for the claim comes from one rule at a time, so it is never surer than that rule's
 * premise. */
static bool is_single_voiced(const struct network *network, size_t claim) {
  const struct contribution *first = NULL;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++) {
    const struct contribution *one = &network->contributions[i];
    if (one->strength <= 0) continue;
    if (first && !same_group(first, one)) return false;
    if (!first) first = one;
  }
  return first != NULL;
}

/* A believed finding: one of the rules for it fired, so b must follow from each of them. */
static double from_finding(struct implies *implies, struct side a, struct side b) {
  const struct network *network = implies->checker->network;
  size_t claim = a.condition->claim;
  double least = 1;
  if (a.negated || !is_single_voiced(network, claim)) return 0;
  for (size_t i = network->first_contribution[claim];
       least > 0 && i < network->first_contribution[claim + 1]; i++) {
    size_t rule = network->contributions[i].rule;
    if (network->contributions[i].strength <= 0 || implies->checker->dead[rule]) continue;
    struct side premise = {implies->checker->model->rules[rule].when, false};
    least = fmin(least, factor_of(implies, premise, b));
  }
  return least;
}

/* No rule against the claim fires together with a. */
static bool unopposed(struct implies *implies, struct side a, size_t claim) {
  const struct network *network = implies->checker->network;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++) {
    size_t rule = network->contributions[i].rule;
    if (network->contributions[i].strength > 0 || implies->checker->dead[rule]) continue;
    const struct solve_goal goals[] = {{a.condition, a.negated},
                                       {implies->checker->model->rules[rule].when, false}};
    if (solver_search(implies->checker->solver, goals, 2, NULL, NULL) != SOLVED_NEVER) return false;
  }
  return true;
}

/* A finding is believed where a rule for it fires and none speaks against it. A higher threshold
 * than the usual may be missed by a premise that only just fires, so nothing is claimed for one. */
static double to_finding(struct implies *implies, struct side a, struct side b) {
  const struct network *network = implies->checker->network;
  size_t claim = b.condition->claim;
  double most = 0;
  if (b.negated || b.condition->low > BELIEF_THRESHOLD) return 0;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++) {
    const struct contribution *one = &network->contributions[i];
    if (one->strength <= most) continue;
    struct side premise = {implies->checker->model->rules[one->rule].when, false};
    double factor = one->strength * factor_of(implies, a, premise);
    most = fmax(most, factor);
  }
  return most > 0 && unopposed(implies, a, claim) ? most : 0;
}

/* ---- joins ---- */

static bool is_join(struct side side) {
  return side.condition->kind >= CONDITION_ALL;
}

/* Every clause must hold; else some clause. */
static bool is_every(struct side side) {
  return (side.condition->kind == CONDITION_ANY) == side.negated;
}

static struct side clause_of(struct side side, size_t i) {
  bool negated = side.negated != (side.condition->kind == CONDITION_NONE);
  return (struct side){&side.condition->clauses[i], negated};
}

/* least: the smallest factor over the clauses, else the greatest; of_a: over a's clauses. */
static double over_clauses(struct implies *implies, struct side a, struct side b, bool of_a,
                           bool least) {
  const struct condition *condition = of_a ? a.condition : b.condition;
  double factor = least ? 1 : 0;
  for (size_t i = 0; i < condition->n_clauses && (least ? factor > 0 : factor < 1); i++) {
    double one =
        of_a ? factor_of(implies, clause_of(a, i), b) : factor_of(implies, a, clause_of(b, i));
    factor = least ? fmin(factor, one) : fmax(factor, one);
  }
  return factor;
}

static double any_way(struct implies *implies, struct side a, struct side b) {
  double factor = 0;
  if (!is_join(a) && !is_join(b)) factor = leaf_implies(implies->checker->model, a, b) ? 1 : 0;
  if (factor < 1 && is_join(a)) factor = fmax(factor, over_clauses(implies, a, b, true, false));
  if (factor < 1 && is_join(b)) factor = fmax(factor, over_clauses(implies, a, b, false, false));
  if (factor == 0 && b.condition->kind == CONDITION_BELIEVED) factor = to_finding(implies, a, b);
  if (factor == 0 && a.condition->kind == CONDITION_BELIEVED) factor = from_finding(implies, a, b);
  return factor;
}

static double factor_of(struct implies *implies, struct side a, struct side b) {
  double factor;
  if (++implies->steps > STEPS_MAX || implies->depth == DEPTH_MAX) return 0;
  implies->depth++;
  if (is_join(a) && !is_every(a)) factor = over_clauses(implies, a, b, true, true);
  else if (is_join(b) && is_every(b)) factor = over_clauses(implies, a, b, false, true);
  else factor = any_way(implies, a, b);
  implies->depth--;
  return factor;
}

double check_implies(struct checker *checker, const struct condition *a,
                     const struct condition *b) {
  struct implies implies = {checker, 0, 0};
  return factor_of(&implies, (struct side){a, false}, (struct side){b, false});
}
