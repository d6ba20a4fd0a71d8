/* From ball flight alone back to impact: ranges of face, path, loft and strike for a player without
 * a monitor. Says how far each stays open instead of choosing: one curve can come from face and
 * path or from an off-centre strike. Starts from wide practice priors, so its ranges are beliefs of
 * practice, not measurements. Pure; any thread may call it. m/s, deg, m, mm.
 */
#ifndef WM_GOLF_INVERSE_H
#define WM_GOLF_INVERSE_H

#include <stddef.h>

struct golf_range;

/* Face and path of a centred strike from start direction and axis tilt: exact inverse of the axis
 * tilt, with the face's share of the start (wood-2018). NaN when no face gives that tilt. */
double golf_face_from_flight(double start, double axis_tilt, double delivered_loft, double attack);
double golf_path_from_flight(double start, double axis_tilt, double delivered_loft, double attack);

/* The axis tilt (deg) that makes a flight curve by that angle (deg, seen from the tee), at the
 * usual speed, launch and spin of a club; NaN beyond what tilt can do. Some 20 flights. */
double golf_tilt_from_curve(double curve_angle, double club_loft);

/* What was seen. NaN for a value that was not. Errors are one standard error. */
struct golf_seen {
  double club_loft;                    /* needed */
  double start, start_error;           /* deg, + right */
  double curve, curve_error;           /* deg, angle from start line to landing, + right */
  double launch, launch_error;         /* deg */
  double carry, carry_error;           /* m */
  double club_speed, club_speed_error; /* m/s */
};

enum golf_guess {
  GOLF_GUESS_FACE,
  GOLF_GUESS_PATH,
  GOLF_GUESS_DELIVERED_LOFT,
  GOLF_GUESS_ATTACK,
  GOLF_GUESS_CLUB_SPEED,
  GOLF_GUESS_STRIKE,
  GOLF_GUESS_FACE_TO_PATH,
  GOLF_GUESSES
};

struct golf_estimate {
  double mean, sd;
  double low, high; /* 90 % range, cut at the plausible range */
  double before;    /* sd before the flight was seen */
  int open;         /* what was seen left more than 0.7 of the doubt */
};

struct golf_impact_guess {
  struct golf_estimate of[GOLF_GUESSES];
  double face_path_correlation;
  double curve_from_strike; /* deg of curve that one sd of strike makes: what gear effect leaves
                               open */
};

const char *golf_guess_name(enum golf_guess guess);

/* Fills *guess by a linear Gaussian update, linearised again at each of a few turns; priors
 * (practice, one sd): face 5, path 6, loft 4 about the club's usual, attack 2.5, club speed 15 %,
 * strike 10 mm. Returns NULL, or the range missed. Cost: about 1 ms. */
const struct golf_range *golf_invert(const struct golf_seen *seen, struct golf_impact_guess *guess);

/* What a word about a flight stands for (practice). kind: "start", "curve" deg; "height" deg of
 * launch beside the club's usual. */
struct golf_flight_word {
  const char *kind, *word;
  double value, error;
};
const struct golf_flight_word *golf_flight_words(size_t *count);
/* NULL when there is no such word. */
const struct golf_flight_word *golf_flight_word_find(const char *kind, const char *word);

/* The flight reflected left to right. */
struct golf_seen golf_seen_mirror(struct golf_seen seen);

#endif
