/* Values from text. A number may carry a unit and an error: "-5 +/- 1 deg", "88mph", "12 +- 2 mm".
 */
#include "model/value.h"

#include <math.h>
#include <string.h>
#include <strings.h>

#include "model/reader.h"

/* Where a text is being read: rest is what is still to be read. */
struct scan {
  struct diags *diags;
  struct span at;
  const char *text;
  const char *rest;
  const char *end;
};

static void skip_blanks(struct scan *scan) {
  while (scan->rest < scan->end && (*scan->rest == ' ' || *scan->rest == '\t')) scan->rest++;
}

static const char *copy(struct scan *scan, const char *bytes, size_t n) {
  const char *string = arena_copy(scan->diags->arena, bytes, n);
  return string ? string : "";
}

static const char *print(struct diags *diags, double number) {
  char digits[NUMBER_ROOM];
  size_t n = number_print(digits, number);
  const char *string = arena_copy(diags->arena, digits, n);
  return string ? string : "";
}

static const char *print_with_unit(struct diags *diags, double number,
                                   const struct golf_unit *unit) {
  struct text text;
  text_init(&text, diags->arena);
  text_number(&text, number);
  if (unit->dimension != GOLF_DIMENSION_NONE && unit->dimension != GOLF_DIMENSION_RATIO) {
    text_add_char(&text, ' ');
    text_add(&text, unit->name);
  }
  const char *string = text_done(&text);
  return string ? string : "";
}

static bool starts_sign(const struct scan *scan) {
  size_t left = (size_t)(scan->end - scan->rest);
  return (left >= 3 && memcmp(scan->rest, "+/-", 3) == 0) ||
         (left >= 2 && memcmp(scan->rest, "+-", 2) == 0) ||
         (left >= 2 && memcmp(scan->rest, "\xc2\xb1", 2) == 0);
}

static bool take_plus_minus(struct scan *scan) {
  skip_blanks(scan);
  if (!starts_sign(scan)) return false;
  scan->rest += scan->rest[1] == '/' ? 3 : 2;
  skip_blanks(scan);
  return true;
}

static bool take_number(struct scan *scan, double *number) {
  skip_blanks(scan);
  size_t used = number_read(scan->rest, (size_t)(scan->end - scan->rest), number);
  scan->rest += used;
  return used > 0 && isfinite(*number);
}

/* ---- units ---- */

/* Names of the units that can stand for the wanted one, it first; of all when that is NULL. */
static size_t fitting_units(const struct golf_unit *wanted, const char *names[GOLF_UNITS]) {
  size_t n = 0;
  if (wanted) names[n++] = wanted->name;
  for (int i = 0; i < GOLF_UNITS; i++) {
    const struct golf_unit *unit = golf_unit_at((enum golf_unit_index)i);
    if (wanted == NULL || (unit != wanted && golf_unit_convertible(unit, wanted)))
      names[n++] = unit->name;
  }
  return n;
}

static const char *join(struct diags *diags, const char *const *words, size_t n) {
  struct text joined;
  text_init(&joined, diags->arena);
  for (size_t i = 0; i < n; i++) {
    text_add(&joined, i ? ", " : "");
    text_add(&joined, words[i]);
  }
  const char *list = text_done(&joined);
  return list ? list : "";
}

static const char *unit_list(struct diags *diags, const struct golf_unit *wanted) {
  const char *names[GOLF_UNITS];
  if (wanted && wanted->dimension == GOLF_DIMENSION_NONE) return "no unit";
  size_t n = fitting_units(wanted, names);
  return join(diags, names, n);
}

void value_report_unit(struct diags *diags, const struct golf_unit *wanted, const char *word,
                       struct span at) {
  const char *names[GOLF_UNITS];
  size_t n = fitting_units(wanted, names);
  struct diag *diag = DIAG(diags, UNKNOWN_UNIT, at, word, unit_list(diags, wanted));
  diag_nearest(diags, diag, word, names, n);
}

void value_report_misfit(struct diags *diags, const char *what, const struct golf_unit *unit,
                         const struct golf_unit *wanted, struct span at) {
  DIAG(diags, BAD_UNIT, at, unit->name, what, unit_list(diags, wanted));
}

const struct golf_unit *value_club_unit(enum club_field field) {
  static const enum golf_unit_index units[] = {
      [CLUB_NONE] = GOLF_UNIT_NONE, [CLUB_FAMILY] = GOLF_UNIT_NONE, [CLUB_LOFT] = GOLF_UNIT_DEG,
      [CLUB_LENGTH] = GOLF_UNIT_M,  [CLUB_LIE] = GOLF_UNIT_DEG,     [CLUB_HEAD_MASS] = GOLF_UNIT_G,
  };
  return golf_unit_at(units[field]);
}

/* ---- numbers with unit and error ---- */

static struct span place(const struct scan *scan, const char *start, size_t n) {
  return reader_place(scan->at, scan->text, (size_t)(start - scan->text), n);
}

/* A unit up to the end or to a "+/-"; *unit stays NULL when none is written. */
static bool take_unit(struct scan *scan, const char *what, const struct golf_unit *wanted,
                      const struct golf_unit **unit) {
  skip_blanks(scan);
  const char *start = scan->rest;
  while (scan->rest < scan->end && !starts_sign(scan)) scan->rest++;
  size_t n = (size_t)(scan->rest - start);
  while (n > 0 && (start[n - 1] == ' ' || start[n - 1] == '\t')) n--;
  if (n == 0) return true;
  if (*start == ',') /* a decimal comma: no number rather than no unit */
    return false;
  *unit = golf_unit_find(start, n);
  if (*unit == NULL) {
    value_report_unit(scan->diags, wanted, copy(scan, start, n), place(scan, start, n));
    return false;
  }
  if (golf_unit_convertible(*unit, wanted)) return true;
  value_report_misfit(scan->diags, what, *unit, wanted, place(scan, start, n));
  return false;
}

struct measured {
  double number, error;
  bool has_error;
};

/* number [unit] [+/- error [unit]]; a unit written once is meant for both. */
static bool take_measured(struct scan *scan, const char *what, const struct golf_unit *wanted,
                          struct measured *measured) {
  const struct golf_unit *unit = NULL, *error_unit = NULL;
  if (!take_number(scan, &measured->number) || !take_unit(scan, what, wanted, &unit)) return false;
  measured->has_error = take_plus_minus(scan);
  if (measured->has_error) {
    const char *start = scan->rest;
    size_t n = (size_t)(scan->end - start);
    if (!take_number(scan, &measured->error) || measured->error < 0) {
      DIAG(scan->diags, BAD_ERROR, place(scan, start, n), copy(scan, start, n));
      return false;
    }
    if (!take_unit(scan, what, wanted, &error_unit)) return false;
  }
  if (unit == NULL) unit = error_unit ? error_unit : wanted;
  if (error_unit == NULL) error_unit = unit;
  measured->number = golf_unit_convert(measured->number, unit, wanted);
  measured->error = golf_unit_convert_error(measured->error, error_unit, wanted);
  return isfinite(measured->number) && isfinite(measured->error);
}

/* What to write instead of what is no number. */
static const char *number_advice(struct diags *diags, const struct golf_unit *unit) {
  const char *names[GOLF_UNITS];
  struct text text;
  size_t n = fitting_units(unit, names);
  if (unit->dimension == GOLF_DIMENSION_NONE || n < 2) return "";
  text_init(&text, diags->arena);
  text_format(&text, "; write a number in %s, or with its unit: %s", unit->name,
              join(diags, names + 1, n - 1));
  const char *done = text_done(&text);
  return done ? done : "";
}

/* Reads the whole text as a measured number. Reports, unless a unit or error was already reported.
 */
static bool read_measured(struct diags *diags, const char *what, const struct golf_unit *wanted,
                          const char *text, size_t n, struct span at, struct measured *measured) {
  struct scan scan = {diags, at, text, text, text + n};
  size_t before = diags->errors;
  *measured = (struct measured){0, 0, false};
  bool read = take_measured(&scan, what, wanted, measured);
  if (read && scan.rest == scan.end) return true;
  if (diags->errors == before)
    DIAG(diags, BAD_NUMBER, at, copy(&scan, text, n),
         memchr(text, ',', n) ? "; decimals stand behind a point" : number_advice(diags, wanted));
  return false;
}

static bool check_range(struct diags *diags, const struct evidence *evidence, double number,
                        struct span at) {
  if (evidence->low >= evidence->high) return true; /* a faulty range has been told */
  if (number >= evidence->low && number <= evidence->high) return true;
  DIAG(diags, OUT_OF_RANGE, at, print_with_unit(diags, number, evidence->unit), evidence->name,
       print(diags, evidence->low), print_with_unit(diags, evidence->high, evidence->unit));
  return false;
}

bool value_read_number(struct diags *diags, const struct evidence *evidence, const char *text,
                       size_t n, struct span at, bool ranged, double *number) {
  return value_read_quantity(diags, evidence->name, evidence->unit, text, n, at, number) &&
         (!ranged || check_range(diags, evidence, *number, at));
}

bool value_read_quantity(struct diags *diags, const char *what, const struct golf_unit *unit,
                         const char *text, size_t n, struct span at, double *number) {
  struct measured measured;
  if (!read_measured(diags, what, unit, text, n, at, &measured)) return false;
  if (measured.has_error) {
    DIAG(diags, BAD_NUMBER, at, text, "; an error has no place here");
    return false;
  }
  *number = measured.number;
  return true;
}

static bool starts_like_number(const char *text) {
  return strchr("+-.0123456789", *text) != NULL && *text != '\0';
}

static void report_word(struct diags *diags, const struct evidence *evidence, const char *text,
                        struct span at, const char *const *words, size_t n) {
  struct text allowed;
  text_init(&allowed, diags->arena);
  text_add(&allowed, evidence->kind == EVIDENCE_NUMBER ? "a number, " : "");
  text_add(&allowed, join(diags, words, n));
  const char *list = text_done(&allowed);
  struct diag *diag = DIAG(diags, UNKNOWN_WORD, at, text, evidence->title, list ? list : "");
  diag_nearest(diags, diag, text, words, n);
}

/* "nan", "-inf" and the like, as other programs print what they could not compute. */
static bool is_not_finite(const char *text, double *number) {
  static const char *const words[] = {"nan", "inf", "infinity"};
  const char *word = text + (*text == '-' || *text == '+');
  *number = strncasecmp(word, "nan", 3) == 0 ? NAN : *text == '-' ? -INFINITY : INFINITY;
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
    if (strcasecmp(word, words[i]) == 0) return true;
  return false;
}

static bool read_number_value(struct diags *diags, const struct evidence *evidence,
                              const char *text, struct span at, struct value *value) {
  for (size_t i = 0; i < evidence->n_words; i++) {
    if (strcmp(evidence->words[i].name, text) == 0) {
      value->number = evidence->words[i].value;
      value->error = evidence->words[i].error;
      value->handless = evidence->mirrored && !evidence->words[i].sided;
      return true;
    }
  }
  if (is_not_finite(text, &value->number)) return check_range(diags, evidence, value->number, at);
  if (evidence->n_words > 0 && !starts_like_number(text)) {
    const char **words = arena_new_array(diags->arena, const char *, evidence->n_words);
    for (size_t i = 0; words && i < evidence->n_words; i++) words[i] = evidence->words[i].name;
    if (words) report_word(diags, evidence, text, at, words, evidence->n_words);
    return false;
  }
  struct measured measured;
  if (!read_measured(diags, evidence->name, evidence->unit, text, strlen(text), at, &measured))
    return false;
  value->number = measured.number;
  value->error = measured.has_error ? measured.error : evidence->error;
  return check_range(diags, evidence, value->number, at);
}

static bool read_choice_value(struct diags *diags, const struct model *model,
                              const struct evidence *evidence, const char *text, struct span at,
                              struct value *value) {
  if (evidence->kind == EVIDENCE_CLUB) {
    uint32_t club = names_find(model->club_names, text, strlen(text));
    if (club != NAMES_NONE) {
      value->choice = club;
      return true;
    }
  }
  for (size_t i = 0; i < evidence->n_choices; i++) {
    if (strcmp(evidence->choices[i].name, text) == 0) {
      value->choice = i;
      return true;
    }
  }
  if (evidence->n_choices == 0 && evidence->kind == EVIDENCE_CHOICE)
    return false; /* that it has no words has been told */
  const char **words = arena_new_array(diags->arena, const char *, evidence->n_choices + 1);
  for (size_t i = 0; words && i < evidence->n_choices; i++) words[i] = evidence->choices[i].name;
  if (words) report_word(diags, evidence, text, at, words, evidence->n_choices);
  return false;
}

bool value_read(struct arena *arena, struct diags *diags, const struct model *model,
                size_t evidence, const char *text, struct span at, struct value *value) {
  const struct evidence *read = &model->evidence[evidence];
  *value = (struct value){.evidence = evidence, .sure = 1, .choice = NO_INDEX, .at = at};
  value->typed = arena_copy_string(arena, text);
  if (value->typed == NULL) return false;
  switch (read->kind) {
  case EVIDENCE_NUMBER: return read_number_value(diags, read, value->typed, at, value);
  case EVIDENCE_TEXT: value->text = value->typed; return true;
  case EVIDENCE_CHOICE:
  case EVIDENCE_YES_NO:
  case EVIDENCE_CLUB: break;
  }
  return read_choice_value(diags, model, read, value->typed, at, value);
}

static void read_shots(struct diags *diags, const struct node *node, unsigned *shots) {
  double number = 0;
  size_t used = node->kind == NODE_SCALAR ? number_read(node->text, node->n, &number) : 0;
  if (used > 0 && used == node->n && number >= 1 && number <= 10000 && number == floor(number)) {
    *shots = (unsigned)number;
    return;
  }
  DIAG(diags, BAD_SHOTS, node->at, node->kind == NODE_SCALAR ? node->text : "this");
}

/* A number, perhaps with its unit, read as the error of an exact 0, so that the zero of a unit
 * plays no part. */
static bool take_error(struct diags *diags, const struct evidence *evidence,
                       const struct node *node, struct measured *measured) {
  struct text text;
  text_init(&text, diags->arena);
  text_format(&text, "0 +/- %s", node->text);
  return text_done(&text) && read_measured(diags, evidence->name, evidence->unit, text_done(&text),
                                           text.n, node->at, measured);
}

static void read_error(struct diags *diags, const struct evidence *evidence,
                       const struct node *node, double *error) {
  struct measured measured;
  if (evidence->kind != EVIDENCE_NUMBER) {
    DIAG(diags, WRONG_KIND, node->key_at, evidence->name, evidence_kind_word(evidence->kind),
         "only a number has an error");
    return;
  }
  if (node->kind != NODE_SCALAR) DIAG(diags, BAD_ERROR, node->at, "this");
  else if (take_error(diags, evidence, node, &measured)) *error = measured.error;
}

static void read_sure(struct reader *reader, const struct evidence *evidence,
                      const struct node *node, double *sure) {
  size_t used = node->kind == NODE_SCALAR ? number_read(node->text, node->n, sure) : 0;
  if (evidence->kind == EVIDENCE_NUMBER || evidence->kind == EVIDENCE_TEXT)
    DIAG(reader->diags, WRONG_KIND, node->key_at, evidence->name,
         evidence_kind_word(evidence->kind), "only a choice is more or less sure");
  else if (!(used > 0 && used == node->n && *sure > 0 && *sure <= 1))
    reader_wrong_shape(reader, node, "a number above 0, at most 1");
}

/* {value: 88 mph, error: 0.5 mph, shots: 5, sure: 0.8} */
static bool read_value_map(struct arena *arena, struct diags *diags, const struct model *model,
                           size_t evidence, const struct node *node, struct value *value) {
  struct reader reader = {.arena = arena, .diags = diags};
  size_t before = diags->errors;
  reader_check_keys(&reader, node, "a value", KEYS_VALUE);
  const struct node *given = node_get(node, "value"), *error = node_get(node, "error");
  const struct node *shots = node_get(node, "shots"), *sure = node_get(node, "sure");
  if (given == NULL)
    DIAG(diags, MISSING_KEY, node->at, "evidence", model->evidence[evidence].name, "value");
  if (reader_string(&reader, given) == NULL) return false;
  if (!value_read(arena, diags, model, evidence, given->text, given->at, value)) return false;
  if (error) read_error(diags, &model->evidence[evidence], error, &value->error);
  if (shots) read_shots(diags, shots, &value->shots);
  if (sure) read_sure(&reader, &model->evidence[evidence], sure, &value->sure);
  return diags->errors == before;
}

bool value_read_node(struct arena *arena, struct diags *diags, const struct model *model,
                     size_t evidence, const struct node *node, struct value *value) {
  if (node->kind == NODE_MAP) return read_value_map(arena, diags, model, evidence, node, value);
  if (node->kind == NODE_SCALAR && node->n > 0)
    return value_read(arena, diags, model, evidence, node->text, node->at, value);
  struct reader reader = {.arena = arena, .diags = diags};
  reader_wrong_shape(&reader, node, "a value");
  return false;
}

struct value value_mirror(const struct model *model, struct value value) {
  const struct evidence *evidence = &model->evidence[value.evidence];
  if (evidence->kind == EVIDENCE_NUMBER) {
    if (evidence->mirrored && !value.handless) value.number = 0 - value.number;
  } else if (evidence->n_choices > 0 && value.choice < evidence->n_choices) {
    value.choice = evidence->choices[value.choice].mirror;
  }
  return value;
}
