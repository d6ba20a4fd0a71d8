/* Readings carried over to golf/: the facts of a shot with the covariance that shared readings
 * cause, the wind, and what was seen of the flight alone. All in the right-handed frame. */
#include "api/flight_account.h"

#include <math.h>
#include <string.h>

#include "golf/expect.h"

/* ---- facts from readings ---- */

static const struct golf_unit *unit_of(enum golf_fact fact) {
  switch (fact) {
  case GOLF_FACT_CLUB_SPEED:
  case GOLF_FACT_BALL_SPEED:
  case GOLF_FACT_TAIL_WIND:
  case GOLF_FACT_CROSS_WIND: return golf_unit_at(GOLF_UNIT_MPS);
  case GOLF_FACT_HEAD_MASS: return golf_unit_at(GOLF_UNIT_G);
  case GOLF_FACT_STRIKE:
  case GOLF_FACT_STRIKE_HEIGHT: return golf_unit_at(GOLF_UNIT_MM);
  case GOLF_FACT_BACKSPIN: return golf_unit_at(GOLF_UNIT_RPM);
  default: return golf_unit_at(GOLF_UNIT_DEG);
  }
}

/* The known number of that name, or NULL; *scale turns its unit into the other. */
static const struct reading *known_number(const struct run *run, const char *name,
                                          const struct golf_unit *unit, double *scale) {
  const struct model *model = run->network->model;
  size_t evidence = model_find_evidence(model, name);
  if (evidence == NO_INDEX || model->evidence[evidence].kind != EVIDENCE_NUMBER ||
      run->readings[evidence].state == READING_UNKNOWN ||
      !golf_unit_convertible(model->evidence[evidence].unit, unit))
    return NULL;
  *scale = golf_unit_convert_error(1, model->evidence[evidence].unit, unit);
  return &run->readings[evidence];
}

static double shared_variance(const struct run *run, const struct reading *a,
                              const struct reading *b) {
  double sum = 0;
  if (!a->gradient || !b->gradient) return 0;
  for (size_t k = 0; k < run->n_roots; k++)
    sum += a->gradient[k] * b->gradient[k] * run->root_errors[k] * run->root_errors[k];
  return sum;
}

static void fill_facts(const struct run *run, struct golf_facts *facts) {
  const struct reading *readings[GOLF_FACTS];
  double scale[GOLF_FACTS];
  *facts = golf_facts_none();
  for (int i = 0; i < GOLF_FACTS; i++) {
    enum golf_fact fact = (enum golf_fact)i;
    bool wind = fact == GOLF_FACT_TAIL_WIND || fact == GOLF_FACT_CROSS_WIND;
    readings[i] = wind ? NULL : known_number(run, golf_fact_name(fact), unit_of(fact), &scale[i]);
    if (readings[i]) facts->value[i] = readings[i]->number * scale[i];
  }
  for (int i = 0; i < GOLF_FACTS; i++)
    for (int k = 0; k < GOLF_FACTS; k++)
      if (readings[i] && readings[k])
        facts->covariance[i * GOLF_FACTS + k] =
            shared_variance(run, readings[i], readings[k]) * scale[i] * scale[k];
}

/* ---- wind ---- */

/* The word of a known choice, in the right-handed frame; "" when not known. */
static const char *known_word(const struct run *run, const char *name) {
  const struct model *model = run->network->model;
  size_t evidence = model_find_evidence(model, name);
  if (evidence == NO_INDEX || model->evidence[evidence].kind != EVIDENCE_CHOICE ||
      run->readings[evidence].state == READING_UNKNOWN)
    return "";
  return model->evidence[evidence].choices[run->readings[evidence].choice].name;
}

static void fill_evident_wind(const struct run *run, struct golf_facts *facts) {
  static const struct {
    const char *word;
    enum golf_fact fact;
    double sign;
  } winds[] = {{"head", GOLF_FACT_TAIL_WIND, -1},
               {"tail", GOLF_FACT_TAIL_WIND, 1},
               {"from_left", GOLF_FACT_CROSS_WIND, 1},
               {"from_right", GOLF_FACT_CROSS_WIND, -1}};
  double scale;
  const struct reading *speed =
      known_number(run, "wind_speed", golf_unit_at(GOLF_UNIT_MPS), &scale);
  for (size_t i = 0; speed && i < sizeof winds / sizeof winds[0]; i++)
    if (strcmp(known_word(run, "wind"), winds[i].word) == 0)
      golf_facts_set(facts, winds[i].fact, winds[i].sign * speed->number * scale,
                     speed->error * scale);
}

static void fill_wind(const struct run *run, const struct wm_conditions *conditions,
                      struct golf_facts *facts) {
  if (isnan(conditions->tail_wind) || isnan(conditions->cross_wind)) {
    fill_evident_wind(run, facts);
    return;
  }
  double turn = run->hand == HAND_LEFT && conditions->cross_wind != 0 ? -1 : 1;
  golf_facts_set(facts, GOLF_FACT_TAIL_WIND, conditions->tail_wind, 0);
  golf_facts_set(facts, GOLF_FACT_CROSS_WIND, turn * conditions->cross_wind, 0);
}

/* ---- the flight alone ---- */

static bool is_given(const struct run *run, const char *name) {
  size_t evidence = model_find_evidence(run->network->model, name);
  return evidence != NO_INDEX && run->is_given[evidence];
}

static void see(const struct run *run, const char *name, const struct golf_unit *unit,
                double *value, double *error) {
  double scale;
  const struct reading *reading =
      is_given(run, name) ? known_number(run, name, unit, &scale) : NULL;
  *value = reading ? reading->number * scale : NAN;
  *error = reading ? reading->error * scale : 0;
}

/* The word for how high the ball flew, as a launch beside the club's usual. */
static void see_height(const struct run *run, double club_loft, struct golf_seen *seen) {
  const char *word = known_word(run, "height");
  const struct golf_flight_word *worth =
      golf_flight_word_find("height", strcmp(word, "normal") == 0 ? "usual" : word);
  if (!worth || !isnan(seen->launch)) return;
  seen->launch = golf_expected_launch(club_loft) + worth->value;
  seen->launch_error = worth->error;
}

/* Face and path come from the flight alone when neither club nor a device told anything nearer. */
static bool fill_ranges(struct flight_account *account) {
  static const char *const nearer[] = {"face", "path", "face_to_path", "axis_tilt"};
  const struct run *run = account->run;
  const struct golf_unit *deg = golf_unit_at(GOLF_UNIT_DEG);
  struct golf_seen seen = {.club_loft = account->facts.value[GOLF_FACT_CLUB_LOFT]};
  for (size_t i = 0; i < sizeof nearer / sizeof nearer[0]; i++)
    if (is_given(run, nearer[i])) return false;
  if (isnan(seen.club_loft) || (!is_given(run, "start") && !is_given(run, "curve"))) return false;
  see(run, "start", deg, &seen.start, &seen.start_error);
  see(run, "curve", deg, &seen.curve, &seen.curve_error);
  see(run, "launch", deg, &seen.launch, &seen.launch_error);
  see(run, "carry", golf_unit_at(GOLF_UNIT_M), &seen.carry, &seen.carry_error);
  see(run, "club_speed", golf_unit_at(GOLF_UNIT_MPS), &seen.club_speed, &seen.club_speed_error);
  see_height(run, seen.club_loft, &seen);
  return golf_invert(&seen, &account->ranges) == NULL;
}

/* ---- the account ---- */

static bool fill_path(struct flight_account *account, struct arena *arena,
                      const struct golf_air *air) {
  struct golf_flight flight;
  struct golf_air there = *air;
  struct golf_shot shot = golf_facts_shot(&account->facts);
  account->path.points = arena_new_array(arena, struct golf_point, FLIGHT_POINTS_MAX);
  if (!account->path.points) return false;
  account->path.capacity = FLIGHT_POINTS_MAX;
  account->path.interval = FLIGHT_INTERVAL;
  there.tail_wind = account->facts.value[GOLF_FACT_TAIL_WIND];
  there.cross_wind = account->facts.value[GOLF_FACT_CROSS_WIND];
  if (isnan(account->outcomes.value[GOLF_OUTCOME_CARRY]) ||
      golf_fly(account->model, &shot, &there, &account->path, &flight))
    account->path.count = 0;
  return true;
}

bool flight_account_fill(wm_case *player, const struct wm_conditions *conditions,
                         struct arena *arena, struct flight_account *account) {
  int model = golf_model_find(conditions->model, strlen(conditions->model));
  struct golf_air air = golf_air_at(conditions->altitude, conditions->temperature);
  *account = (struct flight_account){.run = player->run,
                                     .model = model < 0 ? GOLF_BLEND : (enum golf_model)model,
                                     .temperature = air.temperature,
                                     .altitude = conditions->altitude};
  fill_facts(player->run, &account->facts);
  fill_wind(player->run, conditions, &account->facts);
  golf_facts_complete(&account->facts);
  account->missed = golf_implied(&account->facts, account->model, &air, &account->outcomes);
  account->has_ranges = fill_ranges(account);
  return fill_path(account, arena, &air);
}
