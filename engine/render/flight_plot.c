/* Two pictures of a flight in plain ASCII, 79 columns and some 30 lines: from the side, and from
 * above with the target to the right, so that what is right of the line lies below it. A cell has
 * one mark; later marks lie over earlier ones. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "render/flight_parts.h"

enum { GUTTER = 12, WIDE = 64, SIDE_ROWS = 10, TOP_ROWS = 11, ROWS_MAX = 12 };

/* A window on a plane: across from 0 to `far`, and `low` at the bottom to `high` at the top. */
struct canvas {
  char cells[ROWS_MAX][WIDE];
  int rows;
  double far, low, high;
};

static struct canvas canvas_start(int rows, double far, double low, double high) {
  struct canvas canvas = {.rows = rows, .far = far, .low = low, .high = high};
  memset(canvas.cells, ' ', sizeof canvas.cells);
  return canvas;
}

static int column_of(const struct canvas *canvas, double x) {
  return (int)lround(x / canvas->far * (WIDE - 1));
}

static int row_of(const struct canvas *canvas, double y) {
  return (int)lround((canvas->high - y) / (canvas->high - canvas->low) * (canvas->rows - 1));
}

static void mark(struct canvas *canvas, double x, double y, char with) {
  int column = column_of(canvas, x), row = row_of(canvas, y);
  if (column >= 0 && column < WIDE && row >= 0 && row < canvas->rows)
    canvas->cells[row][column] = with;
}

static void mark_line(struct canvas *canvas, double y, char with) {
  for (int i = 0; i < WIDE; i++) mark(canvas, canvas->far * i / (WIDE - 1), y, with);
}

/* ---- frame ---- */

static double in_unit(const struct flight_page *page, double metres) {
  return golf_unit_convert_error(metres, golf_unit_base(GOLF_DIMENSION_LENGTH), page->distance);
}

static double in_metres(const struct flight_page *page, double distance) {
  return golf_unit_convert_error(distance, page->distance, golf_unit_base(GOLF_DIMENSION_LENGTH));
}

static void add_trimmed(struct text *out, const char *line, int n) {
  while (n > 0 && line[n - 1] == ' ') n--;
  text_add_bytes(out, line, (size_t)n);
  text_add_char(out, '\n');
}

static void add_canvas(struct flight_page *page, const struct canvas *canvas,
                       char labels[ROWS_MAX][GUTTER + 1]) {
  for (int row = 0; row < canvas->rows; row++) {
    char line[GUTTER + 2 + WIDE];
    snprintf(line, sizeof line, "%*s |", GUTTER - 2, labels[row]);
    memcpy(line + GUTTER, canvas->cells[row], WIDE);
    add_trimmed(page->out, line, GUTTER + WIDE);
  }
}

/* Distances below the picture, each under its place. */
static void add_distances(struct flight_page *page, const struct canvas *canvas) {
  char line[GUTTER + WIDE + 8], word[24];
  double step = fmax(1, flight_tick(in_unit(page, canvas->far), 6));
  memset(line, ' ', sizeof line);
  for (double at = 0; at <= in_unit(page, canvas->far) + 1e-9; at += step) {
    int n = snprintf(word, sizeof word, "%.0f", at);
    int from = GUTTER + column_of(canvas, in_metres(page, at)) - n / 2;
    if (from + n < (int)sizeof line) memcpy(line + from, word, (size_t)n);
  }
  add_trimmed(page->out, line, (int)sizeof line);
}

static void mark_distances(struct flight_page *page, struct canvas *canvas, double y) {
  double step = fmax(1, flight_tick(in_unit(page, canvas->far), 6));
  for (double at = 0; at <= in_unit(page, canvas->far) + 1e-9; at += step)
    mark(canvas, in_metres(page, at), y, '+');
}

static void mark_landing(const struct flight_account *of, struct canvas *canvas, double x,
                         double y) {
  double error = of->outcomes.error[GOLF_OUTCOME_CARRY];
  int from = column_of(canvas, x - error), to = column_of(canvas, x + error);
  for (int i = from; i <= to; i++)
    mark(canvas, canvas->far * i / (WIDE - 1), y, i == from ? '[' : i == to ? ']' : '=');
  mark(canvas, x, y, 'o');
}

static double far_end(const struct flight_account *of) {
  return flight_bounds(of).far + fmax(of->outcomes.error[GOLF_OUTCOME_CARRY], 1);
}

/* ---- the two views ---- */

static void add_side_view(struct flight_page *page) {
  const struct flight_account *of = page->of;
  struct canvas canvas = canvas_start(SIDE_ROWS, far_end(of), 0, flight_bounds(of).up);
  char labels[ROWS_MAX][GUTTER + 1] = {{0}};
  double step = fmax(1, flight_tick(in_unit(page, canvas.high), 4));
  mark_line(&canvas, 0, '-');
  mark_distances(page, &canvas, 0);
  for (double at = 0; at <= in_unit(page, canvas.high); at += step)
    snprintf(labels[row_of(&canvas, in_metres(page, at))], GUTTER, "%.0f", at);
  for (size_t i = 0; i < of->path.count; i++)
    mark(&canvas, of->path.points[i].x, of->path.points[i].z, '*');
  mark_landing(of, &canvas, of->path.points[of->path.count - 1].x, 0);
  text_format(page->out, "From the side: height and distance, %s\n", page->distance->name);
  add_canvas(page, &canvas, labels);
  add_distances(page, &canvas);
}

/* Half the width shown, the same to both sides: at least a tenth of the distance, so that a small
 * curve looks small. */
static double half_width(const struct flight_account *of) {
  struct flight_bounds bounds = flight_bounds(of);
  double error = of->outcomes.error[GOLF_OUTCOME_SIDE];
  double widest = fmax(bounds.left, bounds.right) + (isnan(error) ? 0 : error);
  return fmax(widest, 0.1 * bounds.far);
}

static void label_sides(struct flight_page *page, const struct canvas *canvas,
                        char labels[ROWS_MAX][GUTTER + 1]) {
  double step = fmax(1, flight_tick(in_unit(page, canvas->high), 2));
  for (double at = step; at <= in_unit(page, canvas->high); at += step) {
    snprintf(labels[row_of(canvas, in_metres(page, at))], GUTTER, "left %.0f", at);
    snprintf(labels[row_of(canvas, -in_metres(page, at))], GUTTER, "right %.0f", at);
  }
  snprintf(labels[row_of(canvas, 0)], GUTTER, "target");
}

static void add_top_view(struct flight_page *page) {
  const struct flight_account *of = page->of;
  double half = half_width(of), error = of->outcomes.error[GOLF_OUTCOME_SIDE];
  struct canvas canvas = canvas_start(TOP_ROWS, far_end(of), -half, half);
  char labels[ROWS_MAX][GUTTER + 1] = {{0}};
  const struct golf_point *landing = &of->path.points[of->path.count - 1];
  double slope = tan(flight_hand(of, of->facts.value[GOLF_FACT_START]) * acos(-1) / 180);
  double side = flight_hand(of, landing->y);
  mark_line(&canvas, 0, '-');
  mark_distances(page, &canvas, 0);
  for (int i = 0; i < WIDE; i += 3)
    mark(&canvas, canvas.far * i / (WIDE - 1), -slope * canvas.far * i / (WIDE - 1), '.');
  for (size_t i = 0; i < of->path.count; i++)
    mark(&canvas, of->path.points[i].x, -flight_hand(of, of->path.points[i].y), '*');
  for (int row = row_of(&canvas, -side + error); row <= row_of(&canvas, -side - error); row++)
    mark(&canvas, landing->x, half - 2 * half * row / (TOP_ROWS - 1), ':');
  mark_landing(of, &canvas, landing->x, -side);
  label_sides(page, &canvas, labels);
  text_format(page->out, "From above: distance and side, %s; dots go on along the start line\n",
              page->distance->name);
  add_canvas(page, &canvas, labels);
  add_distances(page, &canvas);
}

static void add_caption(struct flight_page *page) {
  const struct golf_outcomes *outcomes = &page->of->outcomes;
  text_add(page->out, "o landing, [=] and : one standard error; carry ");
  flight_amount_error(page->out, page, GOLF_DIMENSION_LENGTH, outcomes->value[GOLF_OUTCOME_CARRY],
                      outcomes->error[GOLF_OUTCOME_CARRY], false);
  if (flight_known(page->of, GOLF_OUTCOME_SIDE)) {
    text_add(page->out, ", ");
    flight_amount_error(page->out, page, GOLF_DIMENSION_LENGTH, outcomes->value[GOLF_OUTCOME_SIDE],
                        outcomes->error[GOLF_OUTCOME_SIDE], true);
  }
  text_add(page->out, "\n(");
  flight_conditions(page->out, page);
  text_add(page->out, ")\n");
}

void flight_plot(struct text *out, const struct flight_account *account) {
  struct flight_page page = flight_page_start(out, account, false);
  add_side_view(&page);
  text_add_char(out, '\n');
  if (golf_facts_sideways(&account->facts)) add_top_view(&page);
  else text_add(out, "No view from above: face and path, or start and curve, are not known.\n");
  add_caption(&page);
}
