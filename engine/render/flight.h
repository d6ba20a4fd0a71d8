/* What the numbers of a shot imply, on paper: text, JSON, the path as CSV, pictures.
 * Decides and computes nothing: the account is filled by api/. Inside the account all is base units
 * in a right-handed player's frame; writers mirror for the run's hand and tell speeds and distances
 * in the units the player used. A text that ran out of memory has failed. */
#ifndef WM_RENDER_FLIGHT_H
#define WM_RENDER_FLIGHT_H

#include "golf/implied.h"
#include "golf/inverse.h"
#include "golf/range.h"
#include "render/json.h"
#include "run/run.h"

/* How fast the path is sampled: points at this interval (s), the landing last. */
#define FLIGHT_INTERVAL 0.05
#define FLIGHT_POINTS_MAX 2000

struct flight_account {
  const struct run *run;
  struct golf_facts facts; /* completed */
  struct golf_outcomes outcomes;
  enum golf_model model;
  double temperature, altitude;    /* C, m */
  const struct golf_range *missed; /* the range these numbers miss so that nothing flies, or NULL */
  struct golf_path path;           /* count 0: no flight */
  bool has_ranges;                 /* the flight alone was told: ranges of the impact behind it */
  struct golf_impact_guess ranges;
};

void flight_text(struct text *out, const struct flight_account *account, bool emphasis);
/* docs/schemas/flight.schema.json; the caller set the head. */
void flight_json(struct json *json, const struct flight_account *account);
/* A head line, then a line a point: time s, distance, side + right, height in m, speed m/s, and the
 * carry's error in the last line. */
void flight_csv(struct text *out, const struct flight_account *account);
/* Side view and top view in plain ASCII, 79 columns. */
void flight_plot(struct text *out, const struct flight_account *account);
/* The same two views as one self-contained SVG document. */
void flight_svg(struct text *out, const struct flight_account *account);

/* What every model says of every row of outside check values, and the misses. */
void flight_residuals_text(struct text *out);
void flight_residuals_json(struct json *json);

#endif
