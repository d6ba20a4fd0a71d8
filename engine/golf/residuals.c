/* One small function measures one row; the table says what was claimed. Distances are told in the
 * row's unit. */
#include "golf/residuals.h"

#include <math.h>

#include "golf/degrees.h"
#include "golf/launch.h"

static const double yard = 0.9144, mph = 0.44704;

static struct golf_flight fly_in(enum golf_model model, struct golf_shot shot,
                                 struct golf_air air) {
  struct golf_flight flight;
  golf_fly(model, &shot, &air, NULL, &flight);
  return flight;
}

static double carry_yards(enum golf_model model, struct golf_shot shot) {
  return fly_in(model, shot, golf_air_standard()).carry / yard;
}

static struct golf_shot report_drive(void) {
  return (struct golf_shot){167.7 * mph, 10.8, 0, 2599, 0};
}

struct golf_shot golf_residual_iron(int better) {
  if (better) return (struct golf_shot){94.5 * mph, 22, 0, 6500, 0};
  return (struct golf_shot){88 * mph, 22, 0, 7000, 0};
}

static double drag_at(enum golf_model model) {
  double drag, lift;
  golf_model_coefficients(model, 1.5e5, 0.1, &drag, &lift);
  return drag;
}
static double lift_at(enum golf_model model) {
  double drag, lift;
  golf_model_coefficients(model, 1.5e5, 0.1, &drag, &lift);
  return lift;
}
static double spin_time(enum golf_model model) {
  return golf_model_spin_time(model, 44.7);
}

static double extra_drag(enum golf_model model) {
  struct golf_shot shot = {71.5, 6, 0, 3000, 0};
  struct golf_air air = golf_air_standard();
  struct golf_flight plain, more;
  golf_fly_adjusted(model, &shot, &air, 0, 1e-6, NULL, &plain);
  golf_fly_adjusted(model, &shot, &air, 0.0025, 1e-6, NULL, &more);
  return more.carry - plain.carry;
}

static double drive(enum golf_model model) {
  return carry_yards(model, report_drive());
}
static double drive_spin(enum golf_model model) {
  struct golf_shot shot = report_drive();
  return fly_in(model, shot, golf_air_standard()).landing_spin / shot.spin;
}
static double distance_test_low(enum golf_model model) {
  return carry_yards(model, (struct golf_shot){176 * mph, 10, 0, 2520, 0});
}
static double distance_test_high(enum golf_model model) {
  return carry_yards(model, (struct golf_shot){183 * mph, 11, 0, 2220, 0});
}

/* What 5 m/s of head wind costs beyond what the same tail wind gives. */
static double wind_excess(enum golf_model model) {
  struct golf_air air = golf_air_standard();
  double still = carry_yards(model, report_drive());
  air.tail_wind = 5;
  double gain = fly_in(model, report_drive(), air).carry / yard - still;
  air.tail_wind = -5;
  double cost = still - fly_in(model, report_drive(), air).carry / yard;
  return cost - gain;
}

static double iron(enum golf_model model) {
  return carry_yards(model, golf_residual_iron(0));
}
static double iron_better(enum golf_model model) {
  return carry_yards(model, golf_residual_iron(1));
}
static double iron_gain(enum golf_model model) {
  return iron_better(model) - iron(model);
}
static double iron_over(enum golf_model model) {
  return 100 * (iron(model) / 111 - 1);
}

static double air_at(double altitude) {
  struct golf_air air = golf_air_at(altitude, NAN);
  return golf_air_density(air.temperature, air.pressure);
}
static double air_sea(enum golf_model model) {
  return (void)model, air_at(0);
}
static double air_mile(enum golf_model model) {
  return (void)model, air_at(1609);
}
static double ball_mass(enum golf_model model) {
  return (void)model, GOLF_BALL_MASS;
}
static double ball_size(enum golf_model model) {
  return (void)model, GOLF_BALL_DIAMETER;
}

#define OF(model) (1u << (model))
static const struct golf_residual_row rows[] = {
    {"ball mass", "g", NAN, -INFINITY, 45.93, "equipment-rules", "seen", 0, ball_mass},
    {"ball diameter", "mm", NAN, 42.67, INFINITY, "equipment-rules", "seen", 0, ball_size},
    {"air density at sea level, kg/m3", "none", 1.2250, 1.22495, 1.22505, "derived", "derived", 0,
     air_sea},
    {"air density at 1609 m, kg/m3", "none", 1.0466, 1.0461, 1.0471, "derived", "derived", 0,
     air_mile},
    {"C_D at Re 1.5e5, S 0.1 (1994)", "none", 0.306541, 0.30654, 0.30655, "smits-1994", "2nd",
     OF(GOLF_SMITS1994), drag_at},
    {"C_L at Re 1.5e5, S 0.1 (1994)", "none", 0.214976, 0.21497, 0.21498, "smits-1994", "2nd",
     OF(GOLF_SMITS1994), lift_at},
    {"C_D at Re 1.5e5, S 0.1 (2018)", "none", 0.179750, 0.17974, 0.17976, "lyu-2018", "2nd",
     OF(GOLF_LYU2018), drag_at},
    {"C_L at Re 1.5e5, S 0.1 (2018)", "none", 0.166500, 0.16649, 0.16651, "lyu-2018", "2nd",
     OF(GOLF_LYU2018), lift_at},
    {"spin time constant at 44.7 m/s (1994)", "s", 23.8, 23.7, 23.9, "nathan-2008", "2nd",
     OF(GOLF_SMITS1994), spin_time},
    {"spin time constant at 44.7 m/s, between the published", "s", NAN, 19.1, 23.8, "nathan-2008",
     "2nd", OF(GOLF_BLEND), spin_time},
    {"71.5 m/s, 6 deg, 3000 rpm: carry for C_D + 0.0025", "m", -2.3, -2.6, -2.0, "lyu-2018", "2nd",
     OF(GOLF_LYU2018), extra_drag},
    {"167.7 mph, 10.8 deg, 2599 rpm: carry, bounds", "yd", NAN, 250, 290.6, "distance-report-2015",
     "2nd", 0, drive},
    {"167.7 mph, 10.8 deg, 2599 rpm: carry, expected", "yd", NAN, 265, 280, "distance-report-2015",
     "2nd", 0, drive},
    {"share of spin left as a drive lands", "ratio", 0.75, 0.70, 0.82, "penner-2001", "2nd", 0,
     drive_spin},
    {"176 mph, 10 deg, 2520 rpm: carry", "yd", NAN, 0, 320, "distance-test", "2nd", 0,
     distance_test_low},
    {"183 mph, 11 deg, 2220 rpm: carry", "yd", NAN, 0, 320, "distance-test", "2nd", 0,
     distance_test_high},
    {"5 m/s head wind costs beyond the tail wind's gift", "yd", NAN, 0, INFINITY, "practice",
     "practice", 0, wind_excess},
    {"8 iron, 88 mph, 22 deg, somewhat spinny: carry", "yd", 111, 108, 114, "practice", "practice",
     0, iron},
    {"8 iron, 94.5 mph, 22 deg: carry", "yd", 125, 122, 128, "practice", "practice", 0,
     iron_better},
    {"8 iron, 88 to 94.5 mph: gain", "yd", 14, 11, 17, "practice", "practice", 0, iron_gain},
    {"1994's fit carries an iron too far, % over 111 yd", "%", 10, 5, 15, "practice", "practice",
     OF(GOLF_SMITS1994), iron_over},
    {"1994's fit carries a modern drive too short", "yd", NAN, 0, 265, "practice", "practice",
     OF(GOLF_SMITS1994), drive},
};
#undef OF

const struct golf_residual_row *golf_residual_rows(size_t *count) {
  *count = sizeof rows / sizeof rows[0];
  return rows;
}

struct golf_residual golf_residual_of(const struct golf_residual_row *row, enum golf_model model) {
  struct golf_residual r;
  r.measured = row->measure(model);
  r.meets = r.measured >= row->low && r.measured <= row->high;
  r.concerns = row->about == 0 || (row->about >> model & 1u);
  if (!isnan(row->value)) r.residual = r.measured - row->value;
  else if (r.meets) r.residual = 0;
  else r.residual = r.measured > row->high ? r.measured - row->high : r.measured - row->low;
  return r;
}
