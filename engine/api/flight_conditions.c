/* Model, wind, temperature and altitude of a flight, from text. */
#include <math.h>
#include <string.h>

#include "api/flight_account.h"
#include "golf/range.h"
#include "model/value.h"

struct wm_conditions wm_conditions_usual(void) {
  return (struct wm_conditions){.model = golf_model_name(GOLF_BLEND),
                                .temperature = NAN,
                                .altitude = 0,
                                .tail_wind = NAN,
                                .cross_wind = NAN};
}

/* One text about the conditions, on its way into the struct. */
struct condition_text {
  struct diags *diags;
  const struct source *source;
};

static const char *with_unit(const struct condition_text *text, double number,
                             const struct golf_unit *unit) {
  struct text words;
  text_init(&words, text->diags->arena);
  text_number(&words, number);
  text_format(&words, " %s", unit->name);
  const char *done = text_done(&words);
  return done ? done : "";
}

static bool read_ranged(const struct condition_text *text, enum golf_quantity quantity,
                        const struct golf_unit *unit, size_t n, double *number) {
  const struct golf_range *range = golf_range_of(quantity);
  const char *typed = arena_copy(text->diags->arena, text->source->bytes, n);
  struct span at = source_part(text->source, 0, n);
  if (!typed) text->diags->no_memory = true;
  if (!typed || !value_read_quantity(text->diags, range->name, unit, typed, n, at, number))
    return false;
  if (golf_range_holds(range, *number)) return true;
  DIAG(text->diags, OUT_OF_RANGE, at, typed, range->name, with_unit(text, range->low, unit),
       with_unit(text, range->high, unit));
  return false;
}

static void read_model(const struct condition_text *text, struct wm_conditions *conditions) {
  const char *names[GOLF_MODELS];
  for (int i = 0; i < GOLF_MODELS; i++) names[i] = golf_model_name((enum golf_model)i);
  int model = golf_model_find(text->source->bytes, text->source->n);
  if (model >= 0) {
    conditions->model = names[model];
    return;
  }
  struct diag *diag = DIAG(text->diags, UNKNOWN_WORD, source_whole(text->source),
                           text->source->bytes, "model of a flight", "blend, smits1994, lyu2018");
  diag_nearest(text->diags, diag, text->source->bytes, names, GOLF_MODELS);
}

/* Where the wind comes from, in deg clockwise from ahead. */
static bool read_from(const struct condition_text *text, size_t from, double *angle) {
  static const struct {
    const char *word;
    double angle;
  } words[] = {{"ahead", 0}, {"right", 90}, {"behind", 180}, {"left", 270}};
  const char *bytes = text->source->bytes + from;
  size_t n = text->source->n - from;
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
    if (strlen(words[i].word) == n && memcmp(words[i].word, bytes, n) == 0) {
      *angle = words[i].angle;
      return true;
    }
  if (n > 0 && number_read(bytes, n, angle) == n && *angle >= -360 && *angle <= 360) return true;
  DIAG(text->diags, UNKNOWN_WORD, source_part(text->source, from, text->source->n),
       n > 0 ? bytes : text->source->bytes, "wind",
       "a speed and where it comes from: ahead, behind, left, right, or degrees clockwise from "
       "ahead, as in \"5 m/s left\"");
  return false;
}

static void read_wind(const struct condition_text *text, struct wm_conditions *conditions) {
  const char *bytes = text->source->bytes;
  size_t from = text->source->n, speed_end;
  double speed, angle;
  while (from > 0 && bytes[from - 1] != ' ') from--;
  for (speed_end = from; speed_end > 0 && bytes[speed_end - 1] == ' ';) speed_end--;
  bool read = read_from(text, speed_end > 0 ? from : text->source->n, &angle);
  if (!read ||
      !read_ranged(text, GOLF_TAIL_WIND, golf_unit_base(GOLF_DIMENSION_SPEED), speed_end, &speed))
    return;
  /* Whole quarters by table, so that a wind from the left has no trace of one from ahead. */
  double turn = fmod(fmod(angle, 360) + 360, 360) * (acos(-1) / 180);
  bool quarter = fmod(angle, 90) == 0;
  conditions->tail_wind = -speed * (quarter ? round(cos(turn)) : cos(turn));
  conditions->cross_wind = -speed * (quarter ? round(sin(turn)) : sin(turn));
}

static void read_condition(const struct condition_text *text, const char *what,
                           struct wm_conditions *conditions) {
  static const char *const names[] = {"model", "wind", "temperature", "altitude"};
  double number;
  if (strcmp(what, "model") == 0) read_model(text, conditions);
  else if (strcmp(what, "wind") == 0) read_wind(text, conditions);
  else if (strcmp(what, "temperature") == 0) {
    if (read_ranged(text, GOLF_TEMPERATURE, golf_unit_base(GOLF_DIMENSION_TEMPERATURE),
                    text->source->n, &number))
      conditions->temperature = number;
  } else if (strcmp(what, "altitude") == 0) {
    if (read_ranged(text, GOLF_ALTITUDE, golf_unit_base(GOLF_DIMENSION_LENGTH), text->source->n,
                    &number))
      conditions->altitude = number;
  } else {
    struct diag *diag =
        DIAG(text->diags, UNKNOWN_NAME, source_whole(text->source), "condition", what);
    diag_nearest(text->diags, diag, what, names, 4);
  }
}

enum wm_status wm_conditions_read(struct wm_conditions *conditions, const char *what,
                                  const char *text, const char *where, wm_diags *diags) {
  struct report report;
  if (!conditions || !what || !text) return WM_USAGE;
  if (!report_open(&report, diags, NULL)) return WM_INTERNAL;
  struct condition_text reading = {
      &report.list, source_copy(report.used->arena, where ? where : what, text, strlen(text))};
  if (reading.source) read_condition(&reading, what, conditions);
  else report.list.no_memory = true;
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}

bool flight_conditions_plausible(const struct wm_conditions *conditions) {
  struct golf_air air = golf_air_standard();
  if (!conditions->model || golf_model_find(conditions->model, strlen(conditions->model)) < 0)
    return false;
  if (!isnan(conditions->temperature)) air.temperature = conditions->temperature;
  if (!isnan(conditions->tail_wind)) air.tail_wind = conditions->tail_wind;
  if (!isnan(conditions->cross_wind)) air.cross_wind = conditions->cross_wind;
  return !golf_air_check(&air) &&
         golf_range_holds(golf_range_of(GOLF_ALTITUDE), conditions->altitude);
}
