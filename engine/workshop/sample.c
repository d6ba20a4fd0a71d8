#include "workshop/sample.h"

#include <math.h>
#include <string.h>

#include "golf/expect.h"
#include "golf/range.h"
#include "workshop/check_random.h"

/* What is seen or told besides the impact: each with this probability. */
#define SEEN_BESIDES 0.06
/* Draws of an impact before a club is given up whose figures no impact fits. */
#define TRIES_MAX 64

/* ---- regions ---- */

size_t region_index(struct region region) {
  return 9 * region.path + 3 * region.face + region.strike;
}

struct region region_at(size_t index) {
  return (struct region){(unsigned)(index / 9), (unsigned)(index / 3 % 3), (unsigned)(index % 3)};
}

const char *region_path_words(struct region region) {
  static const char *const words[] = {"path left", "path straight", "path right"};
  return words[region.path];
}

const char *region_face_words(struct region region) {
  static const char *const words[] = {"face closed to it", "face square to it", "face open to it"};
  return words[region.face];
}

const char *region_strike_words(struct region region) {
  static const char *const words[] = {"struck on the heel", "struck in the middle",
                                      "struck on the toe"};
  return words[region.strike];
}

static unsigned third(double x, double reach) {
  return x < -reach ? 0 : x > reach ? 2 : 1;
}

/* ---- the impact ---- */

enum kit { KIT_ALL, KIT_BALL, KIT_CLUB, KIT_EYES, KITS };

/* Everything true of one impact that there may be an evidence for; the unit is golf/'s. */
enum quantity_kind { OF_CLUB = 1, OF_BALL = 2, OF_STRIKE = 4 };
struct truth {
  const char *evidence;
  enum quantity_kind kind;
  enum golf_unit_index unit;
  double value;
};

static double usual_loft(const struct model *model, size_t club) {
  return model->n_clubs > 0 ? model->clubs[club].loft : 33;
}

/* Spreads from shot to shot and player to player (practice). */
static struct golf_impact draw_impact(uint64_t *state, double loft, double head_mass) {
  double path = random_normal(state, -1, 4);
  double speed = golf_expected_club_speed(loft) * random_normal(state, 1, 0.12);
  return (struct golf_impact){
      .club_speed = speed,
      .path = path,
      .face = random_normal(state, 0.5 * path, 3),
      .delivered_loft = fmax(1, random_normal(state, golf_expected_delivered_loft(loft), 3.5)),
      .attack = random_normal(state, golf_expected_attack(loft), 2.5),
      .head_mass = head_mass,
      .strike = random_normal(state, 0, 10),
      .strike_height = random_normal(state, 0, 6),
  };
}

static size_t list_truths(const struct golf_impact *impact, const struct golf_launch *launch,
                          struct truth *out) {
  const struct truth truths[] = {
      {"club_speed", OF_CLUB, GOLF_UNIT_MPS, impact->club_speed},
      {"path", OF_CLUB, GOLF_UNIT_DEG, impact->path},
      {"face", OF_CLUB, GOLF_UNIT_DEG, impact->face},
      {"attack", OF_CLUB, GOLF_UNIT_DEG, impact->attack},
      {"delivered_loft", OF_CLUB, GOLF_UNIT_DEG, impact->delivered_loft},
      {"strike", OF_STRIKE, GOLF_UNIT_MM, impact->strike},
      {"strike_height", OF_STRIKE, GOLF_UNIT_MM, impact->strike_height},
      {"ball_speed", OF_BALL, GOLF_UNIT_MPS, launch->ball_speed},
      {"launch", OF_BALL, GOLF_UNIT_DEG, launch->launch},
      {"start", OF_BALL, GOLF_UNIT_DEG, launch->start},
      {"backspin", OF_BALL, GOLF_UNIT_RPM, launch->backspin},
      {"axis_tilt", OF_BALL, GOLF_UNIT_DEG, launch->axis_tilt},
  };
  memcpy(out, truths, sizeof truths);
  return sizeof truths / sizeof truths[0];
}
#define TRUTHS_MAX 16

/* ---- giving ---- */

static void add_value(struct sampler *sampler, struct value value) {
  if (sampler->given[value.evidence]) return;
  sampler->given[value.evidence] = true;
  value.shots = 1;
  sampler->values[sampler->n++] = value;
}

/* A reading: the truth and an error of it, rounded as the evidence is shown. */
static void give_number(struct sampler *sampler, size_t index, double truth) {
  const struct evidence *evidence = &sampler->model->evidence[index];
  double scale = pow(10, evidence->decimals);
  double number = random_normal(&sampler->state, truth, evidence->error);
  number = round(number * scale) / scale;
  if (!(number >= evidence->low && number <= evidence->high)) return;
  add_value(sampler, (struct value){.evidence = index,
                                    .number = number,
                                    .error = evidence->error,
                                    .choice = NO_INDEX,
                                    .sure = 1});
}

static void give_truth(struct sampler *sampler, const struct truth *truth) {
  size_t index = model_find_evidence(sampler->model, truth->evidence);
  if (index == NO_INDEX || sampler->model->evidence[index].kind != EVIDENCE_NUMBER) return;
  const struct golf_unit *unit = golf_unit_at(truth->unit);
  double value = golf_unit_convert(truth->value, unit, sampler->model->evidence[index].unit);
  if (isfinite(value)) give_number(sampler, index, value);
}

static unsigned kinds_of(enum kit kit) {
  static const unsigned kinds[] = {OF_CLUB | OF_BALL | OF_STRIKE, OF_BALL, OF_CLUB | OF_STRIKE,
                                   OF_STRIKE};
  return kinds[kit];
}

static void give_choice(struct sampler *sampler, size_t index, size_t choice) {
  add_value(sampler, (struct value){.evidence = index, .choice = choice, .sure = 1});
}

static size_t draw_below(struct sampler *sampler, size_t n) {
  return (size_t)(random_between(&sampler->state) * (double)n) % n;
}

/* Things seen or told: any word of a choice; a number around the middle of its range. */
static void give_besides(struct sampler *sampler) {
  const struct model *model = sampler->model;
  for (size_t i = 0; i < model->n_evidence; i++) {
    const struct evidence *evidence = &model->evidence[i];
    if (random_between(&sampler->state) >= SEEN_BESIDES || evidence->ask.n == 0) continue;
    bool choice = evidence->kind == EVIDENCE_CHOICE || evidence->kind == EVIDENCE_YES_NO;
    if (choice && evidence->n_choices > 0)
      give_choice(sampler, i, draw_below(sampler, evidence->n_choices));
    else if (evidence->kind == EVIDENCE_NUMBER && evidence->effort != EFFORT_MEASURE)
      give_number(sampler, i,
                  random_normal(&sampler->state, (evidence->low + evidence->high) / 2,
                                (evidence->high - evidence->low) / 10));
  }
}

static void sort_values(struct sampler *sampler) {
  for (size_t i = 1; i < sampler->n; i++) {
    struct value value = sampler->values[i];
    size_t at = i;
    for (; at > 0 && sampler->values[at - 1].evidence > value.evidence; at--)
      sampler->values[at] = sampler->values[at - 1];
    sampler->values[at] = value;
  }
}

/* ---- drawing ---- */

bool sampler_make(struct sampler *sampler, struct arena *arena, const struct model *model,
                  uint64_t seed) {
  *sampler = (struct sampler){.model = model, .state = seed};
  sampler->values = arena_new_array(arena, struct value, model->n_evidence + 1);
  sampler->given = arena_new_array(arena, bool, model->n_evidence + 1);
  return sampler->values && sampler->given;
}

bool sampler_is_fit(const struct sampler *sampler) {
  struct truth truths[TRUTHS_MAX];
  struct golf_impact impact = {0};
  struct golf_launch launch = {0};
  size_t n = list_truths(&impact, &launch, truths);
  for (size_t i = 0; i < n; i++)
    if (model_find_evidence(sampler->model, truths[i].evidence) != NO_INDEX) return true;
  return false;
}

static size_t draw_club(struct sampler *sampler) {
  const struct model *model = sampler->model;
  return model->n_clubs > 0 ? draw_below(sampler, model->n_clubs) : 0;
}

/* The club's name is known to whoever sees the shot; its index among the choices is the club's. */
static void give_club(struct sampler *sampler, size_t club) {
  const struct model *model = sampler->model;
  if (model->club_evidence != NO_INDEX && model->n_clubs > 0)
    give_choice(sampler, model->club_evidence, club);
}

void sampler_next(struct sampler *sampler) {
  struct truth truths[TRUTHS_MAX];
  struct golf_impact impact;
  struct golf_launch launch;
  size_t club = draw_club(sampler);
  double loft = usual_loft(sampler->model, club);
  double mass = sampler->model->n_clubs > 0 ? sampler->model->clubs[club].head_mass : 268;
  bool possible = false;
  for (int tries = 0; tries < TRIES_MAX && !possible; tries++) {
    impact = draw_impact(&sampler->state, loft, mass);
    possible = golf_launch(&impact, &launch) == NULL;
  }
  sampler->n = 0;
  memset(sampler->given, 0, sampler->model->n_evidence * sizeof *sampler->given);
  give_club(sampler, club);
  unsigned kinds = kinds_of(sampler->bare ? KIT_ALL : (enum kit)draw_below(sampler, KITS));
  size_t n = possible ? list_truths(&impact, &launch, truths) : 0;
  for (size_t i = 0; i < n; i++)
    if (truths[i].kind & kinds) give_truth(sampler, &truths[i]);
  if (!sampler->bare) give_besides(sampler);
  sort_values(sampler);
  sampler->region = (struct region){third(impact.path, 2), third(impact.face - impact.path, 1.5),
                                    third(impact.strike, 7)};
  sampler->impact = impact;
  sampler->launch = launch;
  sampler->club = club;
}
