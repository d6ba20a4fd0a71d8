/* Everything the numbers of one impact imply, in one call: geometry, launch and expectation,
 * without a flight. The engine fills derived evidence from it; formula.h offers the same one by
 * one. Pure; any thread may call it. Cost: below 1 us (make bench).
 */
#ifndef WM_GOLF_DERIVE_H
#define WM_GOLF_DERIVE_H

#include <stddef.h>

struct golf_range;

/* Inputs in order, as a vector so that errors propagate: m/s, deg, g, mm, m. */
enum golf_input {
  GOLF_IN_CLUB_SPEED,
  GOLF_IN_FACE,
  GOLF_IN_PATH,
  GOLF_IN_DELIVERED_LOFT,
  GOLF_IN_ATTACK,
  GOLF_IN_HEAD_MASS,
  GOLF_IN_STRIKE,
  GOLF_IN_STRIKE_HEIGHT,
  GOLF_IN_PLANE_TILT,
  GOLF_IN_RADIUS,
  GOLF_IN_CLUB_LOFT,
  GOLF_INPUTS
};

enum golf_output {
  GOLF_OUT_FACE_TO_PATH,  /* deg */
  GOLF_OUT_INCIDENCE,     /* deg */
  GOLF_OUT_ARC_DIRECTION, /* deg */
  GOLF_OUT_LOW_POINT,     /* m, + ahead */
  GOLF_OUT_CENTRED_TILT,  /* deg, axis tilt of a centred strike */
  GOLF_OUT_AXIS_TILT,     /* deg, with gear effect */
  GOLF_OUT_START,         /* deg */
  GOLF_OUT_LAUNCH,        /* deg */
  GOLF_OUT_BALL_SPEED,    /* m/s */
  GOLF_OUT_SPEED_RATIO,
  GOLF_OUT_SPIN,                /* rpm */
  GOLF_OUT_BACKSPIN,            /* rpm */
  GOLF_OUT_SIDESPIN,            /* rpm, + curves right */
  GOLF_OUT_EXPECTED_BALL_SPEED, /* m/s for that club and club speed */
  GOLF_OUT_BALL_SPEED_LOST,     /* m/s, expected less this strike's; + is lost */
  GOLF_OUTPUTS
};

/* Names as in formula.h where it has the function. */
const char *golf_input_name(enum golf_input input);
const char *golf_output_name(enum golf_output output);

/* Fills out[GOLF_OUTPUTS] from in[GOLF_INPUTS]. An output whose inputs are not known (NaN) or not
 * possible is NaN; plausible ranges are not asked for here: golf_derive_check does that. */
void golf_derive(const double *in, double *out);

/* The range a known (not NaN) input misses, and its index; NULL when there is none. */
const struct golf_range *golf_derive_check(const double *in, size_t *index);

/* golf_derive in the shape of propagate.h; context is not used. */
void golf_derive_vector(const double *in, double *out, void *context);

#endif
