/* Gaps: regions of plausible impacts whose flight is clearly bad, and of which the knowledge says
 * nothing. Impacts are drawn and flown by golf/ and chained with what one kit or another tells of
 * them; a region is what a coach would call the shot. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "golf/expect.h"
#include "golf/flight.h"
#include "workshop/check_parts.h"
#include "workshop/sample.h"

/* A shot is clearly bad when it ends this far off the line, or flies this much shorter than a sound
 * strike at its club speed (practice): far more than the flight model's own error. */
#define BAD_SIDE_DEG 6
#define BAD_SHORT 0.15
/* What a player sees as a straight start, as no bend, as the middle of the face (practice). */
#define STRAIGHT_DEG 2
#define MIDDLE_MM 8
/* A region is told when it holds at least this share of the impacts, and so many of them. */
#define SHARE_TOLD 0.004
#define SHARE_TOLD_THOROUGH 0.002
#define IMPACTS_TOLD 3
/* The most common regions are told, no more than these. */
#define REGIONS_TOLD 10
#define REGIONS_TOLD_THOROUGH 30

static const char *const families[] = {"driver", "wood", "hybrid", "iron", "wedge"};
static const char *const a_family[] = {"a driver", "a wood", "a hybrid", "an iron", "a wedge"};
#define FAMILIES 5
#define SHOTS (FAMILIES * 3 * 3 * 3 * 2)

enum gap { GAP_FINDING, GAP_CAUSE, GAPS };

/* What is told of an impact. */
enum view { VIEW_ALL, VIEW_BALL, VIEW_EYES, VIEWS };
/* Standard error of a direction told by eye, as that of the words for it (practice). */
#define EYE_ERROR_DEG 2

/* A kind of shot: the parts in mixed radix make its index. */
struct shot {
  unsigned family, start, curve, strike, is_short;
};

struct tally {
  struct shot shot;
  enum view view;
  enum gap gap;
  size_t n;
  double oddness; /* of the impact kept: the least odd one */
  struct witness witness;
  size_t finding; /* believed in it, and read by no cause that is; NO_INDEX: none is */
};

struct tallies {
  struct checker *checker;
  struct sampler sampler;
  struct value *told; /* of the impact at hand, in one view */
  size_t n_told;
  struct tally of[VIEWS][GAPS][SHOTS];
};

/* ---- one impact ---- */

static unsigned third(double x, double reach) {
  return x < -reach ? 0 : x > reach ? 2 : 1;
}

static unsigned family_of(const struct model *model, size_t club) {
  for (unsigned i = 0; i < FAMILIES; i++)
    if (strcmp(model->clubs[club].family, families[i]) == 0) return i;
  return FAMILIES - 1;
}

static double square(double x) {
  return x * x;
}

/* How far from the middle of what is drawn, in standard deviations squared, roughly. */
static double oddness(const struct golf_impact *impact, double loft) {
  return square(impact->path / 4) + square((impact->face - impact->path / 2) / 3) +
         square((impact->delivered_loft - golf_expected_delivered_loft(loft)) / 3.5) +
         square((impact->attack - golf_expected_attack(loft)) / 2.5) + square(impact->strike / 10) +
         square(impact->strike_height / 6);
}

/* Flies it; false when the shot is sound, or not one the flight model knows. *bend: the angle from
 * the start line to where it lands. */
static bool is_bad(const struct sampler *sampler, struct shot *shot, double *bend) {
  const struct club *club = &sampler->model->clubs[sampler->club];
  const struct golf_launch *launch = &sampler->launch;
  const struct golf_shot flown = {launch->ball_speed, launch->launch, launch->start, launch->spin,
                                  launch->axis_tilt};
  struct golf_air air = golf_air_standard();
  struct golf_flight flight;
  struct golf_expected expected;
  if (golf_fly(GOLF_BLEND, &flown, &air, NULL, &flight) != NULL || !(flight.carry > 1))
    return false;
  if (golf_expect(sampler->impact.club_speed, club->loft, club->head_mass, &expected) != NULL)
    return false;
  golf_expect_carry(&expected);
  double side = atan2(flight.side, flight.carry) * (180 / 3.14159265358979323846);
  bool is_short = flight.carry < (1 - BAD_SHORT) * expected.carry;
  *bend = side - launch->start;
  *shot =
      (struct shot){family_of(sampler->model, sampler->club), third(launch->start, STRAIGHT_DEG),
                    third(*bend, STRAIGHT_DEG), third(sampler->impact.strike, MIDDLE_MM), is_short};
  return is_short || fabs(side) > BAD_SIDE_DEG;
}

/* The surest believed finding that says something is wrong, or NO_INDEX. */
static size_t surest_finding(const struct run *run) {
  const struct model *model = run->network->model;
  size_t surest = NO_INDEX;
  for (size_t i = 0; i < model->first_cause; i++) {
    if (model->claims[i].good || !(run->certainty[i] > BELIEF_THRESHOLD)) continue;
    if (surest == NO_INDEX || run->certainty[i] > run->certainty[surest]) surest = i;
  }
  return surest;
}

static bool some_cause(const struct run *run) {
  return run->n_causes > 0 && run->causes[0].certainty > BELIEF_THRESHOLD;
}

/* ---- many ---- */

static size_t shot_index(struct shot shot) {
  return (((shot.family * 3 + shot.start) * 3 + shot.curve) * 3 + shot.strike) * 2 + shot.is_short;
}

static bool is_named(const struct model *model, size_t evidence, const char *const *names,
                     size_t n) {
  for (size_t i = 0; i < n; i++)
    if (strcmp(model->evidence[evidence].name, names[i]) == 0) return true;
  return false;
}

/* The impact's readings, less what the kit does not tell. */
static void tell_readings(struct tallies *tallies, enum view view) {
  static const char *const of_club[] = {"path",           "face",   "attack",       "club_speed",
                                        "delivered_loft", "strike", "strike_height"};
  static const char *const of_eyes[] = {"club", "strike"};
  const struct sampler *sampler = &tallies->sampler;
  tallies->n_told = 0;
  for (size_t i = 0; i < sampler->n; i++) {
    size_t evidence = sampler->values[i].evidence;
    bool left_out = (view == VIEW_BALL && is_named(sampler->model, evidence, of_club,
                                                   sizeof of_club / sizeof of_club[0])) ||
                    (view == VIEW_EYES && !is_named(sampler->model, evidence, of_eyes,
                                                    sizeof of_eyes / sizeof of_eyes[0]));
    if (!left_out) tallies->told[tallies->n_told++] = sampler->values[i];
  }
}

/* A direction in whole degrees, as somebody says it who saw the ball. */
static void tell_direction(struct tallies *tallies, const char *name, double degrees) {
  size_t index = model_find_evidence(tallies->checker->model, name);
  const struct evidence *evidence =
      index == NO_INDEX ? NULL : &tallies->checker->model->evidence[index];
  if (!evidence || evidence->kind != EVIDENCE_NUMBER ||
      evidence->unit != golf_unit_at(GOLF_UNIT_DEG))
    return;
  tallies->told[tallies->n_told++] =
      (struct value){.evidence = index,
                     .number = fmax(evidence->low, fmin(evidence->high, round(degrees) + 0.0)),
                     .error = EYE_ERROR_DEG,
                     .choice = NO_INDEX,
                     .sure = 1};
}

/* "shorter than usual", which a player knows. */
static void tell_short(struct tallies *tallies) {
  const struct model *model = tallies->checker->model;
  size_t index = model_find_evidence(model, "distance");
  if (index == NO_INDEX) return;
  for (size_t i = 0; i < model->evidence[index].n_choices; i++)
    if (strcmp(model->evidence[index].choices[i].name, "shorter") == 0)
      tallies->told[tallies->n_told++] = (struct value){.evidence = index, .choice = i, .sure = 1};
}

static void tell_by_eye(struct tallies *tallies, const struct shot *shot, double bend) {
  tell_direction(tallies, "start", tallies->sampler.launch.start);
  tell_direction(tallies, "curve", bend);
  if (shot->is_short) tell_short(tallies);
}

static struct witness copy_told(struct checker *checker, const struct tallies *tallies) {
  struct value *values = arena_new_array(checker->arena, struct value, tallies->n_told + 1);
  if (!values) return (struct witness){NULL, 0};
  memcpy(values, tallies->told, tallies->n_told * sizeof *values);
  return (struct witness){values, tallies->n_told};
}

static void count(struct tallies *tallies, enum view view, enum gap gap, struct shot shot,
                  size_t finding) {
  const struct sampler *sampler = &tallies->sampler;
  struct tally *tally = &tallies->of[view][gap][shot_index(shot)];
  double odd = oddness(&sampler->impact, sampler->model->clubs[sampler->club].loft);
  tally->shot = shot;
  tally->view = view;
  tally->gap = gap;
  if (tally->n++ > 0 && odd >= tally->oddness) return;
  tally->oddness = odd;
  tally->finding = finding;
  tally->witness = copy_told(tallies->checker, tallies);
}

/* A kit means something only where the knowledge has what it tells. */
static bool has_view(const struct model *model, enum view view) {
  static const char *const needed[][2] = {
      {"path", "face"}, {"start", "launch"}, {"start", "curve"}};
  return model_find_evidence(model, needed[view][0]) != NO_INDEX &&
         model_find_evidence(model, needed[view][1]) != NO_INDEX;
}

static void look_at_impact(struct tallies *tallies) {
  struct checker *checker = tallies->checker;
  struct shot shot;
  double bend;
  sampler_next(&tallies->sampler);
  if (!is_bad(&tallies->sampler, &shot, &bend)) return;
  for (enum view view = VIEW_ALL; view < VIEWS; view++) {
    if (!has_view(checker->model, view)) continue;
    tell_readings(tallies, view);
    if (view == VIEW_EYES) tell_by_eye(tallies, &shot, bend);
    if (!check_chain(checker, (struct witness){tallies->told, tallies->n_told})) return;
    size_t finding = surest_finding(checker->run);
    if (finding == NO_INDEX) count(tallies, view, GAP_FINDING, shot, finding);
    else if (!some_cause(checker->run)) count(tallies, view, GAP_CAUSE, shot, finding);
  }
}

/* ---- telling ---- */

static const char *shot_words(struct checker *checker, struct shot shot, enum view view) {
  static const char *const starts[] = {"starts left", "starts straight", "starts right"};
  static const char *const curves[] = {"bends left", "does not bend", "bends right"};
  static const char *const views[] = {"all numbers", "the ball's numbers alone",
                                      "what the eye sees alone"};
  static const char *const strikes[] = {"on the heel", "in the middle", "on the toe"};
  struct text words;
  text_init(&words, checker->arena);
  text_format(&words, "%s struck %s that %s and %s%s, told by %s", a_family[shot.family],
              strikes[shot.strike], starts[shot.start], curves[shot.curve],
              shot.is_short ? ", short for its club speed" : "", views[view]);
  const char *done = text_done(&words);
  return done ? done : "";
}

/* The finding nothing follows from; without one, the evidence that says what was swung. */
static struct span gap_place(const struct checker *checker, const struct tally *tally) {
  const struct model *model = checker->model;
  return tally->finding != NO_INDEX ? model->claims[tally->finding].at
                                    : model->evidence[model->club_evidence].at;
}

static void report_gap(struct checker *checker, const struct tally *tally, size_t rank, size_t of) {
  struct span at = gap_place(checker, tally);
  double share = (double)tally->n / (double)checker->n_impacts;
  struct text percent, place;
  text_init(&percent, checker->arena);
  text_fixed(&percent, 100 * share, 1);
  text_init(&place, checker->arena);
  text_format(&place, "%zu of %zu", rank, of);
  const char *words[] = {
      text_done(&place), text_done(&percent), shot_words(checker, tally->shot, tally->view),
      tally->finding == NO_INDEX ? "" : checker->model->claims[tally->finding].name, NULL};
  if (!words[0] || !words[1]) return;
  enum diag_code code = tally->gap == GAP_FINDING ? DIAG_GAP_FINDING : DIAG_GAP_CAUSE;
  struct check_finding *finding = check_add(checker, code, at, at, words);
  if (!finding) return;
  finding->share = share;
  finding->witness = tally->witness;
}

static int compare_tallies(const void *left, const void *right) {
  const struct tally *a = *(const struct tally *const *)left;
  const struct tally *b = *(const struct tally *const *)right;
  if (a->n != b->n) return a->n > b->n ? -1 : 1;
  size_t x = shot_index(a->shot), y = shot_index(b->shot);
  if (x != y) return x < y ? -1 : 1;
  return a->view != b->view ? (a->view < b->view ? -1 : 1) : (a->gap > b->gap) - (a->gap < b->gap);
}

static void report_gaps(struct tallies *tallies) {
  struct checker *checker = tallies->checker;
  const struct tally **told =
      arena_new_array(checker->arena, const struct tally *, VIEWS *GAPS *SHOTS);
  double share = checker->options.thorough ? SHARE_TOLD_THOROUGH : SHARE_TOLD;
  double least = fmax(IMPACTS_TOLD, share * (double)checker->n_impacts);
  size_t n = 0;
  if (!told) return;
  for (size_t i = 0; i < (size_t)VIEWS * GAPS * SHOTS; i++) {
    const struct tally *tally = &tallies->of[i / (GAPS * SHOTS)][i / SHOTS % GAPS][i % SHOTS];
    if ((double)tally->n >= least) told[n++] = tally;
  }
  qsort(told, n, sizeof *told, compare_tallies);
  size_t most = checker->options.thorough ? REGIONS_TOLD_THOROUGH : REGIONS_TOLD;
  for (size_t i = 0; i < n && i < most; i++) report_gap(checker, told[i], i + 1, n);
}

/* Gaps mean something only where the knowledge speaks of impacts at all. */
static bool speaks_of_impacts(const struct model *model) {
  static const char *const needed[] = {"path", "face", "club_speed", "ball_speed"};
  for (size_t i = 0; i < sizeof needed / sizeof needed[0]; i++)
    if (model_find_evidence(model, needed[i]) == NO_INDEX) return false;
  return model->club_evidence != NO_INDEX && model->n_clubs > 0;
}

void check_impacts(struct checker *checker) {
  struct tallies *tallies = arena_new_object(checker->arena, struct tallies);
  if (!tallies || !speaks_of_impacts(checker->model)) return;
  tallies->checker = checker;
  tallies->told = arena_new_array(checker->arena, struct value, checker->model->n_evidence + 4);
  if (!tallies->told ||
      !sampler_make(&tallies->sampler, checker->arena, checker->model, checker->options.seed))
    return;
  tallies->sampler.bare = true;
  checker->n_impacts = checker->options.samples;
  for (size_t i = 0; i < checker->n_impacts; i++) look_at_impact(tallies);
  report_gaps(tallies);
}
