/* Given numbers that cannot all be correct: each is compared with what its formulas make of the
 * others, and what follows from them with what is plausible at all. Nothing is averaged away; which
 * reading is wrong is for the coach to find. A formula that already rests on the number itself says
 * nothing about it and is passed over. */
#include <math.h>
#include <string.h>

#include "run/phases.h"

/* Three standard errors of the difference. */
static const double tolerance = 3;

struct candidate {
  struct contradiction found;
  size_t n_roots; /* of the given numbers that take part */
  bool *takes_part;
};

static const struct evidence *evidence_of(const struct run *run, size_t index) {
  return &run->network->model->evidence[index];
}

/* ---- one comparison ---- */

static size_t root_of(const struct run *run, size_t evidence) {
  size_t k = 0;
  while (run->roots[k] != evidence) k++;
  return k;
}

/* A given number takes part when it makes a tenth of the doubt, or is exact and moves the outcome.
 */
static bool takes_part(const struct run *run, const double *gradient, size_t k, double error) {
  double part = fabs(gradient[k]) * run->root_errors[k];
  return run->root_errors[k] > 0 ? part > 0.1 * error : fabs(gradient[k]) > 0.01;
}

/* A number that follows takes no part of its own. */
static bool fill_parts(struct run *run, struct candidate *candidate, const double *gradient) {
  candidate->takes_part = arena_new_array(run->arena, bool, run->n_given_roots + 1);
  if (candidate->takes_part == NULL) return false;
  for (size_t k = 0; k < run->n_given_roots; k++) {
    candidate->takes_part[k] = run->roots[k] == candidate->found.evidence ||
                               takes_part(run, gradient, k, candidate->found.error);
    candidate->n_roots += candidate->takes_part[k];
  }
  return true;
}

/* The gradient of the difference is the difference of both gradients, so shared errors cancel. */
static bool compare(struct run *run, size_t evidence, const struct formula *formula,
                    struct candidate *candidate, bool *is) {
  struct derived derived;
  size_t self = root_of(run, evidence);
  bool known;
  *is = false;
  if (!run_evaluate(run, formula, &derived, &known)) return false;
  if (!known || fabs(derived.gradient[self]) > 1e-9) return true;
  double error_alone = hypot(derived.error, derived.own);
  double error = hypot(error_alone, run->root_errors[self]);
  double given = run->readings[evidence].number;
  *candidate = (struct candidate){
      .found = {evidence, formula, given, derived.number, error, error_alone, false, NULL}};
  *is = fabs(derived.number - given) > tolerance * error + 1e-9 * (1 + fabs(given));
  return !*is || fill_parts(run, candidate, derived.gradient);
}

/* A number that follows and lies beyond its plausible range by more than its doubt. */
static bool judge_range(struct run *run, size_t evidence, struct candidate *candidate, bool *is) {
  const struct evidence *of = evidence_of(run, evidence);
  const struct reading *reading = &run->readings[evidence];
  *is = false;
  if (of->kind != EVIDENCE_NUMBER || reading->state != READING_DERIVED || !reading->formula)
    return true;
  double limit = fmin(fmax(reading->number, of->low), of->high);
  *candidate = (struct candidate){.found = {evidence, reading->formula, limit, reading->number,
                                            reading->error, reading->error, true, NULL}};
  *is = fabs(reading->number - limit) > tolerance * reading->error + 1e-9 * (1 + fabs(limit));
  return !*is || fill_parts(run, candidate, reading->gradient);
}

/* ---- in the player's words ---- */

static double seen_by(const struct run *run, const struct evidence *evidence, double number) {
  return run->hand == HAND_LEFT && evidence->mirrored ? -number : number;
}

/* "start direction 0.6 deg right +/- 1.4" */
static void add_computed(struct run *run, struct text *out, const struct contradiction *found) {
  const struct evidence *evidence = evidence_of(run, found->evidence);
  double shown = seen_by(run, evidence, found->computed);
  bool has_sides = evidence->minus != NULL && fabs(shown) >= 0.5 * pow(10, -evidence->decimals);
  text_format(out, "%s ", evidence->title);
  text_fixed(out, evidence->minus ? fabs(shown) : shown, evidence->decimals);
  if (evidence->unit->dimension != GOLF_DIMENSION_NONE)
    text_format(out, " %s", evidence->unit->name);
  if (has_sides) text_format(out, " %s", shown < 0 ? evidence->minus : evidence->plus);
  text_add(out, " +/- ");
  text_fixed(out, found->computed_error, evidence->decimals);
}

/* "path -4": as the player typed it. */
static void add_given(struct run *run, struct text *out, size_t k) {
  const struct evidence *evidence = evidence_of(run, run->roots[k]);
  const struct value *given = run->readings[run->roots[k]].given;
  text_format(out, "%s ", evidence->name);
  if (given->typed) text_add(out, given->typed);
  else
    text_fixed(out, seen_by(run, evidence, run->readings[run->roots[k]].number),
               evidence->decimals);
}

/* "face 2, path -4 and start -6 cannot all be correct: the others make start direction 0.6 deg
 * right +/- 1.4" */
static const char *told(struct run *run, const struct candidate *candidate) {
  struct text text;
  size_t n = 0, self = root_of(run, candidate->found.evidence);
  text_init(&text, run->arena);
  for (size_t k = 0; k < run->n_given_roots; k++) {
    if (!candidate->takes_part[k] || k == self) continue;
    text_add(&text, n++ > 0 ? ", " : "");
    add_given(run, &text, k);
  }
  text_add(&text, n > 0 ? " and " : "");
  add_given(run, &text, self);
  text_add(&text, n > 1   ? " cannot all be correct: the others make "
                  : n > 0 ? " cannot both be correct: the other makes "
                          : " cannot be correct: it makes ");
  add_computed(run, &text, &candidate->found);
  return text_done(&text);
}

/* "club_speed 100mph and ball_speed 170mph cannot both be correct: together they make ball speed
 * over club speed 1.70 +/- 0.02, and no more than 1.56 is plausible" */
static const char *told_range(struct run *run, const struct candidate *candidate) {
  const struct contradiction *found = &candidate->found;
  const struct evidence *evidence = evidence_of(run, found->evidence);
  bool more = (found->computed > found->given) == !(run->hand == HAND_LEFT && evidence->mirrored);
  struct text text;
  size_t left = candidate->n_roots;
  text_init(&text, run->arena);
  for (size_t k = 0; k < run->n_given_roots; k++) {
    if (!candidate->takes_part[k]) continue;
    add_given(run, &text, k);
    left--;
    text_add(&text, left > 1 ? ", " : left == 1 ? " and " : "");
  }
  text_format(&text, " cannot %sbe correct: %s ",
              candidate->n_roots > 2    ? "all "
              : candidate->n_roots == 2 ? "both "
                                        : "",
              candidate->n_roots > 1 ? "together they make" : "it makes");
  add_computed(run, &text, found);
  text_format(&text, ", and no %s than ", more ? "more" : "less");
  text_fixed(&text, seen_by(run, evidence, found->given), evidence->decimals);
  if (evidence->unit->dimension != GOLF_DIMENSION_NONE)
    text_format(&text, " %s", evidence->unit->name);
  text_add(&text, " is plausible");
  return text_done(&text);
}

/* ---- which to tell ---- */

/* Two that share two given numbers or more tell one story: the inverse formulas would repeat it. */
static bool is_told(const struct run *run, const struct candidate *accepted, size_t n,
                    const struct candidate *candidate) {
  for (size_t i = 0; i < n; i++) {
    size_t shared = 0;
    for (size_t k = 0; k < run->n_given_roots; k++)
      shared += accepted[i].takes_part[k] && candidate->takes_part[k];
    if (shared >= 2 || candidate->n_roots == 1) return true;
  }
  return false;
}

/* Fewest numbers first, then the one that is known best from the others. */
static bool goes_before(const struct candidate *a, const struct candidate *b) {
  if (a->n_roots != b->n_roots) return a->n_roots < b->n_roots;
  return a->found.computed_error < b->found.computed_error;
}

static void put_in_order(struct candidate *list, size_t n) {
  for (size_t i = 1; i < n; i++) {
    struct candidate one = list[i];
    size_t k = i;
    for (; k > 0 && goes_before(&one, &list[k - 1]); k--) list[k] = list[k - 1];
    list[k] = one;
  }
}

static size_t count_formulas(const struct run *run) {
  size_t n = run->network->model->n_evidence; /* each may be beyond its range */
  for (size_t k = 0; k < run->n_given_roots; k++) n += evidence_of(run, run->roots[k])->n_formulas;
  return n;
}

static bool find_candidates(struct run *run, struct candidate *list, size_t *n) {
  *n = 0;
  for (size_t k = 0; k < run->n_given_roots; k++) {
    const struct evidence *evidence = evidence_of(run, run->roots[k]);
    for (size_t i = 0; i < evidence->n_formulas; i++) {
      bool is;
      if (!compare(run, run->roots[k], evidence->formulas[i], &list[*n], &is)) return false;
      *n += is;
    }
  }
  for (size_t i = 0; i < run->network->model->n_evidence; i++) {
    bool is;
    if (!judge_range(run, i, &list[*n], &is)) return false;
    *n += is;
  }
  return true;
}

static bool tell(struct run *run, struct diags *diags, struct candidate *candidate) {
  bool beyond = candidate->found.beyond_range;
  size_t first = 0;
  candidate->found.told = beyond ? told_range(run, candidate) : told(run, candidate);
  if (candidate->found.told == NULL) return false;
  while (beyond && first + 1 < run->n_given_roots && !candidate->takes_part[first]) first++;
  size_t place = beyond ? run->roots[first] : candidate->found.evidence;
  if (diags)
    DIAG(diags, CONTRADICTION, run->readings[place].given->at, candidate->found.told,
         candidate->found.formula->text);
  return true;
}

bool run_contradict(struct run *run, struct diags *diags) {
  size_t room = count_formulas(run) + 1, n, n_told = 0;
  struct candidate *list = arena_new_array(run->arena, struct candidate, room);
  struct contradiction *found = arena_new_array(run->arena, struct contradiction, room);
  if (list == NULL || found == NULL || !find_candidates(run, list, &n)) return false;
  put_in_order(list, n);
  for (size_t i = 0; i < n; i++) {
    if (is_told(run, list, n_told, &list[i])) continue;
    if (!tell(run, diags, &list[i])) return false;
    found[n_told] = list[i].found;
    list[n_told++] = list[i];
  }
  run->contradictions = found;
  run->n_contradictions = n_told;
  return true;
}
