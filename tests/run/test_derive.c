/* Derived readings of the shipped knowledge: every formula's propagated error against Monte Carlo; what is missing is found from any two of
 * a related three; contradictions are told in the player's words; and left-handed cases are mirror images. */
#include "support/cases.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "model/formula.h"
#include "model/value.h"
#include "support/knowledge.h"

static struct knowledge shipped;

static int load(void **state)
{
  (void)state;
  return knowledge_load_shipped(&shipped, 0) ? 0 : -1;
}

static int unload(void **state)
{
  (void)state;
  knowledge_free(&shipped);
  return 0;
}

/* ---- cases ---- */

static void give(struct run *run, const char *text)
{
  const char *sign = strchr(text, '=');
  const char *name = arena_copy(shipped.arena, text, (size_t)(sign - text));
  struct source *source = arena_new_object(shipped.arena, struct source);
  *source = (struct source){"case", sign + 1, strlen(sign + 1)};
  struct span at = {.source = source, .line = 1, .column = 1, .end_line = 1, .end_column = 2};
  struct value value;
  size_t evidence = model_find_evidence(shipped.model, name);
  if (evidence == NO_INDEX)
    fail_msg("the shipped knowledge has no evidence '%s'", name);
  assert_true(value_read(shipped.arena, &shipped.diags, shipped.model, evidence, sign + 1, at, &value));
  assert_true(run_give(run, &value));
}

/* "name=value name=value ..." */
static struct run *run_of(const char *words, enum hand hand)
{
  struct run *run = run_new(NULL, shipped.network);
  assert_non_null(run);
  run->hand = hand;
  while (*words) {
    size_t n = strcspn(words, " ");
    give(run, arena_copy(shipped.arena, words, n));
    words += n + (words[n] == ' ');
  }
  assert_true(run_chain(run, NULL));
  return run;
}

/* ---- Monte Carlo ---- */

enum { DRAWS = 6000, EVIDENCE_MAX = 512 };

static double normal(uint64_t *state)
{
  double r = sqrt(-2 * log(1 - random_uniform(state)));
  return r * cos(2 * acos(-1) * random_uniform(state));
}

/* The formula's own error as the vocabulary says it, without what its bend adds. */
static double stated_error(const struct run *run, const struct formula *formula)
{
  double inputs[FORMULA_INPUTS_MAX];
  if (!formula->doubt)
    return formula->error;
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
static double value_in(struct draw *draw, size_t evidence)
{
  const struct reading *about = &draw->run->readings[evidence];
  if (draw->drawn[evidence])
    return draw->values[evidence];
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

/* Standard deviation of each derived number over the draws. Draws that leave a function's domain are left out. */
static void spread_of(const struct run *run, double *deviation)
{
  double sum[EVIDENCE_MAX] = {0}, squares[EVIDENCE_MAX] = {0};
  int count[EVIDENCE_MAX] = {0};
  uint64_t state = 20250101;
  size_t n = shipped.model->n_evidence;
  assert_true(n <= EVIDENCE_MAX);
  for (int i = 0; i < DRAWS; i++) {
    struct draw draw = {.run = run, .state = &state};
    for (size_t k = 0; k < n; k++) {
      if (!run->readings[k].formula)
        continue;
      double off = value_in(&draw, k) - run->readings[k].number;
      if (!isfinite(off))
        continue;
      sum[k] += off;
      squares[k] += off * off;
      count[k]++;
    }
  }
  for (size_t k = 0; k < n; k++) {
    double mean = count[k] ? sum[k] / count[k] : 0;
    deviation[k] = count[k] ? sqrt(squares[k] / count[k] - mean * mean) : 0;
    if (run->readings[k].formula)
      assert_true(count[k] > 0.98 * DRAWS);
  }
}

/* Readings with their usual errors unless said otherwise. Together they use every formula of every evidence. */
static const char *const cases[] = {
    /* everything a device reads of club and strike */
    "club=7i club_speed=36 face=2 path=-4 delivered_loft=28 attack=-4 strike=8 strike_height=-3 aim_feet=-4",
    "club=driver club_speed=45 face=-3 path=2.5 delivered_loft=14 attack=2 strike=-14 strike_height=5",
    "club=7i club_speed=36 face=2 path=-4 delivered_loft=28 attack=-4",
    /* the ball alone */
    "club=8i ball_speed=40 launch=22 backspin=6500 axis_tilt=9 start=-2 speed_ratio=1.25",
    "club=8i ball_speed=40 launch=22 backspin=6500 axis_tilt=9 start=-2 club_speed=33 strike=10",
    "club=8i axis_tilt=9 delivered_loft=29 attack=-4 strike=10 start=-2",
    "club=8i axis_tilt=9 delivered_loft=29 attack=-4 start=-2",
    "club=8i launch=22 attack=-4",
    /* words of a player without a device */
    "club=7i start=left curve=right",
    "club=driver start=left curve=right strike=toe",
    "club=8i club_speed=33 loft_gap=too_much spin_gap=too_much",
    "club=8i launch_gap=too_low low_point=ahead carry=120 start=left curve=fade",
    "club=8i carry=120 offline=20 start=-2",
    "club=8i carry=120 offline=20 curve=5",
    /* any two of a related three */
    "club=7i arc_direction=-6 attack=-4 face_to_path=3",
    "club=7i arc_direction=-6 path=-3 face=1 club_speed=36 speed_ratio=1.3 strike=9",
    "club=7i face=1 face_to_path=5",
    "club=7i start=-2 face=0.5",
    "club=7i start=-2 path=-5",
};

/* Where propagation may miss by more than 5 %: a driver struck 14 mm off has its spin tilt known to some 8 deg only, and what that does
 * to the landing is no longer a parabola. First and second order then overstate. */
static const struct {
  const char *evidence;
  double limit;
} exceptions[] = {{"offline", 0.08}};

static double limit_of(size_t evidence)
{
  for (size_t i = 0; i < COUNT_OF(exceptions); i++)
    if (strcmp(exceptions[i].evidence, shipped.model->evidence[evidence].name) == 0)
      return exceptions[i].limit;
  return 0.05;
}

static void mark_used(const struct run *run, bool *used)
{
  size_t place = 0;
  for (size_t i = 0; i < shipped.model->n_evidence; i++)
    for (size_t k = 0; k < shipped.model->evidence[i].n_formulas; k++, place++)
      used[place] = used[place] || run->readings[i].formula == shipped.model->evidence[i].formulas[k];
}

/* Only formulas of the trade; other evidence's are sums and differences, exact in first order. */
static bool is_of_the_trade(const struct formula *formula)
{
  const char *file = formula->at.source->name;
  return strstr(file, "club_delivery") || strstr(file, "launch_and_flight");
}

static int n_unused(const bool *used)
{
  size_t place = 0;
  int n = 0;
  for (size_t i = 0; i < shipped.model->n_evidence; i++)
    for (size_t k = 0; k < shipped.model->evidence[i].n_formulas; k++, place++) {
      const struct formula *formula = shipped.model->evidence[i].formulas[k];
      if (used[place] || !is_of_the_trade(formula))
        continue;
      print_error("no case fills %s by %s\n", shipped.model->evidence[i].name, formula->text);
      n++;
    }
  return n;
}

static void run_chain__errors_agree_with_monte_carlo(void **state)
{
  static bool used[1024];
  int bad = 0;
  (void)state;
  for (size_t c = 0; c < COUNT_OF(cases); c++) {
    struct run *run = run_of(cases[c], HAND_RIGHT);
    double deviation[EVIDENCE_MAX];
    spread_of(run, deviation);
    mark_used(run, used);
    for (size_t k = 0; k < shipped.model->n_evidence; k++) {
      const struct reading *about = &run->readings[k];
      if (!about->formula || fabs(about->error - deviation[k]) <= limit_of(k) * deviation[k] + 1e-9)
        continue;
      print_error("%s: %s = %g by %s: error %g, Monte Carlo %g\n", cases[c],
                  shipped.model->evidence[k].name, about->number, about->formula->text, about->error,
                  deviation[k]);
      bad++;
    }
    run_free(run);
  }
  bad += n_unused(used);
  assert_int_equal(bad, 0);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(run_chain__errors_agree_with_monte_carlo),
  };
  return cmocka_run_group_tests_name("run derive", tests, load, unload);
}
