#include "render/flight_parts.h"

#include <math.h>

#include "render/wording_parts.h"

/* ---- units ---- */

static bool is_typed_in(const struct run *run, size_t evidence, enum golf_dimension dimension) {
  const struct evidence *about = &run->network->model->evidence[evidence];
  return about->kind == EVIDENCE_NUMBER && run->is_given[evidence] &&
         about->unit->dimension == dimension;
}

/* Places on the face, low points and lengths of clubs are lengths, but no distances. */
static bool is_distance(const struct evidence *about) {
  return golf_unit_convert(about->high, about->unit, golf_unit_base(GOLF_DIMENSION_LENGTH)) > 10;
}

/* The unit the player used for the first number of that dimension, or NULL. */
static const struct golf_unit *typed_unit(const struct run *run, enum golf_dimension dimension) {
  const struct model *model = run->network->model;
  for (size_t i = 0; i < model->n_evidence; i++)
    if (is_typed_in(run, i, dimension) &&
        (dimension != GOLF_DIMENSION_LENGTH || is_distance(&model->evidence[i])))
      return wording_unit(run, i);
  return NULL;
}

struct flight_page flight_page_start(struct text *out, const struct flight_account *of,
                                     bool emphasis) {
  struct flight_page page = {.out = out, .of = of, .emphasis = emphasis};
  page.speed = typed_unit(of->run, GOLF_DIMENSION_SPEED);
  page.distance = typed_unit(of->run, GOLF_DIMENSION_LENGTH);
  if (!page.speed) page.speed = golf_unit_base(GOLF_DIMENSION_SPEED);
  if (!page.distance)
    page.distance =
        golf_unit_at(page.speed == golf_unit_at(GOLF_UNIT_MPH) ? GOLF_UNIT_YD : GOLF_UNIT_M);
  return page;
}

const struct golf_unit *flight_unit(const struct flight_page *page, enum golf_dimension dimension) {
  if (dimension == GOLF_DIMENSION_SPEED) return page->speed;
  return dimension == GOLF_DIMENSION_LENGTH ? page->distance : golf_unit_base(dimension);
}

double flight_hand(const struct flight_account *of, double sideways) {
  return of->run->hand == HAND_LEFT && sideways != 0 ? -sideways : sideways;
}

/* ---- figures ---- */

const struct flight_figure *flight_figures(size_t *n) {
  static const struct flight_figure figures[] = {
      {GOLF_OUTCOME_CARRY, "carry", "carry", GOLF_DIMENSION_LENGTH, false},
      {GOLF_OUTCOME_SIDE, "side", "off the target line", GOLF_DIMENSION_LENGTH, true},
      {GOLF_OUTCOME_CURVE, "curve", "bend off the start line", GOLF_DIMENSION_LENGTH, true},
      {GOLF_OUTCOME_CURVE_ANGLE, "curve_angle", "the bend as an angle", GOLF_DIMENSION_ANGLE, true},
      {GOLF_OUTCOME_APEX, "apex", "top of the flight", GOLF_DIMENSION_LENGTH, false},
      {GOLF_OUTCOME_LANDING_ANGLE, "landing_angle", "landing angle", GOLF_DIMENSION_ANGLE, false},
      {GOLF_OUTCOME_TIME, "time", "time in the air", GOLF_DIMENSION_TIME, false},
      {GOLF_OUTCOME_LANDING_SPEED, "landing_speed", "speed at landing", GOLF_DIMENSION_SPEED,
       false},
      {GOLF_OUTCOME_LANDING_SPIN, "landing_spin", "spin at landing", GOLF_DIMENSION_ROTATION,
       false},
  };
  *n = sizeof figures / sizeof figures[0];
  return figures;
}

/* One digit of the error is shown, two of a small one: more would be noise. */
static int digits_of(double error) {
  if (!(error > 0)) return 1;
  return error >= 2 ? 0 : error >= 0.095 ? 1 : 2;
}

void flight_amount(struct text *out, const struct flight_page *page, enum golf_dimension dimension,
                   double value, double error, bool sideways) {
  const struct golf_unit *unit = flight_unit(page, dimension);
  const struct golf_unit *base = golf_unit_base(dimension);
  double shown = golf_unit_convert_error(value, base, unit);
  int digits = digits_of(golf_unit_convert_error(error, base, unit));
  if (sideways) shown = flight_hand(page->of, shown);
  text_fixed(out, sideways ? fabs(shown) : shown, digits);
  wording_unit_name(out, unit);
  if (sideways && fabs(shown) >= 0.5 * pow(10, -digits))
    text_add(out, shown < 0 ? " left" : " right");
}

void flight_amount_error(struct text *out, const struct flight_page *page,
                         enum golf_dimension dimension, double value, double error, bool sideways) {
  const struct golf_unit *unit = flight_unit(page, dimension);
  double shown = golf_unit_convert_error(error, golf_unit_base(dimension), unit);
  flight_amount(out, page, dimension, value, error, sideways);
  text_add(out, " +/- ");
  text_fixed(out, shown, digits_of(shown));
}

bool flight_known(const struct flight_account *of, enum golf_outcome outcome) {
  return !isnan(of->outcomes.value[outcome]);
}

bool flight_is_usual(const struct flight_account *of, enum golf_fact fact) {
  return (of->facts.usual >> fact & 1u) != 0;
}

/* ---- conditions ---- */

static void add_wind(struct text *out, const struct flight_page *page) {
  double tail = page->of->facts.value[GOLF_FACT_TAIL_WIND];
  double cross = flight_hand(page->of, page->of->facts.value[GOLF_FACT_CROSS_WIND]);
  if (tail == 0 && cross == 0) {
    text_add(out, "still air");
    return;
  }
  text_add(out, "wind ");
  if (tail != 0) {
    flight_amount(out, page, GOLF_DIMENSION_SPEED, fabs(tail), 1, false);
    text_add(out, tail > 0 ? " from behind" : " from ahead");
  }
  if (tail != 0 && cross != 0) text_add(out, " and ");
  if (cross != 0) {
    flight_amount(out, page, GOLF_DIMENSION_SPEED, fabs(cross), 1, false);
    text_add(out, cross > 0 ? " from the left" : " from the right");
  }
}

void flight_conditions(struct text *out, const struct flight_page *page) {
  text_format(out, "model %s, ", golf_model_name(page->of->model));
  wording_trimmed(out, page->of->temperature, 1);
  text_add(out, " C, ");
  if (page->of->altitude == 0) text_add(out, "sea level");
  else {
    wording_trimmed(out, page->of->altitude, 0);
    text_add(out, " m above the sea");
  }
  text_add(out, ", ");
  add_wind(out, page);
}

/* ---- pictures ---- */

struct flight_bounds flight_bounds(const struct flight_account *of) {
  struct flight_bounds bounds = {1, 1, 0, 0};
  for (size_t i = 0; i < of->path.count; i++) {
    const struct golf_point *point = &of->path.points[i];
    double side = flight_hand(of, point->y);
    bounds.far = fmax(bounds.far, point->x);
    bounds.up = fmax(bounds.up, point->z);
    bounds.left = fmax(bounds.left, -side);
    bounds.right = fmax(bounds.right, side);
  }
  return bounds;
}

double flight_tick(double span, double parts) {
  double raw = span / parts, power = pow(10, floor(log10(raw)));
  double head = raw / power;
  return power * (head <= 1 ? 1 : head <= 2 ? 2 : head <= 5 ? 5 : 10);
}
