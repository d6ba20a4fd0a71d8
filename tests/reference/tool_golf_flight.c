/* Prints flights for the check against an independent integrator: golf_flight.py reads them.
 * Reads lines "model ball_speed launch start spin axis_tilt temperature pressure tail_wind
 * cross_wind" and writes one line "carry side apex landing_angle time landing_spin" each, with 17
 * digits; "refused NAME" for an implausible shot. With the argument `path` the sampled points of
 * each flight follow as "time x y z" and an empty line. */
#include <stdio.h>
#include <string.h>

#include "golf/flight.h"
#include "golf/range.h"

static void print_path(const struct golf_path *path) {
  for (size_t i = 0; i < path->count; i++) {
    const struct golf_point *p = &path->points[i];
    printf("%.17g %.17g %.17g %.17g\n", p->time, p->x, p->y, p->z);
  }
  printf("\n");
}

static void print_flight(const char *name, const struct golf_shot *shot, const struct golf_air *air,
                         int with_path) {
  struct golf_point points[64];
  struct golf_path path = {points, 64, 0, 0.5};
  struct golf_flight f;
  int model = golf_model_find(name, strlen(name));
  const struct golf_range *range =
      model < 0 ? NULL : golf_fly((enum golf_model)model, shot, air, &path, &f);
  if (model < 0 || range) {
    printf("refused %s\n", model < 0 ? "model" : range->name);
    return;
  }
  printf("%.17g %.17g %.17g %.17g %.17g %.17g\n", f.carry, f.side, f.apex, f.landing_angle, f.time,
         f.landing_spin);
  if (with_path) print_path(&path);
}

int main(int argc, char **argv) {
  char name[32];
  struct golf_shot s;
  struct golf_air a;
  int with_path = argc > 1 && strcmp(argv[1], "path") == 0;
  while (scanf("%31s %lf %lf %lf %lf %lf %lf %lf %lf %lf", name, &s.ball_speed, &s.launch, &s.start,
               &s.spin, &s.axis_tilt, &a.temperature, &a.pressure, &a.tail_wind,
               &a.cross_wind) == 10)
    print_flight(name, &s, &a, with_path);
  return 0;
}
