/* Flights as plain structs and as pages, turned to the player's hand. */
#include <math.h>
#include <string.h>

#include "api/flight_account.h"
#include "golf/range.h"
#include "golf/residuals.h"

/* ---- as plain structs ---- */

static struct wm_figure figure(const struct flight_account *account, enum golf_outcome outcome,
                               bool sideways) {
  double value = account->outcomes.value[outcome];
  if (sideways && account->run->hand == HAND_LEFT && value != 0) value = -value;
  return (struct wm_figure){value, isnan(value) ? NAN : account->outcomes.error[outcome]};
}

static struct wm_change change(const struct flight_account *account, enum golf_outcome first) {
  return (struct wm_change){.ball_speed = figure(account, first, false),
                            .carry = figure(account, (enum golf_outcome)(first + 1), false),
                            .side = figure(account, (enum golf_outcome)(first + 2), true)};
}

static void fill_flight(const struct flight_account *of, struct wm_flight *out) {
  out->carry = figure(of, GOLF_OUTCOME_CARRY, false);
  out->side = figure(of, GOLF_OUTCOME_SIDE, true);
  out->curve = figure(of, GOLF_OUTCOME_CURVE, true);
  out->curve_angle = figure(of, GOLF_OUTCOME_CURVE_ANGLE, true);
  out->apex = figure(of, GOLF_OUTCOME_APEX, false);
  out->landing_angle = figure(of, GOLF_OUTCOME_LANDING_ANGLE, false);
  out->time = figure(of, GOLF_OUTCOME_TIME, false);
  out->landing_speed = figure(of, GOLF_OUTCOME_LANDING_SPEED, false);
  out->landing_spin = figure(of, GOLF_OUTCOME_LANDING_SPIN, false);
  out->expected_ball_speed = figure(of, GOLF_OUTCOME_EXPECTED_BALL_SPEED, false);
  out->expected_carry = figure(of, GOLF_OUTCOME_EXPECTED_CARRY, false);
  out->ball_speed_short = figure(of, GOLF_OUTCOME_BALL_SPEED_SHORT, false);
  out->carry_short = figure(of, GOLF_OUTCOME_CARRY_SHORT, false);
  out->face_to_path_zero = change(of, GOLF_OUTCOME_SQUARE_BALL_SPEED);
  out->centred_strike = change(of, GOLF_OUTCOME_CENTRED_BALL_SPEED);
  out->usual = of->facts.usual != 0;
}

static void fill_range(const struct flight_account *of, enum golf_guess guess, bool sideways,
                       struct wm_impact_range *out) {
  const struct golf_estimate *range = &of->ranges.of[guess];
  bool turned = sideways && of->run->hand == HAND_LEFT;
  *out = (struct wm_impact_range){.name = golf_guess_name(guess),
                                  .value = turned && range->mean != 0 ? -range->mean : range->mean,
                                  .error = range->sd,
                                  .low = turned ? -range->high : range->low,
                                  .high = turned ? -range->low : range->high,
                                  .open = range->open};
}

static void fill_impact(const struct flight_account *of, struct wm_flight *out) {
  out->n_ranges = of->has_ranges ? GOLF_GUESSES : 0;
  for (size_t i = 0; i < out->n_ranges; i++)
    fill_range(of, (enum golf_guess)i,
               i == GOLF_GUESS_FACE || i == GOLF_GUESS_PATH || i == GOLF_GUESS_FACE_TO_PATH,
               &out->ranges[i]);
}

static bool fill_points(wm_case *player, const struct flight_account *of, struct wm_flight *out) {
  struct wm_flight_point *points =
      arena_new_array(player->answers, struct wm_flight_point, of->path.count + 1);
  if (!points) return false;
  for (size_t i = 0; i < of->path.count; i++) {
    const struct golf_point *point = &of->path.points[i];
    double side = of->run->hand == HAND_LEFT && point->y != 0 ? -point->y : point->y;
    if (!golf_facts_sideways(&of->facts)) side = NAN;
    points[i] = (struct wm_flight_point){point->time, point->x, side, point->z, point->speed};
  }
  out->path = points;
  out->n_path = of->path.count;
  return true;
}

enum wm_status wm_case_flight(wm_case *player, const struct wm_conditions *conditions,
                              struct wm_flight *flight) {
  struct flight_account account;
  struct wm_conditions usual = wm_conditions_usual();
  if (!player || !flight || !player->run->judged) return WM_USAGE;
  if (!conditions) conditions = &usual;
  if (!flight_conditions_plausible(conditions)) return WM_USAGE;
  if (!flight_account_fill(player, conditions, player->answers, &account)) return WM_INTERNAL;
  *flight = (struct wm_flight){.n_path = 0};
  fill_flight(&account, flight);
  fill_impact(&account, flight);
  return fill_points(player, &account, flight) ? WM_OK : WM_INTERNAL;
}

/* ---- as pages ---- */

static void write_page(struct text *out, const struct flight_account *account,
                       enum wm_flight_view view, enum wm_format format, uint64_t digest) {
  struct json json;
  switch (view) {
  case WM_FLIGHT_PATH: flight_csv(out, account); return;
  case WM_FLIGHT_PLOT: flight_plot(out, account); return;
  case WM_FLIGHT_SVG: flight_svg(out, account); return;
  case WM_FLIGHT_FIGURES: break;
  }
  if (format != WM_JSON) {
    flight_text(out, account, format == WM_EMPHASIS);
    return;
  }
  json_start(&json, out, true);
  json_head(&json, "whymiss-flight", digest);
  flight_json(&json, account);
}

static void report_no_flight(struct diags *diags, const struct flight_account *account) {
  const struct golf_range *missed = account->missed;
  char low[NUMBER_ROOM], high[NUMBER_ROOM];
  struct text why;
  text_init(&why, diags->arena);
  if (missed) {
    number_print(low, missed->low);
    number_print(high, missed->high);
    text_format(&why, "they make %s, which is outside its plausible range, %s to %s %s",
                missed->name, low, high, missed->unit);
  } else text_add(&why, "give ball_speed, or club_speed; and the club, or launch and backspin");
  const char *words = text_done(&why);
  DIAG(diags, NO_FLIGHT, (struct span){0}, words ? words : "");
}

enum wm_status wm_case_write_flight(wm_case *player, const struct wm_conditions *conditions,
                                    enum wm_flight_view view, enum wm_format format, wm_write write,
                                    void *context, wm_diags *diags) {
  struct report report;
  struct flight_account account;
  struct wm_conditions usual = wm_conditions_usual();
  struct text out;
  if (!player || !write || !player->run->judged) return WM_USAGE;
  if (!conditions) conditions = &usual;
  if (!flight_conditions_plausible(conditions)) return WM_USAGE;
  if (!report_open(&report, diags, case_allocator(player))) return WM_INTERNAL;
  struct arena *arena = arena_new(case_allocator(player));
  enum wm_status status = WM_OK;
  if (!arena || !flight_account_fill(player, conditions, arena, &account)) status = WM_INTERNAL;
  else if (view != WM_FLIGHT_FIGURES && account.path.count == 0)
    report_no_flight(&report.list, &account);
  else {
    text_init(&out, arena);
    write_page(&out, &account, view, format, player->kb->network->digest);
    status = arena_failed(arena) ? WM_INTERNAL : text_send(&out, write, context);
  }
  arena_free(arena);
  return report_close(&report, status, WM_INPUT_FAULTY);
}

/* ---- residuals ---- */

bool wm_residual(size_t i, const char *model, struct wm_residual *out) {
  size_t n;
  const struct golf_residual_row *rows = golf_residual_rows(&n);
  int found = model ? golf_model_find(model, strlen(model)) : -1;
  if (i >= n || found < 0 || !out) return false;
  struct golf_residual residual = golf_residual_of(&rows[i], (enum golf_model)found);
  *out = (struct wm_residual){.what = rows[i].what,
                              .unit = rows[i].unit,
                              .source = rows[i].source,
                              .status = rows[i].status,
                              .value = rows[i].value,
                              .low = rows[i].low,
                              .high = rows[i].high,
                              .measured = residual.measured,
                              .residual = residual.residual,
                              .meets = residual.meets != 0,
                              .concerns = residual.concerns != 0};
  return true;
}

enum wm_status wm_residuals_write(enum wm_format format, wm_write write, void *context) {
  struct json json;
  struct text out;
  if (!write) return WM_USAGE;
  struct arena *arena = arena_new(NULL);
  if (!arena) return WM_INTERNAL;
  text_init(&out, arena);
  if (format == WM_JSON) {
    json_start(&json, &out, true);
    flight_residuals_json(&json);
  } else flight_residuals_text(&out);
  enum wm_status status = arena_failed(arena) ? WM_INTERNAL : text_send(&out, write, context);
  arena_free(arena);
  return status;
}
