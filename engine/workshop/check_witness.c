/* From what evidence may be to a case that can be run, and from there to the smallest one. */
#include <math.h>
#include <string.h>

#include "workshop/check_parts.h"
#include "workshop/check_random.h"

#define CANDIDATES_MAX 16 /* run for one witness */
#define DRAWS_MAX 24      /* of numbers for a comparison by formula, at each candidate */

/* ---- values ---- */

/* About three errors inside a threshold, so that the reading is clear; in the middle of an
 * interval; else as near 0 as may be. */
static double usual_number(const struct evidence *evidence, const struct domain *domain) {
  double middle = domain->low / 2 + domain->high / 2, clear = 3 * evidence->error;
  bool from_below = domain->low > evidence->low, from_above = domain->high < evidence->high;
  if (from_below && from_above) return middle;
  if (from_below) return fmin(domain->low + clear, middle);
  if (from_above) return fmax(domain->high - clear, middle);
  return domain->low < 0 && domain->high > 0 ? 0 : middle;
}

static double rounded(double number, int decimals) {
  double scale = pow(10, decimals);
  return round(number * scale) / scale + 0.0;
}

static bool lies_in(const struct domain *domain, double number) {
  return number > domain->low && number < domain->high;
}

/* Rounded as the evidence is shown, or finer where that would leave the domain. */
static double shown_number(const struct evidence *evidence, const struct domain *domain,
                           double number) {
  for (int decimals = evidence->decimals; decimals <= 6; decimals++)
    if (lies_in(domain, rounded(number, decimals))) return rounded(number, decimals);
  return number;
}

/* The usual error, or a smaller one where the interval leaves no room for it. */
static double usual_error(const struct evidence *evidence, const struct domain *domain,
                          double number) {
  double room = INFINITY;
  if (domain->low > evidence->low) room = number - domain->low;
  if (domain->high < evidence->high) room = fmin(room, domain->high - number);
  return room >= evidence->error ? evidence->error : rounded(room / 3, 4);
}

static const char *number_typed(struct arena *arena, const struct evidence *evidence,
                                const struct value *value) {
  struct text text;
  text_init(&text, arena);
  text_number(&text, value->number);
  if (value->error < evidence->error || value->error > evidence->error) {
    text_add(&text, " +/- ");
    text_number(&text, value->error);
  }
  return text_done(&text);
}

static void set_number(struct checker *checker, struct value *value, const struct domain *domain,
                       double number) {
  const struct evidence *evidence = &checker->model->evidence[value->evidence];
  value->number = shown_number(evidence, domain, number);
  value->error = usual_error(evidence, domain, value->number);
  value->typed = number_typed(checker->arena, evidence, value);
}

static size_t first_choice(const struct evidence *evidence, uint64_t choices) {
  for (size_t i = 0; i < evidence->n_choices && i < 64; i++)
    if (choices >> i & 1) return i;
  return 0;
}

struct value check_value(struct checker *checker, size_t index, const struct domain *domain) {
  const struct evidence *evidence = &checker->model->evidence[index];
  struct value value = {.evidence = index, .choice = NO_INDEX, .sure = 1};
  if (evidence->kind == EVIDENCE_NUMBER) {
    set_number(checker, &value, domain, usual_number(evidence, domain));
  } else if (evidence->kind == EVIDENCE_TEXT) {
    const char *pattern =
        domain->matches ? check_pattern_text(checker->arena, domain->matches) : NULL;
    const char *text = pattern ? check_example_text(checker->arena, pattern) : NULL;
    value.text = value.typed = text ? text : "x";
  } else {
    value.choice = first_choice(evidence, domain->choices);
    value.typed = evidence->choices[value.choice].name;
  }
  return value;
}

/* ---- candidates ---- */

struct search {
  struct checker *checker;
  check_shows *shows;
  const void *context;
  size_t n_run;
  struct value *values; /* the candidate at hand */
  size_t n;
  struct witness found, contradictory;
  uint64_t random;
};

bool check_chain(struct checker *checker, struct witness witness) {
  run_reset(checker->run);
  for (size_t i = 0; i < witness.n; i++) run_give(checker->run, &witness.values[i]);
  return run_chain(checker->run, NULL);
}

static struct witness keep_values(struct checker *checker, const struct value *values, size_t n) {
  struct value *kept = arena_new_array(checker->arena, struct value, n + 1);
  if (!kept) return (struct witness){NULL, 0};
  memcpy(kept, values, n * sizeof *kept);
  return (struct witness){kept, n};
}

static bool reads_club(const struct solver *solver, const struct model *model) {
  bool reads = solver_domain(solver, model->club_evidence)->asked;
  for (size_t i = 0; i < model->n_evidence; i++)
    reads = reads || (model->evidence[i].from_club != CLUB_NONE && solver_domain(solver, i)->asked);
  return reads;
}

/* The club that fills what is asked of clubs, or NO_INDEX. */
static size_t candidate_club(const struct solver *solver, const struct model *model) {
  if (model->club_evidence == NO_INDEX || solver_domain(solver, model->club_evidence)->unknown ||
      !reads_club(solver, model))
    return NO_INDEX;
  return solver_club(solver);
}

static void fill_candidate(struct search *search, const struct solver *solver) {
  const struct model *model = search->checker->model;
  size_t club = candidate_club(solver, model);
  search->n = 0;
  for (size_t i = 0; i < model->n_evidence; i++) {
    const struct domain *domain = solver_domain(solver, i);
    struct domain of_club = *domain;
    bool is_club = club != NO_INDEX && i == model->club_evidence;
    if (is_club) of_club.choices = UINT64_C(1) << club;
    bool filled = club != NO_INDEX && model->evidence[i].from_club != CLUB_NONE;
    if ((domain->asked && !filled) || is_club)
      search->values[search->n++] = check_value(search->checker, i, is_club ? &of_club : domain);
  }
}

/* Whether the candidate shows it; keeps it, as a last resort when its readings contradict. */
static bool try_candidate(struct search *search) {
  struct checker *checker = search->checker;
  struct witness witness = {search->values, search->n};
  if (!check_chain(checker, witness) || !search->shows(checker->run, search->context)) return false;
  bool contradictory = checker->run->n_contradictions > 0;
  struct witness *place = contradictory ? &search->contradictory : &search->found;
  if (place->n == 0) *place = keep_values(checker, search->values, search->n);
  return !contradictory;
}

static void draw_numbers(struct search *search, const struct solver *solver) {
  for (size_t i = 0; i < search->n; i++) {
    struct value *value = &search->values[i];
    const struct domain *domain = solver_domain(solver, value->evidence);
    if (search->checker->model->evidence[value->evidence].kind == EVIDENCE_NUMBER)
      set_number(search->checker, value, domain,
                 domain->low + random_between(&search->random) * (domain->high - domain->low));
  }
}

static bool take_candidate(struct solver *solver, void *context) {
  struct search *search = context;
  size_t n_formulas;
  solver_formulas(solver, &n_formulas);
  fill_candidate(search, solver);
  if (try_candidate(search)) return true;
  for (size_t i = 0; n_formulas > 0 && i < DRAWS_MAX; i++) {
    draw_numbers(search, solver);
    if (try_candidate(search)) return true;
  }
  return ++search->n_run == CANDIDATES_MAX;
}

struct witness check_search(struct checker *checker, const struct solve_goal *goals, size_t n,
                            check_shows *shows, const void *context) {
  struct search search = {
      .checker = checker, .shows = shows, .context = context, .random = checker->options.seed};
  search.values = arena_new_array(checker->arena, struct value, checker->model->n_evidence + 1);
  if (!search.values) return (struct witness){NULL, 0};
  solver_search(checker->solver, goals, n, take_candidate, &search);
  struct witness found = search.found.n > 0 ? search.found : search.contradictory;
  return found.n > 0 ? check_shrink(checker, found, shows, context) : found;
}

struct witness check_shrink(struct checker *checker, struct witness witness, check_shows *shows,
                            const void *context) {
  struct witness kept = keep_values(checker, witness.values, witness.n);
  struct value *values = (struct value *)kept.values;
  for (size_t i = kept.n; i-- > 0 && kept.n > 1;) {
    struct value left_out = values[i];
    memmove(values + i, values + i + 1, (kept.n - i - 1) * sizeof *values);
    kept.n--;
    if (check_chain(checker, kept) && shows(checker->run, context)) continue;
    memmove(values + i + 1, values + i, (kept.n - i) * sizeof *values);
    values[i] = left_out;
    kept.n++;
  }
  check_chain(checker, kept);
  return kept;
}

/* ---- usual goals ---- */

static bool shows_pair(const struct run *run, const void *context) {
  const struct check_pair *pair = context;
  return run->rules[pair->a] == RULE_FIRED && run->rules[pair->b] == RULE_FIRED;
}

struct witness check_search_pair(struct checker *checker, size_t a, size_t b) {
  const struct check_pair pair = {a, b};
  const struct solve_goal goals[] = {{checker->model->rules[a].when, false},
                                     {checker->model->rules[b].when, false}};
  return check_search(checker, goals, 2, shows_pair, &pair);
}

struct witness check_search_rule(struct checker *checker, size_t rule) {
  const struct check_pair pair = {rule, rule};
  const struct solve_goal goal = {checker->model->rules[rule].when, false};
  return check_search(checker, &goal, 1, shows_pair, &pair);
}

struct condition check_believed(size_t claim, double above) {
  return (struct condition){
      .kind = CONDITION_BELIEVED, .evidence = NO_INDEX, .claim = claim, .low = above};
}
