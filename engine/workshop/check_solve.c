/* Depth-first search over goals. Invariant: trail and pool grow with the search and are cut back to
 * their marks when a branch is left, so that domains and goals are those of the branch. */
#include "workshop/check_solve.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define STEPS_MAX 20000
#define POOL 4096
#define TRAIL 4096
#define CHOICES_MAX 64

struct pending {
  struct solve_goal goal;
  const struct pending *next;
};

struct change { /* of a domain, or of a rule made to fire */
  size_t evidence, rule;
  struct domain was;
};

struct solver {
  const struct network *network;
  const struct model *model;
  struct domain *domains, *start; /* by evidence; start: before any goal */
  bool *firing;                   /* by rule: chosen */
  size_t *by_strength; /* contributions of each claim, from the strongest for to against */
  struct pending *pool;
  struct change *trail;
  size_t n_pool, n_trail, n_steps, n_shown;
  struct solve_goal formulas[SOLVE_FORMULAS_MAX];
  size_t n_formulas;
  bool gave_up;
  solve_take *take;
  void *context;
};

/* ---- life ---- */

static uint64_t all_choices(size_t n) {
  return n == 0 || n >= CHOICES_MAX ? UINT64_MAX : (UINT64_C(1) << n) - 1;
}

static void set_start(struct solver *solver) {
  for (size_t i = 0; i < solver->model->n_evidence; i++) {
    const struct evidence *evidence = &solver->model->evidence[i];
    bool number = evidence->kind == EVIDENCE_NUMBER;
    solver->start[i] = (struct domain){.low = number ? evidence->low : -INFINITY,
                                       .high = number ? evidence->high : INFINITY,
                                       .choices = all_choices(evidence->n_choices)};
  }
}

/* Insertion sort of each claim's contributions: they are few. */
static void sort_by_strength(struct solver *solver) {
  const struct network *network = solver->network;
  for (size_t claim = 0; claim < solver->model->n_claims; claim++) {
    size_t first = network->first_contribution[claim];
    size_t end = network->first_contribution[claim + 1];
    for (size_t i = first; i < end; i++) {
      size_t k = i;
      double strength = network->contributions[i].strength;
      for (; k > first && network->contributions[solver->by_strength[k - 1]].strength < strength;
           k--)
        solver->by_strength[k] = solver->by_strength[k - 1];
      solver->by_strength[k] = i;
    }
  }
}

struct solver *solver_new(struct arena *arena, const struct network *network) {
  struct solver *solver = arena_new_object(arena, struct solver);
  if (!solver) return NULL;
  const struct model *model = network->model;
  solver->network = network;
  solver->model = model;
  solver->domains = arena_new_array(arena, struct domain, model->n_evidence + 1);
  solver->start = arena_new_array(arena, struct domain, model->n_evidence + 1);
  solver->firing = arena_new_array(arena, bool, model->n_rules + 1);
  solver->by_strength = arena_new_array(arena, size_t, network->n_contributions + 1);
  solver->pool = arena_new_array(arena, struct pending, POOL);
  solver->trail = arena_new_array(arena, struct change, TRAIL);
  if (!solver->domains || !solver->start || !solver->firing || !solver->by_strength ||
      !solver->pool || !solver->trail)
    return NULL;
  set_start(solver);
  sort_by_strength(solver);
  return solver;
}

/* ---- changing and taking back ---- */

static struct change *push_change(struct solver *solver) {
  if (solver->n_trail == TRAIL) {
    solver->gave_up = true;
    return NULL;
  }
  return &solver->trail[solver->n_trail++];
}

static void take_back(struct solver *solver, size_t mark) {
  while (solver->n_trail > mark) {
    const struct change *change = &solver->trail[--solver->n_trail];
    if (change->rule != NO_INDEX) solver->firing[change->rule] = false;
    else solver->domains[change->evidence] = change->was;
  }
}

static struct domain *change_domain(struct solver *solver, size_t evidence) {
  struct change *change = push_change(solver);
  if (!change) return NULL;
  *change = (struct change){evidence, NO_INDEX, solver->domains[evidence]};
  return &solver->domains[evidence];
}

/* NULL when the pool is used up. */
static const struct pending *push_goal(struct solver *solver, const struct condition *condition,
                                       bool negated, const struct pending *next) {
  if (solver->n_pool == POOL) {
    solver->gave_up = true;
    return NULL;
  }
  struct pending *node = &solver->pool[solver->n_pool++];
  *node = (struct pending){{condition, negated}, next};
  return node;
}

/* ---- clubs: the evidence they fill must agree with them ---- */

static bool club_fits(const struct solver *solver, const struct club *club, size_t evidence) {
  const struct evidence *filled = &solver->model->evidence[evidence];
  const struct domain *domain = &solver->domains[evidence];
  if (filled->kind == EVIDENCE_CHOICE) {
    for (size_t i = 0; i < filled->n_choices && i < CHOICES_MAX; i++)
      if (domain->choices >> i & 1 && strcmp(filled->choices[i].name, club->family) == 0)
        return true;
    return false;
  }
  const double numbers[] = {[CLUB_LOFT] = club->loft,
                            [CLUB_LENGTH] = club->length,
                            [CLUB_LIE] = club->lie,
                            [CLUB_HEAD_MASS] = club->head_mass};
  double number = golf_unit_convert(numbers[filled->from_club], value_club_unit(filled->from_club),
                                    filled->unit);
  return number > domain->low && number < domain->high;
}

size_t solver_club(const struct solver *solver) {
  const struct model *model = solver->model;
  const struct domain *domain = &solver->domains[model->club_evidence];
  for (size_t club = 0; club < model->n_clubs && club < CHOICES_MAX; club++) {
    bool fits = domain->choices >> club & 1;
    for (size_t i = 0; fits && i < model->n_evidence; i++)
      if (model->evidence[i].from_club != CLUB_NONE && solver->domains[i].asked)
        fits = club_fits(solver, &model->clubs[club], i);
    if (fits) return club;
  }
  return NO_INDEX;
}

static bool agrees_with_club(const struct solver *solver, size_t evidence) {
  size_t club = solver->model->club_evidence;
  if (club == NO_INDEX || solver->model->n_clubs > CHOICES_MAX) return true;
  if (evidence != club && solver->model->evidence[evidence].from_club == CLUB_NONE) return true;
  return !solver->domains[club].asked || solver_club(solver) != NO_INDEX;
}

/* ---- leaves ---- */

static bool pursue(struct solver *solver, const struct pending *goals);

/* Goes on where the evidence is known and lies in the domain; true ends the search. */
static bool go_on(struct solver *solver, size_t evidence, const struct domain *wanted,
                  const struct pending *rest) {
  size_t mark = solver->n_trail;
  struct domain *domain = change_domain(solver, evidence);
  if (!domain) return true;
  domain->low = fmax(domain->low, wanted->low);
  domain->high = fmin(domain->high, wanted->high);
  domain->choices &= wanted->choices;
  domain->asked = domain->known = true;
  if (wanted->matches) domain->matches = wanted->matches;
  bool possible = !domain->unknown && domain->low < domain->high && domain->choices != 0 &&
                  agrees_with_club(solver, evidence);
  bool ended = possible && pursue(solver, rest);
  take_back(solver, mark);
  return ended;
}

static const struct domain anything = {-INFINITY, INFINITY, UINT64_MAX, false, false, false, NULL};

static bool pursue_number(struct solver *solver, const struct solve_goal *goal,
                          const struct pending *rest) {
  const struct condition *condition = goal->condition;
  bool outside = (condition->kind == CONDITION_OUTSIDE) != goal->negated;
  struct domain wanted = anything;
  if (!outside) {
    wanted.low = condition->low;
    wanted.high = condition->high;
    return go_on(solver, condition->evidence, &wanted, rest);
  }
  wanted.high = condition->low;
  if (go_on(solver, condition->evidence, &wanted, rest)) return true;
  wanted = anything;
  wanted.low = condition->high;
  return go_on(solver, condition->evidence, &wanted, rest);
}

static bool pursue_choice(struct solver *solver, const struct solve_goal *goal,
                          const struct pending *rest) {
  const struct condition *condition = goal->condition;
  struct domain wanted = anything;
  if (solver->model->evidence[condition->evidence].n_choices <= CHOICES_MAX) {
    wanted.choices = 0;
    for (size_t i = 0; i < condition->n_choices; i++)
      wanted.choices |= UINT64_C(1) << condition->choices[i];
    if (goal->negated) wanted.choices = ~wanted.choices;
    wanted.choices &= all_choices(solver->model->evidence[condition->evidence].n_choices);
  }
  return go_on(solver, condition->evidence, &wanted, rest);
}

static bool pursue_text(struct solver *solver, const struct solve_goal *goal,
                        const struct pending *rest) {
  struct domain wanted = anything;
  if (!goal->negated) wanted.matches = goal->condition;
  return go_on(solver, goal->condition->evidence, &wanted, rest);
}

static bool pursue_known(struct solver *solver, const struct solve_goal *goal,
                         const struct pending *rest) {
  size_t evidence = goal->condition->evidence, mark = solver->n_trail;
  struct domain *domain = change_domain(solver, evidence);
  if (!domain) return true;
  if (goal->condition->wanted != goal->negated) domain->known = domain->asked = true;
  else domain->unknown = true;
  bool ended = !(domain->known && domain->unknown) && pursue(solver, rest);
  take_back(solver, mark);
  return ended;
}

/* What is reckoned with must be known; whether the comparison holds is for the run to see. */
static bool pursue_formula(struct solver *solver, const struct solve_goal *goal,
                           const struct pending *rest) {
  size_t mark = solver->n_trail, n_before = solver->n_formulas;
  const struct formula *formula = goal->condition->formula;
  bool possible = true;
  for (size_t i = 0; possible && i < formula->n_inputs; i++) {
    struct domain *domain = change_domain(solver, formula->inputs[i]);
    if (!domain) return true;
    domain->known = domain->asked = true;
    possible = !domain->unknown;
  }
  if (solver->n_formulas < SOLVE_FORMULAS_MAX) solver->formulas[solver->n_formulas++] = *goal;
  bool ended = possible && pursue(solver, rest);
  take_back(solver, mark);
  solver->n_formulas = n_before;
  return ended;
}

/* ---- findings: through one of their rules ---- */

static bool is_supported(const struct solver *solver, size_t claim, double sign) {
  const struct network *network = solver->network;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++)
    if (solver->firing[network->contributions[i].rule] &&
        sign * network->contributions[i].strength > 0)
      return true;
  return false;
}

static bool pursue_rule(struct solver *solver, size_t rule, const struct pending *rest) {
  size_t mark = solver->n_trail, pool = solver->n_pool;
  struct change *change = push_change(solver);
  if (!change) return true;
  *change = (struct change){.evidence = NO_INDEX, .rule = rule};
  solver->firing[rule] = true;
  const struct pending *goals = push_goal(solver, solver->model->rules[rule].when, false, rest);
  bool ended = !goals || pursue(solver, goals);
  take_back(solver, mark);
  solver->n_pool = pool;
  return ended;
}

static bool pursue_believed(struct solver *solver, const struct solve_goal *goal,
                            const struct pending *rest) {
  const struct network *network = solver->network;
  size_t claim = goal->condition->claim;
  double sign = goal->negated ? -1 : 1;
  if (is_supported(solver, claim, sign)) return pursue(solver, rest);
  size_t first = network->first_contribution[claim];
  size_t n = network->first_contribution[claim + 1] - first;
  for (size_t i = 0; i < n; i++) {
    size_t at = solver->by_strength[first + (goal->negated ? n - 1 - i : i)];
    if (sign * network->contributions[at].strength <= 0) return false;
    if (pursue_rule(solver, network->contributions[at].rule, rest)) return true;
  }
  return false;
}

/* ---- joins ---- */

/* Clauses that read findings come last, so that contradictions among evidence are met early. */
static bool pursue_every(struct solver *solver, const struct solve_goal *goal,
                         const struct pending *rest) {
  const struct condition *condition = goal->condition;
  bool negated = goal->negated != (condition->kind == CONDITION_NONE);
  size_t pool = solver->n_pool;
  const struct pending *goals = rest;
  for (int pass = 0; pass < 2; pass++)
    for (size_t i = 0; i < condition->n_clauses; i++) {
      const struct condition *clause = &condition->clauses[i];
      bool reads_evidence = clause->kind < CONDITION_ALL && clause->claim == NO_INDEX;
      if (reads_evidence != (pass == 1)) continue;
      goals = push_goal(solver, clause, negated, goals);
      if (!goals) return true;
    }
  bool ended = pursue(solver, goals);
  solver->n_pool = pool;
  return ended;
}

static bool pursue_some(struct solver *solver, const struct solve_goal *goal,
                        const struct pending *rest) {
  const struct condition *condition = goal->condition;
  bool negated = goal->negated != (condition->kind == CONDITION_NONE);
  for (size_t i = 0; i < condition->n_clauses; i++) {
    size_t pool = solver->n_pool;
    const struct pending *goals = push_goal(solver, &condition->clauses[i], negated, rest);
    if (!goals || pursue(solver, goals)) return true;
    solver->n_pool = pool;
  }
  return false;
}

static bool pursue_join(struct solver *solver, const struct solve_goal *goal,
                        const struct pending *rest) {
  /* none is "every clause does not hold"; its opposite is "some clause holds". */
  bool every = (goal->condition->kind == CONDITION_ANY) == goal->negated;
  return every ? pursue_every(solver, goal, rest) : pursue_some(solver, goal, rest);
}

typedef bool pursue_kind(struct solver *solver, const struct solve_goal *goal,
                         const struct pending *rest);

static pursue_kind *const kinds[] = {
    [CONDITION_ABOVE] = pursue_number,    [CONDITION_BELOW] = pursue_number,
    [CONDITION_BETWEEN] = pursue_number,  [CONDITION_OUTSIDE] = pursue_number,
    [CONDITION_NEAR] = pursue_number,     [CONDITION_IS] = pursue_choice,
    [CONDITION_ONE_OF] = pursue_choice,   [CONDITION_MATCHES] = pursue_text,
    [CONDITION_KNOWN] = pursue_known,     [CONDITION_BELIEVED] = pursue_believed,
    [CONDITION_FORMULA] = pursue_formula, [CONDITION_ALL] = pursue_join,
    [CONDITION_ANY] = pursue_join,        [CONDITION_NONE] = pursue_join,
};

static bool pursue(struct solver *solver, const struct pending *goals) {
  if (solver->gave_up || ++solver->n_steps > STEPS_MAX) {
    solver->gave_up = true;
    return true;
  }
  if (goals) return kinds[goals->goal.condition->kind](solver, &goals->goal, goals->next);
  solver->n_shown++;
  return !solver->take || solver->take(solver, solver->context);
}

/* ---- searching ---- */

enum solved solver_search(struct solver *solver, const struct solve_goal *goals, size_t n,
                          solve_take *take, void *context) {
  const struct pending *list = NULL;
  memcpy(solver->domains, solver->start, solver->model->n_evidence * sizeof *solver->domains);
  memset(solver->firing, 0, solver->model->n_rules * sizeof *solver->firing);
  solver->n_pool = solver->n_trail = solver->n_steps = solver->n_shown = solver->n_formulas = 0;
  solver->gave_up = false;
  solver->take = take;
  solver->context = context;
  for (size_t i = n; i-- > 0;) list = push_goal(solver, goals[i].condition, goals[i].negated, list);
  bool ended = pursue(solver, list);
  if (solver->gave_up) return SOLVED_GAVE_UP;
  if (ended) return SOLVED_FOUND;
  return solver->n_shown > 0 ? SOLVED_REFUSED : SOLVED_NEVER;
}

const struct domain *solver_domain(const struct solver *solver, size_t evidence) {
  return &solver->domains[evidence];
}

const struct solve_goal *solver_formulas(const struct solver *solver, size_t *n) {
  *n = solver->n_formulas;
  return solver->formulas;
}
