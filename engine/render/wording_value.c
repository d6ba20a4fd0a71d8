/* Numbers and readings as a player of the run's hand reads them: unit, side word, error. */
#include "render/wording.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "render/wording_parts.h"

#define DECIMALS_MAX 9

/* ---- numbers ---- */

void wording_trimmed(struct text *out, double x, int decimals) {
  size_t start = out->n;
  text_fixed(out, x, decimals);
  if (out->failed || memchr(out->at + start, '.', out->n - start) == NULL) return;
  while (out->at[out->n - 1] == '0') out->n--;
  if (out->at[out->n - 1] == '.') out->n--;
  out->at[out->n] = '\0';
}

void wording_significant(struct text *out, double x) {
  double decimals = x != 0 ? 6 - floor(log10(fabs(x))) : 0;
  if (decimals > DECIMALS_MAX) text_number(out, x);
  else wording_trimmed(out, x, decimals < 0 ? 0 : (int)decimals);
}

void wording_precise(struct text *out, double x, double error) {
  double digits = error > 0 ? ceil(4 - log10(error)) : INFINITY;
  if (digits > DECIMALS_MAX) text_number(out, x);
  else wording_trimmed(out, x, digits < 4 ? 4 : (int)digits);
}

/* The evidence's decimals are for its own unit; another unit needs more or fewer for the same
 * worth. */
static int decimals_in(const struct evidence *evidence, const struct golf_unit *unit) {
  double factor = golf_unit_convert_error(1, evidence->unit, unit);
  int decimals = evidence->decimals - (int)lround(log10(factor));
  return decimals < 0 ? 0 : decimals > DECIMALS_MAX ? DECIMALS_MAX : decimals;
}

void wording_unit_name(struct text *out, const struct golf_unit *unit) {
  bool bare = unit == NULL || unit->dimension == GOLF_DIMENSION_NONE ||
              unit == golf_unit_base(GOLF_DIMENSION_RATIO);
  if (!bare) text_format(out, " %s", unit->name);
}

static double seen_by(const struct evidence *evidence, double number, enum hand hand) {
  return evidence->mirrored && hand == HAND_LEFT ? -number : number;
}

/* The side word of a number already seen by the player's hand; NULL at zero or without side words.
 */
static const char *side_word(const struct evidence *evidence, double shown, int decimals) {
  if (evidence->minus == NULL || fabs(shown) < 0.5 * pow(10, -decimals)) return NULL;
  return shown < 0 ? evidence->minus : evidence->plus;
}

void wording_size(struct text *out, const struct evidence *evidence, const struct golf_unit *unit,
                  double size) {
  double shown = fabs(golf_unit_convert_error(size, evidence->unit, unit));
  int decimals = decimals_in(evidence, unit);
  while (shown > 0 && decimals < DECIMALS_MAX && shown < 0.95 * pow(10, -decimals)) decimals++;
  text_fixed(out, shown, decimals);
  wording_unit_name(out, unit);
}

void wording_quantity(struct text *out, const struct evidence *evidence,
                      const struct golf_unit *unit, double number, enum hand hand) {
  int decimals = decimals_in(evidence, unit);
  double shown = seen_by(evidence, golf_unit_convert(number, evidence->unit, unit), hand);
  const char *side = side_word(evidence, shown, decimals);
  text_fixed(out, evidence->minus != NULL ? fabs(shown) : shown, decimals);
  wording_unit_name(out, unit);
  if (side != NULL) text_format(out, " %s", side);
}

void wording_number(struct text *out, const struct evidence *evidence, double number,
                    enum hand hand) {
  wording_quantity(out, evidence, evidence->unit, number, hand);
}

/* ---- the unit a player speaks in ---- */

/* The unit at the end of "88 mph", "-5 +/- 1 deg"; NULL when none is written. */
static const struct golf_unit *unit_typed(const char *typed) {
  while (*typed == ' ') typed++;
  double ignored;
  size_t n = number_read(typed, strlen(typed), &ignored);
  if (n == 0) return NULL;
  typed += n;
  while (*typed != '\0' && *typed != '%' && !isalpha((unsigned char)*typed)) typed++;
  size_t length = strcspn(typed, " +,");
  return length != 0 ? golf_unit_find(typed, length) : NULL;
}

static const struct golf_unit *unit_given(const struct run *run, size_t evidence) {
  const struct evidence *about = &run->network->model->evidence[evidence];
  if (about->kind != EVIDENCE_NUMBER || !run->is_given[evidence] ||
      run->values[evidence].typed == NULL)
    return NULL;
  const struct golf_unit *unit = unit_typed(run->values[evidence].typed);
  return unit != NULL && golf_unit_convertible(unit, about->unit) ? unit : NULL;
}

const struct golf_unit *wording_unit(const struct run *run, size_t evidence) {
  const struct model *model = run->network->model;
  const struct golf_unit *own = model->evidence[evidence].unit;
  const struct golf_unit *unit = unit_given(run, evidence);
  for (size_t i = 0; i < model->n_evidence && unit == NULL; i++) {
    if (model->evidence[i].kind == EVIDENCE_NUMBER && model->evidence[i].unit == own)
      unit = unit_given(run, i);
  }
  return unit != NULL ? unit : own;
}

/* ---- readings ---- */

unsigned wording_shots(const struct run *run, size_t evidence) {
  const struct value *given = run->readings[evidence].given;
  if (given == NULL) return 0;
  return given->shots > 1 ? given->shots : run->shots;
}

void wording_choice(struct text *out, const struct model *model, const struct evidence *evidence,
                    size_t choice, enum hand hand) {
  const struct choice *chosen = &evidence->choices[choice];
  if (chosen->title.n != 0) wording_add_plain(out, model, &chosen->title, hand);
  else text_add(out, chosen->name);
}

void wording_value(struct text *out, const struct run *run, size_t evidence) {
  const struct model *model = run->network->model;
  const struct evidence *about = &model->evidence[evidence];
  const struct reading *reading = &run->readings[evidence];
  switch (about->kind) {
  case EVIDENCE_NUMBER:
    wording_quantity(out, about, wording_unit(run, evidence), reading->number, run->hand);
    break;
  case EVIDENCE_TEXT:
    text_add_char(out, '"');
    wording_escape(out, reading->text, strlen(reading->text));
    text_add_char(out, '"');
    break;
  case EVIDENCE_CHOICE:
  case EVIDENCE_YES_NO:
  case EVIDENCE_CLUB: wording_choice(out, model, about, reading->choice, run->hand); break;
  }
}

/* Given as a word ("toe"), not as a number. */
static bool typed_as_word(const struct reading *reading) {
  const char *typed = reading->given != NULL ? reading->given->typed : NULL;
  return typed != NULL && isalpha((unsigned char)typed[0]);
}

/* "toe side, about 15 mm" */
static void add_word_and_worth(struct text *out, const struct run *run, size_t evidence) {
  const struct evidence *about = &run->network->model->evidence[evidence];
  const struct reading *reading = &run->readings[evidence];
  const struct golf_unit *unit = wording_unit(run, evidence);
  double shown = seen_by(about, reading->number, run->hand);
  const char *side = side_word(about, shown, about->decimals);
  if (side != NULL) text_add(out, side);
  else wording_escape(out, reading->given->typed, strlen(reading->given->typed));
  text_add(out, ", about ");
  wording_size(out, about, unit, about->minus != NULL ? fabs(shown) : shown);
}

static void add_number_reading(struct text *out, const struct run *run, size_t evidence) {
  const struct evidence *about = &run->network->model->evidence[evidence];
  const struct reading *reading = &run->readings[evidence];
  if (typed_as_word(reading) && about->minus != NULL) add_word_and_worth(out, run, evidence);
  else wording_value(out, run, evidence);
  if (reading->error <= 0) return;
  const struct golf_unit *unit = wording_unit(run, evidence);
  struct text error;
  text_init(&error, out->arena);
  wording_size(&error, about, unit, reading->error);
  const char *size = text_done(&error);
  if (size == NULL) out->failed = true;
  else text_format(out, " +/- %.*s", (int)strcspn(size, " "), size);
}

void wording_reading(struct text *out, const struct run *run, size_t evidence) {
  const struct reading *reading = &run->readings[evidence];
  if (reading->state == READING_UNKNOWN) {
    text_add(out, "not known");
    return;
  }
  if (run->network->model->evidence[evidence].kind == EVIDENCE_NUMBER) {
    add_number_reading(out, run, evidence);
    return;
  }
  wording_value(out, run, evidence);
  if (reading->sure > 0 && reading->sure < 1) {
    text_add(out, " (");
    wording_trimmed(out, 100 * reading->sure, 0);
    text_add(out, " % sure)");
  }
}

void wording_span(struct text *out, struct span at) {
  if (at.source == NULL) text_add(out, "nowhere");
  else text_format(out, "%s:%u:%u", at.source->name, (unsigned)at.line, (unsigned)at.column);
}
