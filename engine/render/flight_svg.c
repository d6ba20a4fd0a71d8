/* Two pictures of a flight as one SVG document that needs nothing from outside: lines and words
 * only, dark on light, told apart by dashes and marks and not by colour alone. Both views share the
 * scale of distance; the heights and the sides each have their own, and both say so. */
#include <math.h>

#include "render/flight_parts.h"
#include "render/wording_parts.h"

/* The sheet, in px. */
enum {
  SHEET_WIDE = 840,
  SHEET_TALL = 640,
  LEFT = 70,
  PLOT_WIDE = 720,
  SIDE_TALL = 200,
  TOP_TALL = 200
};
enum { SIDE_TOP = 70, TOP_TOP = 360 };

struct panel {
  struct flight_page *page;
  double x, y, wide, tall; /* px */
  double far, low, high;   /* m: across 0 to far, up from low to high */
};

static double panel_x(const struct panel *panel, double metres) {
  return panel->x + metres / panel->far * panel->wide;
}
static double panel_y(const struct panel *panel, double metres) {
  return panel->y + (panel->high - metres) / (panel->high - panel->low) * panel->tall;
}

/* ---- writing ---- */

static void add_number(struct text *out, double x) {
  wording_trimmed(out, x, 1);
}

static void add_pair(struct text *out, const char *x_name, double x, const char *y_name, double y) {
  text_format(out, " %s=\"", x_name);
  add_number(out, x);
  text_format(out, "\" %s=\"", y_name);
  add_number(out, y);
  text_add_char(out, '"');
}

static void add_line(struct text *out, const char *class, double x1, double y1, double x2,
                     double y2) {
  text_format(out, "<line class=\"%s\"", class);
  add_pair(out, "x1", x1, "y1", y1);
  add_pair(out, "x2", x2, "y2", y2);
  text_add(out, "/>\n");
}

/* Words are ASCII of this program and names of units; none needs escaping but "<", "&". */
static void add_words(struct text *out, const char *class, double x, double y, const char *words) {
  text_format(out, "<text class=\"%s\"", class);
  add_pair(out, "x", x, "y", y);
  text_format(out, ">%s</text>\n", words);
}

static const char *done(struct text *out, const struct text *text) {
  const char *words = text_done(text);
  if (!words) out->failed = true;
  return words ? words : "";
}

static double in_unit(const struct panel *panel, double metres) {
  return golf_unit_convert_error(metres, golf_unit_base(GOLF_DIMENSION_LENGTH),
                                 panel->page->distance);
}
static double in_metres(const struct panel *panel, double distance) {
  return golf_unit_convert_error(distance, panel->page->distance,
                                 golf_unit_base(GOLF_DIMENSION_LENGTH));
}

static void add_tick_words(const struct panel *panel, const char *class, double x, double y,
                           double number) {
  struct text words = wording_beside(panel->page->out);
  wording_trimmed(&words, number, 1);
  add_words(panel->page->out, class, x, y, done(panel->page->out, &words));
}

/* ---- axes ---- */

static void add_distances(const struct panel *panel, double ground) {
  double step = flight_tick(in_unit(panel, panel->far), 8), y = panel->y + panel->tall;
  for (double at = 0; at <= in_unit(panel, panel->far) + 1e-9; at += step) {
    double x = panel_x(panel, in_metres(panel, at));
    add_line(panel->page->out, "grid", x, panel->y, x, y);
    add_tick_words(panel, "tick middle", x, y + 18, at);
  }
  add_line(panel->page->out, "ground", panel->x, panel_y(panel, ground), panel->x + panel->wide,
           panel_y(panel, ground));
}

/* Levels from low to high; `sides` shows distances from the middle to both sides. */
static void add_levels(const struct panel *panel, bool sides) {
  double step = flight_tick(in_unit(panel, panel->high), sides ? 2 : 4);
  for (double at = sides ? step : 0; at <= in_unit(panel, panel->high) + 1e-9; at += step)
    for (int side = 1; side >= (sides ? -1 : 1); side -= 2) {
      double y = panel_y(panel, side * in_metres(panel, at));
      add_line(panel->page->out, "grid", panel->x, y, panel->x + panel->wide, y);
      add_tick_words(panel, "tick end", panel->x - 8, y + 4, at);
    }
}

static void add_path(const struct panel *panel, bool from_above) {
  const struct flight_account *of = panel->page->of;
  struct text *out = panel->page->out;
  text_add(out, "<polyline class=\"path\" points=\"");
  for (size_t i = 0; i < of->path.count; i++) {
    const struct golf_point *point = &of->path.points[i];
    double up = from_above ? -flight_hand(of, point->y) : point->z;
    text_add(out, i > 0 ? " " : "");
    add_number(out, panel_x(panel, point->x));
    text_add_char(out, ',');
    add_number(out, panel_y(panel, up));
  }
  text_add(out, "\"/>\n");
}

static void add_landing(const struct panel *panel, double x, double y, double y_error) {
  struct text *out = panel->page->out;
  double error = panel->page->of->outcomes.error[GOLF_OUTCOME_CARRY] / panel->far * panel->wide;
  double rise = y_error / (panel->high - panel->low) * panel->tall;
  text_add(out, "<ellipse class=\"doubt\"");
  add_pair(out, "cx", panel_x(panel, x), "cy", panel_y(panel, y));
  add_pair(out, "rx", error, "ry", fmax(rise, 4));
  text_add(out, "/>\n<circle class=\"landing\"");
  add_pair(out, "cx", panel_x(panel, x), "cy", panel_y(panel, y));
  text_add(out, " r=\"4\"/>\n");
}

/* ---- the two views ---- */

static const struct golf_point *landing_of(const struct flight_account *of) {
  return &of->path.points[of->path.count - 1];
}

static double far_end(const struct flight_account *of) {
  return flight_bounds(of).far + fmax(of->outcomes.error[GOLF_OUTCOME_CARRY], 1);
}

static void add_heading(const struct panel *panel, const char *words) {
  struct text text = wording_beside(panel->page->out);
  text_format(&text, "%s, %s", words, panel->page->distance->name);
  add_words(panel->page->out, "heading", panel->x, panel->y - 12, done(panel->page->out, &text));
}

static void add_side_view(struct flight_page *page) {
  struct panel panel = {page,      LEFT,
                        SIDE_TOP,  PLOT_WIDE,
                        SIDE_TALL, far_end(page->of),
                        0,         1.1 * flight_bounds(page->of).up};
  add_heading(&panel, "From the side: height and distance");
  add_levels(&panel, false);
  add_distances(&panel, 0);
  add_path(&panel, false);
  add_landing(&panel, landing_of(page->of)->x, 0, 0);
}

static void add_top_view(struct flight_page *page) {
  const struct flight_account *of = page->of;
  struct flight_bounds bounds = flight_bounds(of);
  double error = of->outcomes.error[GOLF_OUTCOME_SIDE];
  double half = fmax(fmax(bounds.left, bounds.right) + error, 0.1 * bounds.far);
  struct panel panel = {page, LEFT, TOP_TOP, PLOT_WIDE, TOP_TALL, far_end(of), -half, half};
  double slope = tan(flight_hand(of, of->facts.value[GOLF_FACT_START]) * acos(-1) / 180);
  double reach = fmin(panel.far, slope != 0 ? half / fabs(slope) : panel.far);
  add_heading(&panel, "From above, target to the right: distance and side");
  add_levels(&panel, true);
  add_distances(&panel, 0);
  add_words(page->out, "tick halo", LEFT + 6, TOP_TOP + 14, "left of the target line");
  add_words(page->out, "tick halo", LEFT + 6, TOP_TOP + TOP_TALL - 6, "right of the target line");
  add_line(page->out, "start", panel_x(&panel, 0), panel_y(&panel, 0), panel_x(&panel, reach),
           panel_y(&panel, -slope * reach));
  add_path(&panel, true);
  add_landing(&panel, landing_of(of)->x, -flight_hand(of, landing_of(of)->y), error);
}

/* ---- the sheet ---- */

static void add_style(struct text *out) {
  text_add(out, "<style>\n"
                "text { font: 13px sans-serif; fill: #222; }\n"
                ".title { font-size: 17px; }\n"
                ".heading { font-size: 14px; }\n"
                ".tick { font-size: 12px; fill: #555; }\n"
                ".middle { text-anchor: middle; }\n"
                ".end { text-anchor: end; }\n"
                ".halo { paint-order: stroke; stroke: #fff; stroke-width: 5px; }\n"
                ".grid { stroke: #ddd; }\n"
                ".ground { stroke: #222; stroke-width: 1.5; }\n"
                ".start { stroke: #555; stroke-dasharray: 5 5; }\n"
                ".path { fill: none; stroke: #7a3b12; stroke-width: 2.5; }\n"
                ".doubt { fill: #7a3b12; fill-opacity: 0.15; stroke: #7a3b12; }\n"
                ".landing { fill: #7a3b12; }\n"
                "</style>\n");
}

static void add_summary(struct text *text, const struct flight_page *page) {
  const struct golf_outcomes *outcomes = &page->of->outcomes;
  text_add(text, "carry ");
  flight_amount_error(text, page, GOLF_DIMENSION_LENGTH, outcomes->value[GOLF_OUTCOME_CARRY],
                      outcomes->error[GOLF_OUTCOME_CARRY], false);
  if (!flight_known(page->of, GOLF_OUTCOME_SIDE)) return;
  text_add(text, ", off the target line ");
  flight_amount_error(text, page, GOLF_DIMENSION_LENGTH, outcomes->value[GOLF_OUTCOME_SIDE],
                      outcomes->error[GOLF_OUTCOME_SIDE], true);
}

void flight_svg(struct text *out, const struct flight_account *account) {
  struct flight_page page = flight_page_start(out, account, false);
  bool sideways = golf_facts_sideways(&account->facts);
  int tall = sideways ? SHEET_TALL : SIDE_TOP + SIDE_TALL + 90;
  struct text summary = wording_beside(out), conditions = wording_beside(out);
  add_summary(&summary, &page);
  flight_conditions(&conditions, &page);
  text_format(out,
              "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\" width=\"%d\" "
              "height=\"%d\" role=\"img\" aria-label=\"A ball flight: %s\">\n",
              SHEET_WIDE, tall, SHEET_WIDE, tall, done(out, &summary));
  add_style(out);
  text_format(out, "<rect width=\"%d\" height=\"%d\" fill=\"#fff\"/>\n", SHEET_WIDE, tall);
  add_words(out, "title", LEFT, 28, done(out, &summary));
  add_side_view(&page);
  if (sideways) add_top_view(&page);
  text_format(&conditions, "; shaded: one standard error%s",
              sideways ? "; dashed: the start line" : "");
  add_words(out, "tick", LEFT, tall - 24, done(out, &conditions));
  text_add(out, "</svg>\n");
}
