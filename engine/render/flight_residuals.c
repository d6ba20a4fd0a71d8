/* Every model beside every outside check value. A row that is not about a model says nothing
 * against it: its miss is shown in brackets. */
#include <math.h>
#include <string.h>

#include "golf/residuals.h"
#include "render/flight.h"
#include "render/wording_parts.h"

/* ---- text ---- */

static int digits_of(double size) {
  size = fabs(size);
  return size >= 50 ? 1 : size >= 2 ? 2 : 4;
}

static void add_unit(struct text *out, const struct golf_residual_row *row) {
  wording_unit_name(out, golf_unit_find(row->unit, strlen(row->unit)));
}

/* "111 yd, accepted 108 to 114", "at most 320 yd" */
static void add_claim(struct text *out, const struct golf_residual_row *row) {
  if (!isnan(row->value)) {
    text_number(out, row->value);
    add_unit(out, row);
    text_add(out, ", ");
  }
  if (!isfinite(row->low)) text_add(out, "at most ");
  else if (!isfinite(row->high)) text_add(out, "at least ");
  else {
    text_number(out, row->low);
    text_add(out, " to ");
  }
  text_number(out, isfinite(row->high) ? row->high : row->low);
  add_unit(out, row);
}

static void add_measured(struct text *out, const struct golf_residual_row *row,
                         enum golf_model model) {
  struct golf_residual found = golf_residual_of(row, model);
  struct text cell = wording_beside(out);
  int digits = digits_of(isnan(row->value) ? found.measured : row->value);
  text_fixed(&cell, found.measured, digits);
  text_add_char(&cell, ' ');
  if (!found.concerns) text_add_char(&cell, '(');
  wording_signed(&cell, found.residual, digits);
  if (!found.concerns) text_add_char(&cell, ')');
  else if (!found.meets) text_add(&cell, " MISS");
  const char *words = text_done(&cell);
  if (!words) out->failed = true;
  text_format(out, "%-25s", words ? words : "");
}

static void end_line(struct text *out) {
  while (out->n > 0 && out->at[out->n - 1] == ' ') out->n--;
  text_add_char(out, '\n');
}

static void add_row(struct text *out, const struct golf_residual_row *row) {
  struct text claim = wording_beside(out);
  text_format(&claim, "%s: ", row->what);
  add_claim(&claim, row);
  text_format(&claim, " [%s]", row->source);
  wording_hanging(out, 0, 2, &claim);
  wording_indent(out, 4);
  for (int model = 0; model < GOLF_MODELS; model++) add_measured(out, row, (enum golf_model)model);
  end_line(out);
}

void flight_residuals_text(struct text *out) {
  size_t n;
  const struct golf_residual_row *rows = golf_residual_rows(&n);
  text_add(out, "Outside check values, and under each what every model makes of it and by how\n"
                "much that differs: from the value, or from the bounds where there is none.\n"
                "MISS: outside the bounds. In brackets: the line is not about that model.\n\n    ");
  for (int model = 0; model < GOLF_MODELS; model++)
    text_format(out, "%-25s", golf_model_name((enum golf_model)model));
  end_line(out);
  for (size_t i = 0; i < n; i++) add_row(out, &rows[i]);
}

/* ---- JSON ---- */

static void add_models(struct json *json, const struct golf_residual_row *row) {
  json_key_object(json, "models");
  for (int model = 0; model < GOLF_MODELS; model++) {
    struct golf_residual found = golf_residual_of(row, (enum golf_model)model);
    json_key_object(json, golf_model_name((enum golf_model)model));
    json_key_number(json, "measured", found.measured);
    json_key_number(json, "residual", found.residual);
    json_key_bool(json, "meets", found.meets);
    json_key_bool(json, "concerns", found.concerns);
    json_end(json);
  }
  json_end(json);
}

void flight_residuals_json(struct json *json) {
  size_t n;
  const struct golf_residual_row *rows = golf_residual_rows(&n);
  json_object(json);
  json_key_string(json, "schema", "whymiss-residuals");
  json_key_count(json, "schema_version", 1);
  json_key_list(json, "rows");
  for (size_t i = 0; i < n; i++) {
    json_object(json);
    json_key_string(json, "what", rows[i].what);
    json_key_string(json, "unit", rows[i].unit);
    json_key_number(json, "value", rows[i].value);
    json_key_number(json, "low", rows[i].low);
    json_key_number(json, "high", rows[i].high);
    json_key_string(json, "source", rows[i].source);
    json_key_string(json, "status", rows[i].status);
    add_models(json, &rows[i]);
    json_end(json);
  }
  json_end(json);
  json_end(json);
}
