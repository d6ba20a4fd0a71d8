/* Readings that hang together in threes: any two give the third, and three that contradict are
 * reported. Averages nothing: which reading is wrong is for the coach to find. Pure; the caller
 * owns every array; any thread may call it.
 */
#ifndef WM_GOLF_RELATION_H
#define WM_GOLF_RELATION_H

enum golf_relation_index {
  GOLF_RELATION_FACE_TO_PATH, /* face_to_path = face - path */
  GOLF_RELATION_START,        /* start from face and path, share by loft (wood-2018) */
  GOLF_RELATION_ARC,          /* path from arc_direction and attack, at a plane_tilt */
  GOLF_RELATION_TILT,         /* axis_tilt from face and path, at delivered_loft and attack */
  GOLF_RELATION_LOW_POINT,    /* low_point from attack and radius, at a plane_tilt */
  GOLF_RELATION_SPEED,        /* speed_ratio = ball_speed / club_speed */
  GOLF_RELATIONS
};

enum { GOLF_MEMBERS = 3, GOLF_RELATION_VALUES = 5 };

/* Values come in one order: the three members, then the conditions. */
struct golf_relation {
  const char *name;
  const char
      *values[GOLF_RELATION_VALUES]; /* names as in formula.h; NULL beyond the last condition */
  double (*solve[GOLF_MEMBERS])(
      const double *x); /* member i from the others and the conditions; NULL: not unique */
  double (*doubt)(
      const double *x); /* standard error of the relation itself, in member 0's unit; NULL: exact */
  const char *source;
};

const struct golf_relation *golf_relation_at(enum golf_relation_index index);

/* Member `missing` (0 to 2) from the rest of x; NaN when it has no single solution. x[missing] is
 * not read. */
double golf_relation_solve(const struct golf_relation *relation, int missing, const double *x);

struct golf_reading {
  double value, error; /* error: one standard error, 0 for an exact value */
};

struct golf_misfit {
  double given, expected; /* member 0 as read, and as the other two imply it */
  double difference;      /* given - expected */
  double error; /* standard error of the difference: all readings, and the relation's own */
  double standard_errors; /* |difference| / error */
  int contradictory;      /* more than GOLF_CONTRADICTION standard errors */
};

#define GOLF_CONTRADICTION 3.0

/* Compares five readings (those beyond the last condition are not read). Readings are taken as
 * independent: a face_to_path that was itself computed from face and path must not be checked
 * against them. Returns 0, or -1 when the relation has no value there. */
int golf_relation_misfit(const struct golf_relation *relation, const struct golf_reading *readings,
                         struct golf_misfit *misfit);

#endif
