/* Derived readings of the shipped vocabulary, without its rules: every formula's propagated error
 * against Monte Carlo; what is missing is found from any two of a related three; contradictions are
 * told in the player's words; and left-handed cases are mirror images. */
#include "support/cases.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "model/formula.h"
#include "model/value.h"
#include "support/knowledge.h"

static struct knowledge shipped;

static int load(void **state) {
  static const char *const vocabulary[] = {"kb/evidence", "kb/clubs.yaml", "kb/sources.yaml", NULL};
  (void)state;
  return knowledge_load(&shipped, vocabulary, 0) ? 0 : -1;
}

static int unload(void **state) {
  (void)state;
  knowledge_free(&shipped);
  return 0;
}

/* ---- cases ---- */

static void give(struct run *run, const char *text) {
  const char *sign = strchr(text, '=');
  const char *name = arena_copy(shipped.arena, text, (size_t)(sign - text));
  struct source *source = arena_new_object(shipped.arena, struct source);
  *source = (struct source){.name = "case", .bytes = sign + 1, .n = strlen(sign + 1)};
  struct span at = {.source = source, .line = 1, .column = 1, .end_line = 1, .end_column = 2};
  struct value value;
  size_t evidence = model_find_evidence(shipped.model, name);
  if (evidence == NO_INDEX) fail_msg("the shipped knowledge has no evidence '%s'", name);
  assert_true(
      value_read(shipped.arena, &shipped.diags, shipped.model, evidence, sign + 1, at, &value));
  assert_true(run_give(run, &value));
}

/* "name=value name=value ..." */
static struct run *run_of(const char *words, enum hand hand) {
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

/* Standard deviation of each derived number over the draws. Draws that leave a function's domain
 * are left out. */
static void spread_of(const struct run *run, double *deviation) {
  double sum[EVIDENCE_MAX] = {0}, squares[EVIDENCE_MAX] = {0};
  int count[EVIDENCE_MAX] = {0};
  uint64_t state = 20250101;
  size_t n = shipped.model->n_evidence;
  assert_true(n <= EVIDENCE_MAX);
  for (int i = 0; i < DRAWS; i++) {
    struct draw draw = {.run = run, .state = &state};
    for (size_t k = 0; k < n; k++) {
      if (!run->readings[k].formula) continue;
      double off = value_in(&draw, k) - run->readings[k].number;
      if (!isfinite(off)) continue;
      sum[k] += off;
      squares[k] += off * off;
      count[k]++;
    }
  }
  for (size_t k = 0; k < n; k++) {
    double mean = count[k] ? sum[k] / count[k] : 0;
    deviation[k] = count[k] ? sqrt(squares[k] / count[k] - mean * mean) : 0;
    if (run->readings[k].formula) assert_true(count[k] > 0.98 * DRAWS);
  }
}

/* Readings with their usual errors unless said otherwise. Together they use every formula of every
 * evidence. */
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

/* Where propagation may miss by more than 5 %: a driver struck 14 mm off has its spin tilt known to
 * some 8 deg only, and what that does to the landing is no longer a parabola. First and second
 * order then overstate. */
static const struct {
  const char *evidence;
  double limit;
} exceptions[] = {{"offline", 0.08}};

static double limit_of(size_t evidence) {
  for (size_t i = 0; i < COUNT_OF(exceptions); i++)
    if (strcmp(exceptions[i].evidence, shipped.model->evidence[evidence].name) == 0)
      return exceptions[i].limit;
  return 0.05;
}

static void mark_used(const struct run *run, bool *used) {
  size_t place = 0;
  for (size_t i = 0; i < shipped.model->n_evidence; i++)
    for (size_t k = 0; k < shipped.model->evidence[i].n_formulas; k++, place++)
      used[place] =
          used[place] || run->readings[i].formula == shipped.model->evidence[i].formulas[k];
}

/* Only formulas of the trade; other evidence's are sums and differences, exact in first order. */
static bool is_of_the_trade(const struct formula *formula) {
  const char *file = formula->at.source->name;
  return strstr(file, "club_delivery") || strstr(file, "launch_and_flight");
}

static int n_unused(const bool *used) {
  size_t place = 0;
  int n = 0;
  for (size_t i = 0; i < shipped.model->n_evidence; i++)
    for (size_t k = 0; k < shipped.model->evidence[i].n_formulas; k++, place++) {
      const struct formula *formula = shipped.model->evidence[i].formulas[k];
      if (used[place] || !is_of_the_trade(formula)) continue;
      print_error("no case fills %s by %s\n", shipped.model->evidence[i].name, formula->text);
      n++;
    }
  return n;
}

static void run_chain__errors_agree_with_monte_carlo(void **state) {
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
                  shipped.model->evidence[k].name, about->number, about->formula->text,
                  about->error, deviation[k]);
      bad++;
    }
    run_free(run);
  }
  bad += n_unused(used);
  assert_int_equal(bad, 0);
}

/* ---- any two of a related three ---- */

static const struct reading *reading_of(const struct run *run, const char *name) {
  size_t evidence = model_find_evidence(shipped.model, name);
  assert_true(evidence != NO_INDEX);
  return &run->readings[evidence];
}

static void assert_number(const char *words, const char *name, double wanted, double error) {
  struct run *run = run_of(words, HAND_RIGHT);
  const struct reading *about = reading_of(run, name);
  if (!(about->state == READING_DERIVED && fabs(about->number - wanted) <= error)) {
    print_error("%s: %s is %g, wanted %g +/- %g\n", words, name, about->number, wanted, error);
    fail();
  }
  run_free(run);
}

/* A circle through each relation: what two give must give the first two back. */
static void run_chain__any_two_of_three_give_the_third(void **state) {
  (void)state;
  assert_number("club=7i face=1 path=-4", "face_to_path", 5, 1e-9);
  assert_number("club=7i face=1 face_to_path=5", "path", -4, 1e-9);
  assert_number("club=7i path=-4 face_to_path=5", "face", 1, 1e-9);
  /* wood-2018: the face's share for a 7 iron is 0.69 */
  assert_number("club=7i face=1 path=-4", "start", -4 + 0.69 * 5, 1e-9);
  assert_number("club=7i start=-0.55 path=-4", "face", 1, 1e-9);
  assert_number("club=7i start=-0.55 face=1", "path", -4, 1e-9);
  /* reference, Impact geometry: attack -5 in a plane of 60 deg moves the path 2.895 right of the
   * arc */
  assert_number("club=7i arc_direction=-6 attack=-5 plane_tilt=60", "path", -6 + 2.895, 5e-4);
  assert_number("club=7i path=-3.105 attack=-5 plane_tilt=60", "arc_direction", -6, 5e-4);
  assert_number("club=7i path=-3.105 arc_direction=-6 plane_tilt=60", "attack", -5, 1e-3);
  assert_number("club=7i ball_speed=40 club_speed=32", "speed_ratio", 1.25, 1e-9);
  assert_number("club=7i ball_speed=40 speed_ratio=1.25", "club_speed", 32, 1e-9);
  assert_number("club=7i club_speed=32 speed_ratio=1.25", "ball_speed", 40, 1e-9);
}

static void run_chain__low_point_and_attack_undo_each_other(void **state) {
  (void)state;
  struct run *run = run_of("club=7i attack=-4", HAND_RIGHT);
  char words[64];
  snprintf(words, sizeof words, "club=7i low_point=%.6f", reading_of(run, "low_point")->number);
  run_free(run);
  assert_number(words, "attack", -4, 1e-4);
}

/* reference, Impact geometry: face 3, path 0, loft 30, attack 0 tilts the axis 5.18 deg. Put back
 * in as a measured tilt it gives the face to path again, also beside a strike that tilts it as
 * well. */
static void run_chain__the_axis_gives_face_to_path_back(void **state) {
  (void)state;
  assert_number("club=7i face=3 path=0 delivered_loft=30 attack=0", "axis_tilt", 5.18, 5e-3);
  assert_number("club=7i axis_tilt=5.1819 delivered_loft=30 attack=0", "face_to_path", 3, 2e-3);
  assert_number("club=7i axis_tilt=5.1819 delivered_loft=30 attack=0 strike=0", "face_to_path", 3,
                2e-3);
}

/* ---- a player without a device ---- */

static void run_chain__words_of_flight_give_face_and_path(void **state) {
  (void)state;
  struct run *run = run_of("club=7i start=left curve=right", HAND_RIGHT);
  const struct reading *face = reading_of(run, "face"), *path = reading_of(run, "path");
  assert_true(path->number < -4 && path->number < face->number);
  assert_true(path->error > 1.5 && path->error < 5);
  assert_true(reading_of(run, "face_to_path")->error > 2);
  /* They rest on the same two words, so their difference is not known as if they did not. */
  assert_true(fabs(hypot(face->error, path->error) - reading_of(run, "face_to_path")->error) > 0.2);
  run_free(run);
}

/* A driver's bend may come from the strike: where on the face is worth knowing. */
static void run_chain__a_known_strike_narrows_a_drivers_path(void **state) {
  (void)state;
  struct run *unseen = run_of("club=driver start=left curve=right", HAND_RIGHT);
  struct run *seen = run_of("club=driver start=left curve=right strike=0", HAND_RIGHT);
  assert_true(reading_of(seen, "face_to_path")->error <
              0.75 * reading_of(unseen, "face_to_path")->error);
  run_free(unseen);
  run_free(seen);
}

/* ---- contradictions ---- */

static void run_chain__three_that_cannot_all_be_correct(void **state) {
  (void)state;
  struct run *run = run_of("club=7i face=2 path=-4 start=-6", HAND_RIGHT);
  assert_int_equal(run->n_contradictions, 1);
  assert_string_equal(
      run->contradictions[0].told,
      "face 2, path -4 and start -6 cannot all be correct: the others make start direction 0.1 deg right +/- 0.8");
  run_free(run);
  run = run_of("club=7i face=-2 path=4 start=6", HAND_LEFT);
  assert_string_equal(
      run->contradictions[0].told,
      "face -2, path 4 and start 6 cannot all be correct: the others make start direction 0.1 deg left +/- 0.8");
  run_free(run);
}

/* What a player may well give together: nothing here contradicts, though every number has its
 * error. */
static void run_chain__sound_cases_contradict_nothing(void **state) {
  (void)state;
  for (size_t c = 0; c < COUNT_OF(cases); c++) {
    struct run *run = run_of(cases[c], HAND_RIGHT);
    if (run->n_contradictions > 0) print_error("%s: %s\n", cases[c], run->contradictions[0].told);
    assert_int_equal(run->n_contradictions, 0);
    run_free(run);
  }
}

/* ---- hand ---- */

/* The same case told by a left-handed player: every sideways number of the words with the other
 * sign. */
static const char *mirrored_words(const char *words) {
  struct text text;
  text_init(&text, shipped.arena);
  while (*words) {
    size_t n = strcspn(words, " "), name = strcspn(words, "=");
    size_t evidence = model_find_evidence(shipped.model, arena_copy(shipped.arena, words, name));
    const char *value = arena_copy(shipped.arena, words + name + 1, n - name - 1);
    bool number = strspn(value, "+-.0123456789") == strlen(value);
    text_add_bytes(&text, words, name + 1);
    if (!shipped.model->evidence[evidence].mirrored) text_add(&text, value);
    else if (number)
      text_format(&text, "%s%s", *value == '-' ? "" : "-", *value == '-' ? value + 1 : value);
    else
      text_add(&text, strcmp(value, "left") == 0    ? "right"
                      : strcmp(value, "right") == 0 ? "left"
                                                    : value);
    words += n + (words[n] == ' ');
    text_add(&text, *words ? " " : "");
  }
  return text_done(&text);
}

static void run_chain__a_left_handed_case_has_the_same_readings(void **state) {
  (void)state;
  for (size_t c = 0; c < COUNT_OF(cases); c++) {
    if (strstr(cases[c], "fade")) continue; /* a word without a side is already the player's own */
    struct run *right = run_of(cases[c], HAND_RIGHT),
               *left = run_of(mirrored_words(cases[c]), HAND_LEFT);
    for (size_t i = 0; i < shipped.model->n_evidence; i++) {
      const struct reading *a = &right->readings[i], *b = &left->readings[i];
      assert_int_equal(a->state, b->state);
      if (!(a->number == b->number && a->error == b->error)) {
        print_error("%s: %s %.17g +/- %.17g, left-handed %.17g +/- %.17g\n", cases[c],
                    shipped.model->evidence[i].name, a->number, a->error, b->number, b->error);
        fail();
      }
    }
    run_free(right);
    run_free(left);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(run_chain__errors_agree_with_monte_carlo),
      cmocka_unit_test(run_chain__any_two_of_three_give_the_third),
      cmocka_unit_test(run_chain__low_point_and_attack_undo_each_other),
      cmocka_unit_test(run_chain__the_axis_gives_face_to_path_back),
      cmocka_unit_test(run_chain__words_of_flight_give_face_and_path),
      cmocka_unit_test(run_chain__a_known_strike_narrows_a_drivers_path),
      cmocka_unit_test(run_chain__three_that_cannot_all_be_correct),
      cmocka_unit_test(run_chain__sound_cases_contradict_nothing),
      cmocka_unit_test(run_chain__a_left_handed_case_has_the_same_readings),
  };
  return cmocka_run_group_tests_name("run derive shipped", tests, load, unload);
}
