/* The account as JSON: docs/schemas/flight.schema.json says what each member means. Base units,
 * signs of the player's own hand. What is not known is null, never left out. */
#include <math.h>

#include "render/flight_parts.h"
#include "render/wording.h"

static void add_pair(struct json *json, const char *key, double value, double error) {
  json_key_object(json, key);
  json_key_number(json, "value", value);
  json_key_number(json, "error", isnan(value) ? NAN : error);
  json_end(json);
}

static void add_outcome(struct json *json, const struct flight_account *of, const char *key,
                        enum golf_outcome outcome, bool sideways) {
  double value = of->outcomes.value[outcome];
  add_pair(json, key, sideways ? flight_hand(of, value) : value, of->outcomes.error[outcome]);
}

/* ---- what went in ---- */

static void add_facts(struct json *json, const struct flight_account *of) {
  json_key_list(json, "facts");
  for (int i = 0; i < GOLF_FACTS; i++) {
    enum golf_fact fact = (enum golf_fact)i;
    double value = of->facts.value[fact];
    bool sideways = fact == GOLF_FACT_FACE || fact == GOLF_FACT_PATH || fact == GOLF_FACT_START ||
                    fact == GOLF_FACT_AXIS_TILT || fact == GOLF_FACT_CROSS_WIND;
    if (isnan(value)) continue;
    json_object(json);
    json_key_string(json, "name", golf_fact_name(fact));
    json_key_number(json, "value", sideways ? flight_hand(of, value) : value);
    json_key_number(json, "error", golf_fact_error(&of->facts, fact));
    json_key_string(json, "from",
                    flight_is_usual(of, fact)        ? "usual"
                    : of->facts.follows >> fact & 1u ? "model"
                                                     : "readings");
    json_end(json);
  }
  json_end(json);
}

static void add_reading(struct json *json, const struct flight_account *of, const char *name) {
  const struct run *run = of->run;
  size_t evidence = model_find_evidence(run->network->model, name);
  if (evidence == NO_INDEX || run->readings[evidence].state == READING_UNKNOWN) return;
  const struct evidence *about = &run->network->model->evidence[evidence];
  double number = run->readings[evidence].number;
  json_object(json);
  json_key_string(json, "name", about->name);
  json_key_number(json, "value", about->mirrored ? flight_hand(of, number) : number);
  json_key_number(json, "error", run->readings[evidence].error);
  json_key_string(json, "unit", about->unit->name);
  json_key_string(json, "state",
                  run->readings[evidence].state == READING_GIVEN ? "given" : "derived");
  json_end(json);
}

static void add_geometry(struct json *json, const struct flight_account *of) {
  static const char *const names[] = {"face",       "path",          "face_to_path",
                                      "attack",     "incidence",     "delivered_loft",
                                      "plane_tilt", "arc_direction", "low_point"};
  json_key_list(json, "geometry");
  for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) add_reading(json, of, names[i]);
  json_end(json);
}

static void add_conditions(struct json *json, const struct flight_account *of) {
  json_key_object(json, "conditions");
  json_key_string(json, "model", golf_model_name(of->model));
  json_key_number(json, "temperature", of->temperature);
  json_key_number(json, "altitude", of->altitude);
  json_key_number(json, "tail_wind", of->facts.value[GOLF_FACT_TAIL_WIND]);
  json_key_number(json, "cross_wind", flight_hand(of, of->facts.value[GOLF_FACT_CROSS_WIND]));
  json_end(json);
}

/* ---- what came out ---- */

static void add_flight(struct json *json, const struct flight_account *of) {
  size_t n;
  const struct flight_figure *figures = flight_figures(&n);
  json_key(json, "flight");
  if (of->path.count == 0) {
    json_null(json);
    return;
  }
  json_object(json);
  for (size_t i = 0; i < n; i++)
    add_outcome(json, of, figures[i].name, figures[i].outcome, figures[i].sideways);
  json_end(json);
}

static void add_expected(struct json *json, const struct flight_account *of) {
  json_key_object(json, "expected");
  add_outcome(json, of, "ball_speed", GOLF_OUTCOME_EXPECTED_BALL_SPEED, false);
  add_outcome(json, of, "carry", GOLF_OUTCOME_EXPECTED_CARRY, false);
  add_outcome(json, of, "ball_speed_short", GOLF_OUTCOME_BALL_SPEED_SHORT, false);
  add_outcome(json, of, "carry_short", GOLF_OUTCOME_CARRY_SHORT, false);
  json_end(json);
}

static void add_change(struct json *json, const struct flight_account *of, const char *key,
                       enum golf_outcome first) {
  json_key_object(json, key);
  add_outcome(json, of, "ball_speed_gained", first, false);
  add_outcome(json, of, "carry_gained", (enum golf_outcome)(first + 1), false);
  add_outcome(json, of, "side", (enum golf_outcome)(first + 2), true);
  json_end(json);
}

static void add_ranges(struct json *json, const struct flight_account *of) {
  json_key_list(json, "ranges");
  for (int i = 0; of->has_ranges && i < GOLF_GUESSES; i++) {
    const struct golf_estimate *range = &of->ranges.of[i];
    bool turned = of->run->hand == HAND_LEFT &&
                  (i == GOLF_GUESS_FACE || i == GOLF_GUESS_PATH || i == GOLF_GUESS_FACE_TO_PATH);
    json_object(json);
    json_key_string(json, "name", golf_guess_name((enum golf_guess)i));
    json_key_number(json, "value", turned ? flight_hand(of, range->mean) : range->mean);
    json_key_number(json, "error", range->sd);
    json_key_number(json, "low", turned ? flight_hand(of, range->high) : range->low);
    json_key_number(json, "high", turned ? flight_hand(of, range->low) : range->high);
    json_key_bool(json, "open", range->open);
    json_end(json);
  }
  json_end(json);
}

static void add_doubts(struct json *json, const struct flight_account *of) {
  json_key_list(json, "contradictions");
  for (size_t i = 0; i < of->run->n_contradictions; i++)
    json_string(json, of->run->contradictions[i].told);
  json_end(json);
}

static void add_missed(struct json *json, const struct flight_account *of) {
  json_key(json, "missed");
  if (!of->missed) {
    json_null(json);
    return;
  }
  json_object(json);
  json_key_string(json, "name", of->missed->name);
  json_key_string(json, "unit", of->missed->unit);
  json_key_number(json, "low", of->missed->low);
  json_key_number(json, "high", of->missed->high);
  json_end(json);
}

void flight_json(struct json *json, const struct flight_account *account) {
  json_object(json);
  json_key_string(json, "hand", account->run->hand == HAND_LEFT ? "left" : "right");
  json_key_count(json, "shots", account->run->shots);
  add_conditions(json, account);
  add_facts(json, account);
  add_geometry(json, account);
  add_doubts(json, account);
  add_expected(json, account);
  add_flight(json, account);
  add_missed(json, account);
  json_key_object(json, "what_if");
  add_change(json, account, "face_to_path_zero", GOLF_OUTCOME_SQUARE_BALL_SPEED);
  add_change(json, account, "centred_strike", GOLF_OUTCOME_CENTRED_BALL_SPEED);
  json_end(json);
  add_ranges(json, account);
  json_end(json);
}
