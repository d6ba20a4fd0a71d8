/* Where each shot starts, how it curves and where it finishes, and which of the nine flights that
 * is. Takes what the table gives, else works it out shot by shot with the formulas of the
 * knowledge, as a run does, without errors. Angles in degrees in the frame of a right-handed
 * player, so that classes mean the same for both hands. Lives in the arena of the shots; immutable
 * once made. */
#ifndef WM_SESSION_FLIGHTS_H
#define WM_SESSION_FLIGHTS_H

#include "session/shots.h"

enum side_class { SIDE_LEFT, SIDE_STRAIGHT, SIDE_RIGHT, SIDE_UNKNOWN };

struct flight {
  double start, curve, finish; /* deg; NaN: not known */
};

struct flights {
  const struct window *window;
  double within;           /* half width of the window, deg */
  const struct flight *at; /* by shot */
  size_t n;
};

/* Works out all shots; within 0: the window's own. constants: what is the same for all shots, by
 * evidence, numbers in the right-handed frame, NaN where not given. False: no memory. */
bool flights_make(struct flights *flights, const struct shots *shots, enum hand hand,
                  const struct window *window, double within, const double *constants);

enum side_class side_class_of(double angle, double within);
/* SIDE_UNKNOWN when the finish is not known. */
enum side_class flight_finish(const struct flights *flights, size_t shot);
enum side_class flight_start(const struct flights *flights, size_t shot);
enum side_class flight_curve(const struct flights *flights, size_t shot);

#endif
