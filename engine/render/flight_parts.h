/* What the flight's writers share: units, hand, and figures in words. Same contract as flight.h. */
#ifndef WM_RENDER_FLIGHT_PARTS_H
#define WM_RENDER_FLIGHT_PARTS_H

#include "render/flight.h"

struct flight_page {
  struct text *out;
  const struct flight_account *of;
  const struct golf_unit *speed, *distance; /* the player's */
  bool emphasis;
};

/* Speeds in the unit typed for a speed; distances in the one typed for a distance of metres or
 * yards, else yards when speeds are mph. */
struct flight_page flight_page_start(struct text *out, const struct flight_account *of,
                                     bool emphasis);

/* The player's sign of something sideways. */
double flight_hand(const struct flight_account *of, double sideways);

/* An outcome's kind: what it is measured in, and which words its sign has. */
struct flight_figure {
  enum golf_outcome outcome;
  const char *name, *title;
  enum golf_dimension dimension;
  bool sideways;
};
/* The outcomes of the flight itself, in print order; *n gets their number. */
const struct flight_figure *flight_figures(size_t *n);

/* "6.0 mph", "111 yd", "3.0 yd left", in the player's unit; error decides the digits. */
void flight_amount(struct text *out, const struct flight_page *page, enum golf_dimension dimension,
                   double value, double error, bool sideways);
/* The same and " +/- 6". */
void flight_amount_error(struct text *out, const struct flight_page *page,
                         enum golf_dimension dimension, double value, double error, bool sideways);
const struct golf_unit *flight_unit(const struct flight_page *page, enum golf_dimension dimension);
/* "model blend, 15 C, sea level, still air" */
void flight_conditions(struct text *out, const struct flight_page *page);
bool flight_known(const struct flight_account *of, enum golf_outcome outcome);
bool flight_is_usual(const struct flight_account *of, enum golf_fact fact);

/* The bounds of the path, for pictures: m. */
struct flight_bounds {
  double far, up, left,
      right; /* left and right of the target line in the player's frame, 0 or more */
};
struct flight_bounds flight_bounds(const struct flight_account *of);
/* A round step for an axis that shows some `parts` of them over `span`: 1, 2 or 5 times a power of
 * ten. */
double flight_tick(double span, double parts);

#endif
