/* Propagated errors of derived readings against Monte Carlo, within 5 % and what the Monte Carlo
 * itself may be out: for cases that use every formula of the shipped vocabulary, and for random
 * ones over clubs and readings. */
#include "test_derive_shipped.h"

#include "golf/expect.h"

enum { DRAWS = 5000, RANDOM_CASES = 48, EVIDENCE_MAX = 512, TEXT_MAX = 2000 };

/* ---- Monte Carlo ---- */

static double normal(uint64_t *state) {
  double r = sqrt(-2 * log(1 - random_uniform(state)));
  return r * cos(2 * acos(-1) * random_uniform(state));
}

/* The formula's own error as the vocabulary says it, without what its bend adds. */
static double stated_error(const struct run *run, const struct formula *formula) {
  double inputs[FORMULA_INPUTS_MAX];
  if (!formula->doubt) return formula->error;
  for (size_t i = 0; i < formula->doubt->n_inputs; i++)
    inputs[i] = run->readings[formula->doubt->inputs[i]].number;
  return fabs(formula_value(formula->doubt, inputs));
}

struct draw {
  const struct run *run;
  uint64_t *state;
  double values[EVIDENCE_MAX];
  bool drawn[EVIDENCE_MAX];
};

/* One value of an evidence, drawing first what it rests on. */
static double value_in(struct draw *draw, size_t evidence) {
  const struct reading *about = &draw->run->readings[evidence];
  if (draw->drawn[evidence]) return draw->values[evidence];
  double value = about->number;
  if (about->formula) {
    double inputs[FORMULA_INPUTS_MAX];
    for (size_t i = 0; i < about->formula->n_inputs; i++)
      inputs[i] = value_in(draw, about->formula->inputs[i]);
    value = formula_value(about->formula, inputs) +
            stated_error(draw->run, about->formula) * normal(draw->state);
  } else if (about->error > 0) {
    value += about->error * normal(draw->state);
  }
  draw->drawn[evidence] = true;
  return draw->values[evidence] = value;
}

/* What the draws of one derived number show, in its propagated errors. */
struct sampled {
  double powers[4]; /* sums of the first to the fourth power */
  int n;            /* draws within all functions' domains */
  double deviation; /* 1: as propagated */
  double doubt;     /* one standard error of the deviation, as a part of it */
};

/* The standard error of a standard deviation, from the fourth moment (derived). */
static void summarize(struct sampled *sampled) {
  double n = sampled->n, mean = sampled->powers[0] / n, square = sampled->powers[1] / n;
  double variance = square - mean * mean;
  double fourth = sampled->powers[3] / n - 4 * mean * sampled->powers[2] / n +
                  6 * mean * mean * square - 3 * pow(mean, 4);
  sampled->deviation = sqrt(variance);
  sampled->doubt = sqrt((fourth / (variance * variance) - 1) / (4 * n));
}

static bool is_sampled(const struct reading *about) {
  return about->formula && about->error > 1e-9;
}

static void sample(const struct run *run, uint64_t seed, struct sampled *sampled) {
  size_t n = shipped.model->n_evidence;
  assert_true(n <= EVIDENCE_MAX);
  memset(sampled, 0, n * sizeof *sampled);
  for (int i = 0; i < DRAWS; i++) {
    struct draw draw = {.run = run, .state = &seed};
    for (size_t k = 0; k < n; k++) {
      if (!is_sampled(&run->readings[k])) continue;
      double off = (value_in(&draw, k) - run->readings[k].number) / run->readings[k].error;
      if (!isfinite(off)) continue;
      for (int p = 0; p < 4; p++) sampled[k].powers[p] += pow(off, p + 1);
      sampled[k].n++;
    }
  }
  for (size_t k = 0; k < n; k++) summarize(&sampled[k]);
}

/* ---- comparing ---- */

struct tally {
  int n, bad, over_2, over_4; /* over: out by more than 2 %, 4 %, sampling included */
  int vague;                  /* sampling alone is out by more than 2 % */
  double worst;
  char worst_is[160];
};

static void compare(const struct run *run, const char *told, const struct sampled *sampled,
                    struct tally *tally) {
  for (size_t k = 0; k < shipped.model->n_evidence; k++) {
    const struct reading *about = &run->readings[k];
    if (!is_sampled(about)) continue;
    double off = 1 / sampled[k].deviation - 1;
    tally->n++;
    tally->over_2 += fabs(off) > 0.02;
    tally->over_4 += fabs(off) > 0.04;
    tally->vague += sampled[k].doubt > 0.02;
    if (sampled[k].doubt <= 0.02 && fabs(off) > fabs(tally->worst)) {
      tally->worst = off;
      snprintf(tally->worst_is, sizeof tally->worst_is, "%s by %s", shipped.model->evidence[k].name,
               about->formula->text);
    }
    if (fabs(off) <= 0.05 + 3 * sampled[k].doubt) continue;
    print_error("%s: %s = %g +/- %g by %s: %+.1f %% against Monte Carlo, good to %.1f %%\n", told,
                shipped.model->evidence[k].name, about->number, about->error, about->formula->text,
                100 * off, 100 * sampled[k].doubt);
    tally->bad++;
  }
}

static void print_tally(const char *what, const struct tally *tally) {
  print_message("# %s: %d numbers; out by more than 2 %%: %d, 4 %%: %d; known to 2 %% only: %d; "
                "worst of the others %+.1f %%, %s\n",
                what, tally->n, tally->over_2, tally->over_4, tally->vague, 100 * tally->worst,
                tally->worst_is);
}

/* The least share of draws that any number keeps: the rest leaves a function's domain. */
static double least_kept(const struct run *run, const struct sampled *sampled) {
  double least = 1;
  for (size_t k = 0; k < shipped.model->n_evidence; k++)
    if (is_sampled(&run->readings[k])) least = fmin(least, (double)sampled[k].n / DRAWS);
  return least;
}

/* ---- every formula ---- */

static void mark_used(const struct run *run, bool *used) {
  size_t place = 0;
  for (size_t i = 0; i < shipped.model->n_evidence; i++)
    for (size_t k = 0; k < shipped.model->evidence[i].n_formulas; k++, place++)
      used[place] =
          used[place] || run->readings[i].formula == shipped.model->evidence[i].formulas[k];
}

static int n_unused(const bool *used) {
  size_t place = 0;
  int n = 0;
  for (size_t i = 0; i < shipped.model->n_evidence; i++)
    for (size_t k = 0; k < shipped.model->evidence[i].n_formulas; k++, place++) {
      if (used[place]) continue;
      print_error("no case fills %s by %s\n", shipped.model->evidence[i].name,
                  shipped.model->evidence[i].formulas[k]->text);
      n++;
    }
  return n;
}

static void run_chain__errors_of_every_formula_agree_with_monte_carlo(void **state) {
  static bool used[1024];
  static struct sampled sampled[EVIDENCE_MAX];
  struct tally tally = {0};
  (void)state;
  for (size_t c = 0; c < COUNT_OF(cases); c++) {
    struct run *run = run_of(cases[c], HAND_RIGHT);
    sample(run, 20250101 + c, sampled);
    mark_used(run, used);
    compare(run, cases[c], sampled, &tally);
    assert_true(least_kept(run, sampled) > 0.98);
    run_free(run);
  }
  print_tally("every formula", &tally);
  assert_int_equal(tally.bad + n_unused(used), 0);
}

/* ---- random cases ---- */

/* False when the number is not plausible for the evidence, and then it is not given. */
static bool give_number(struct run *run, size_t evidence, double number, double error) {
  const struct evidence *about = &shipped.model->evidence[evidence];
  struct value value = {.evidence = evidence,
                        .number = number,
                        .error = error,
                        .shots = 1,
                        .sure = 1,
                        .choice = NO_INDEX,
                        .typed = ""};
  return number >= about->low && number <= about->high && run_give(run, &value);
}

static void give_named(struct run *run, const char *name, double number) {
  size_t evidence = model_find_evidence(shipped.model, name);
  assert_true(evidence != NO_INDEX);
  give_number(run, evidence, number, shipped.model->evidence[evidence].error);
}

static struct run *run_with_club(size_t club) {
  struct run *run = run_new(NULL, shipped.network);
  struct value value = {
      .evidence = shipped.model->club_evidence, .choice = club, .shots = 1, .sure = 1, .typed = ""};
  assert_non_null(run);
  assert_true(run_give(run, &value));
  return run;
}

/* A swing with all that follows from it: an amateur's, around the usual of the club. */
static struct run *random_swing(size_t club, uint64_t *state) {
  struct run *run = run_with_club(club);
  double loft = shipped.model->clubs[club].loft;
  give_named(run, "club_speed",
             golf_expected_club_speed(loft) * (0.75 + 0.4 * random_uniform(state)));
  give_named(run, "face", 3 * normal(state));
  give_named(run, "path", 3.5 * normal(state));
  give_named(run, "delivered_loft", golf_expected_delivered_loft(loft) + 3 * normal(state));
  give_named(run, "attack", golf_expected_attack(loft) + 2 * normal(state));
  give_named(run, "strike", 8 * normal(state));
  give_named(run, "strike_height", 5 * normal(state));
  give_named(run, "aim_feet", 4 * normal(state));
  give_named(run, "age", 15 + 2 * normal(state));
  give_named(run, "weekly_hours", 14 + 3 * normal(state));
  assert_true(run_chain(run, NULL));
  return run;
}

/* The usual error, half of it for a good device, or twice for a guess. */
static double random_error(const struct evidence *evidence, uint64_t *state) {
  double which = random_uniform(state);
  return evidence->error * (which < 0.6 ? 1 : which < 0.8 ? 0.5 : 2);
}

/* Some of the numbers of a random swing, each read with its error. */
static struct run *random_readings(uint64_t *state, char *told) {
  size_t club = (size_t)(random_next(state) % shipped.model->n_clubs);
  struct run *swing = random_swing(club, state), *run = run_with_club(club);
  double share = 0.1 + 0.4 * random_uniform(state);
  int at = snprintf(told, TEXT_MAX, "club=%s", shipped.model->clubs[club].name);
  for (size_t i = 0; i < shipped.model->n_evidence; i++) {
    const struct evidence *evidence = &shipped.model->evidence[i];
    if (evidence->kind != EVIDENCE_NUMBER || evidence->from_club != CLUB_NONE ||
        swing->readings[i].state == READING_UNKNOWN || random_uniform(state) > share)
      continue;
    double error = random_error(evidence, state);
    double number = swing->readings[i].number + error * normal(state);
    if (give_number(run, i, number, error))
      at += snprintf(told + at, (size_t)(TEXT_MAX - at), " '%s=%.5g +/- %.3g'", evidence->name,
                     number, error);
  }
  assert_true(run_chain(run, NULL));
  run_free(swing);
  return run;
}

/* A case is passed over when more than 1 draw of 100 leaves a function's domain: what it says of
 * some number is not plausible then, and a standard deviation of the rest would not be its error.
 */
static void run_chain__errors_of_random_cases_agree_with_monte_carlo(void **state) {
  static struct sampled sampled[EVIDENCE_MAX];
  struct tally tally = {0};
  uint64_t seed = 20250202;
  int n = 0, passed_over = 0;
  (void)state;
  while (n < RANDOM_CASES) {
    char told[TEXT_MAX];
    struct run *run = random_readings(&seed, told);
    sample(run, seed, sampled);
    if (least_kept(run, sampled) >= 0.99) {
      compare(run, told, sampled, &tally);
      n++;
    } else {
      passed_over++;
    }
    run_free(run);
  }
  print_tally("random cases", &tally);
  print_message("# %d cases, %d passed over\n", n, passed_over);
  assert_int_equal(tally.bad, 0);
  assert_true(tally.vague * 50 < tally.n);
  assert_true(passed_over * 5 < n);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(run_chain__errors_of_every_formula_agree_with_monte_carlo),
      cmocka_unit_test(run_chain__errors_of_random_cases_agree_with_monte_carlo),
  };
  return cmocka_run_group_tests_name("run derive errors", tests, load, unload);
}
