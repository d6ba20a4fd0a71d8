/* Measures one derivation and one trajectory, the trajectory side by side with a straightforward
 * integrator: classical Runge-Kutta at a fixed step (10 ms is the usual choice; 80 ms is about the
 * longest that keeps 0.1 yd), the same model, a straight line through the ground. Accuracy of both
 * is measured against steps ten thousand times finer. Prints medians of 15 rounds. */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "golf/derive.h"
#include "golf/flight.h"
#include "golf/flight_model.h"
#include "golf/implied.h"
#include "golf/launch.h"

enum { ROUNDS = 15, SHOTS = 200, DERIVATIONS = 20000 };
static const double pi = 3.14159265358979323846;

static double now_us(void) {
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return (double)t.tv_sec * 1e6 + (double)t.tv_nsec / 1e3;
}

static double unit_random(uint64_t *seed) {
  *seed ^= *seed << 13;
  *seed ^= *seed >> 7;
  *seed ^= *seed << 17;
  return (double)(*seed >> 11) / 9007199254740992.0;
}

static int ascending(const void *a, const void *b) {
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static double median(double *x) {
  qsort(x, ROUNDS, sizeof *x, ascending);
  return x[ROUNDS / 2];
}

/* ---- the straightforward integrator ---- */
/* Standard air, worked out once. */
static const double density = 1.22501227, viscosity = 1.789380278e-5, r = GOLF_BALL_DIAMETER / 2000;

static void slope(const double *axis, const double *s, double *d) {
  double drag, lift;
  double speed = sqrt(s[3] * s[3] + s[4] * s[4] + s[5] * s[5]);
  golf_model_coefficients(GOLF_BLEND, density * speed * 2 * r / viscosity, r * s[6] / speed, &drag,
                          &lift);
  double k = density * pi * r * r * speed / (2 * GOLF_BALL_MASS / 1000);
  d[0] = s[3], d[1] = s[4], d[2] = s[5];
  d[3] = k * (lift * (axis[1] * s[5] - axis[2] * s[4]) - drag * s[3]);
  d[4] = k * (lift * (axis[2] * s[3] - axis[0] * s[5]) - drag * s[4]);
  d[5] = k * (lift * (axis[0] * s[4] - axis[1] * s[3]) - drag * s[5]) - 9.80665;
  d[6] = -golf_model_spin_rate(GOLF_BLEND, speed) * s[6];
}

static double fixed_step_carry(const struct golf_shot *shot, double h) {
  double l = shot->launch * pi / 180, a = shot->start * pi / 180;
  double up = sin(shot->axis_tilt * pi / 180) / cos(l), level = sqrt(1 - up * up);
  double axis[3] = {level * sin(a) - up * sin(l) * cos(a), -level * cos(a) - up * sin(l) * sin(a),
                    up * cos(l)};
  double s[7] = {0,
                 0,
                 0,
                 shot->ball_speed * cos(l) * cos(a),
                 shot->ball_speed * cos(l) * sin(a),
                 shot->ball_speed * sin(l),
                 shot->spin * pi / 30};
  double old[7], k[4][7], moved[7];
  const double reach[] = {0, 0.5, 0.5, 1};
  do {
    memcpy(old, s, sizeof s);
    for (int stage = 0; stage < 4; stage++) {
      for (int i = 0; i < 7; i++)
        moved[i] = old[i] + (stage ? h * reach[stage] * k[stage - 1][i] : 0);
      slope(axis, moved, k[stage]);
    }
    for (int i = 0; i < 7; i++)
      s[i] = old[i] + h / 6 * (k[0][i] + 2 * k[1][i] + 2 * k[2][i] + k[3][i]);
  } while (s[2] >= 0);
  double t = old[2] / (old[2] - s[2]);
  return hypot(old[0] + t * (s[0] - old[0]), old[1] + t * (s[1] - old[1]));
}

static double adaptive_carry(const struct golf_shot *shot, double tolerance) {
  struct golf_air air = golf_air_standard();
  struct golf_flight flight;
  if (tolerance > 0) golf_fly_adjusted(GOLF_BLEND, shot, &air, 0, tolerance, NULL, &flight);
  else golf_fly(GOLF_BLEND, shot, &air, NULL, &flight);
  return flight.carry;
}

/* ---- measuring ---- */
static void draw_shots(struct golf_shot *shots) {
  uint64_t seed = 88172645463325252u;
  for (int i = 0; i < SHOTS; i++)
    shots[i] = (struct golf_shot){25 + 55 * unit_random(&seed), 5 + 35 * unit_random(&seed),
                                  20 * unit_random(&seed) - 10, 1500 + 7000 * unit_random(&seed),
                                  40 * unit_random(&seed) - 20};
}

/* limit 0: none is set, the line is there to compare with. */
static void print_line(const char *name, double us, double limit, const char *remark) {
  char wanted[24] = "";
  if (limit > 0) snprintf(wanted, sizeof wanted, "limit %g", limit);
  printf("  %-42s %9.2f us  %-10s %s\n", name, us, wanted, remark);
}

static void bench_flight(const char *name, double (*carry)(const struct golf_shot *, double),
                         double setting, double limit, const struct golf_shot *shots,
                         const double *truth) {
  double rounds[ROUNDS], worst = 0;
  char remark[64];
  for (int round = 0; round < ROUNDS; round++) {
    double from = now_us();
    for (int i = 0; i < SHOTS; i++)
      worst = fmax(worst, fabs(carry(&shots[i], setting) - truth[i]) / 0.9144);
    rounds[round] = (now_us() - from) / SHOTS;
  }
  snprintf(remark, sizeof remark, "carry true to %.5f yd", worst);
  print_line(name, median(rounds), limit, remark);
}

static void bench_derivation(void) {
  double in[GOLF_INPUTS] = {36, 2, -4, 28, -4, 268, 9, 4, 58, 1.5, 37}, out[GOLF_OUTPUTS],
         rounds[ROUNDS], sum = 0;
  char remark[64];
  for (int round = 0; round < ROUNDS; round++) {
    double from = now_us();
    for (int i = 0; i < DERIVATIONS; i++) {
      in[GOLF_IN_FACE] = 2 + 1e-4 * i;
      golf_derive(in, out);
      for (int k = 0; k < GOLF_OUTPUTS; k++) sum += out[k];
    }
    rounds[round] = (now_us() - from) / DERIVATIONS;
  }
  /* The sum keeps the work from being thrown away. */
  snprintf(remark, sizeof remark, "%d figures%s", GOLF_OUTPUTS, isnan(sum) ? " (not numbers)" : "");
  print_line("one derivation, no trajectory", median(rounds), 1, remark);
}

/* All that `whymiss flight` works out for one shot: figures, what-ifs and their errors. */
static void bench_implied(void) {
  double rounds[ROUNDS], sum = 0;
  struct golf_air air = golf_air_standard();
  for (int round = 0; round < ROUNDS; round++) {
    struct golf_facts facts = golf_facts_none();
    struct golf_outcomes outcomes;
    golf_facts_set(&facts, GOLF_FACT_CLUB_LOFT, 37, 0);
    golf_facts_set(&facts, GOLF_FACT_CLUB_SPEED, 32, 0.5);
    golf_facts_set(&facts, GOLF_FACT_BALL_SPEED, 39 + 0.01 * round, 0.3);
    golf_facts_set(&facts, GOLF_FACT_FACE, 1, 1);
    golf_facts_set(&facts, GOLF_FACT_PATH, -5, 1);
    double from = now_us();
    golf_facts_complete(&facts);
    golf_implied(&facts, GOLF_BLEND, &air, &outcomes);
    rounds[round] = now_us() - from;
    sum += outcomes.value[GOLF_OUTCOME_CARRY];
  }
  print_line("one shot with what-ifs and all errors", median(rounds), 0,
             sum > 0 ? "19 figures" : "not numbers");
}

int main(void) {
  struct golf_shot shots[SHOTS];
  double truth[SHOTS];
  draw_shots(shots);
  for (int i = 0; i < SHOTS; i++) truth[i] = adaptive_carry(&shots[i], 1e-9);
  printf("the trade's arithmetic: medians of %d rounds; %d random shots\n", ROUNDS, SHOTS);
  bench_derivation();
  bench_flight("trajectory as shipped (adaptive)", adaptive_carry, 0, 60, shots, truth);
  bench_flight("the same, just inside 0.1 yd", adaptive_carry, 4e-4, 60, shots, truth);
  bench_flight("beside it: fixed step of 80 ms", fixed_step_carry, 0.08, 0, shots, truth);
  bench_flight("beside it: fixed step of 10 ms", fixed_step_carry, 0.01, 0, shots, truth);
  bench_flight("beside it: fixed step of 1 ms", fixed_step_carry, 0.001, 0, shots, truth);
  bench_implied();
  return 0;
}
