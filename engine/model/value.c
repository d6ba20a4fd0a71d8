/* Values from text. A number may carry a unit and an error: "-5 +/- 1 deg", "88mph", "12 +- 2 mm". */
#include "model/value.h"

#include <math.h>
#include <string.h>

#include "model/reader.h"

/* Where a text is being read: rest is what is still to be read. */
struct scan {
  struct diags *diags;
  struct span at;
  const char *text;
  const char *rest;
  const char *end;
};

static void skip_blanks(struct scan *scan)
{
  while (scan->rest < scan->end && (*scan->rest == ' ' || *scan->rest == '\t'))
    scan->rest++;
}

static const char *copy(struct scan *scan, const char *bytes, size_t n)
{
  const char *string = arena_copy(scan->diags->arena, bytes, n);
  return string ? string : "";
}

static const char *print(struct diags *diags, double number)
{
  char digits[NUMBER_ROOM];
  size_t n = number_print(digits, number);
  const char *string = arena_copy(diags->arena, digits, n);
  return string ? string : "";
}

static const char *print_with_unit(struct diags *diags, double number, const struct golf_unit *unit)
{
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

static bool starts_sign(const struct scan *scan)
{
  size_t left = (size_t)(scan->end - scan->rest);
  return (left >= 3 && memcmp(scan->rest, "+/-", 3) == 0) ||
         (left >= 2 && memcmp(scan->rest, "+-", 2) == 0) ||
         (left >= 2 && memcmp(scan->rest, "\xc2\xb1", 2) == 0);
}

static bool take_plus_minus(struct scan *scan)
{
  skip_blanks(scan);
  if (!starts_sign(scan))
    return false;
  scan->rest += scan->rest[1] == '/' ? 3 : 2;
  skip_blanks(scan);
  return true;
}

static bool take_number(struct scan *scan, double *number)
{
  skip_blanks(scan);
  size_t used = number_read(scan->rest, (size_t)(scan->end - scan->rest), number);
  scan->rest += used;
  return used > 0 && isfinite(*number);
}

static void report_units(struct scan *scan, const char *word)
{
  const char *names[GOLF_UNITS];
  struct text joined;
  text_init(&joined, scan->diags->arena);
  for (int i = 0; i < GOLF_UNITS; i++) {
    names[i] = golf_unit_at((enum golf_unit_index)i)->name;
    text_add(&joined, i ? ", " : "");
    text_add(&joined, names[i]);
  }
  const char *list = text_done(&joined);
  struct diag *diag = DIAG(scan->diags, UNKNOWN_UNIT, scan->at, word, list ? list : "");
  diag_nearest(scan->diags, diag, word, names, GOLF_UNITS);
}

/* A unit up to the end or to a "+/-"; *unit stays NULL when none is written. */
static bool take_unit(struct scan *scan, const char *what, const struct golf_unit *wanted,
                      const struct golf_unit **unit)
{
  skip_blanks(scan);
  const char *start = scan->rest;
  while (scan->rest < scan->end && !starts_sign(scan))
    scan->rest++;
  size_t n = (size_t)(scan->rest - start);
  while (n > 0 && (start[n - 1] == ' ' || start[n - 1] == '\t'))
    n--;
  if (n == 0)
    return true;
  *unit = golf_unit_find(start, n);
  if (*unit == NULL) {
    report_units(scan, copy(scan, start, n));
    return false;
  }
  if (golf_unit_convertible(*unit, wanted))
    return true;
  DIAG(scan->diags, BAD_UNIT, scan->at, (*unit)->name, what,
       wanted->dimension == GOLF_DIMENSION_NONE ? "no unit" : wanted->name);
  return false;
}

struct measured {
  double number, error;
  bool has_error;
};

/* number [unit] [+/- error [unit]]; a unit written once is meant for both. */
static bool take_measured(struct scan *scan, const char *what, const struct golf_unit *wanted,
                          struct measured *measured)
{
  const struct golf_unit *unit = NULL, *error_unit = NULL;
  if (!take_number(scan, &measured->number) || !take_unit(scan, what, wanted, &unit))
    return false;
  measured->has_error = take_plus_minus(scan);
  if (measured->has_error) {
    const char *start = scan->rest;
    if (!take_number(scan, &measured->error) || measured->error < 0) {
      DIAG(scan->diags, BAD_ERROR, scan->at, copy(scan, start, (size_t)(scan->end - start)));
      return false;
    }
    if (!take_unit(scan, what, wanted, &error_unit))
      return false;
  }
  if (unit == NULL)
    unit = error_unit ? error_unit : wanted;
  if (error_unit == NULL)
    error_unit = unit;
  measured->number = golf_unit_convert(measured->number, unit, wanted);
  measured->error = golf_unit_convert_error(measured->error, error_unit, wanted);
  return true;
}

/* Reads the whole text as a measured number. Reports, unless a unit or error was already reported. */
static bool read_measured(struct diags *diags, const char *what, const struct golf_unit *wanted,
                          const char *text, size_t n, struct span at, const char *also,
                          struct measured *measured)
{
  struct scan scan = {diags, at, text, text, text + n};
  size_t before = diags->errors;
  *measured = (struct measured){0, 0, false};
  bool read = take_measured(&scan, what, wanted, measured);
  if (read && scan.rest == scan.end)
    return true;
  if (diags->errors == before)
    DIAG(diags, BAD_NUMBER, at, copy(&scan, text, n), also);
  return false;
}

static bool check_range(struct diags *diags, const struct evidence *evidence, double number,
                        struct span at)
{
  if (number >= evidence->low && number <= evidence->high)
    return true;
  DIAG(diags, OUT_OF_RANGE, at, print_with_unit(diags, number, evidence->unit), evidence->name,
       print(diags, evidence->low), print_with_unit(diags, evidence->high, evidence->unit));
  return false;
}

bool value_read_number(struct diags *diags, const struct evidence *evidence, const char *text,
                       size_t n, struct span at, bool ranged, double *number)
{
  struct measured measured;
  if (!read_measured(diags, evidence->name, evidence->unit, text, n, at, "", &measured))
    return false;
  if (measured.has_error) {
    DIAG(diags, BAD_NUMBER, at, text, "; an error has no place here");
    return false;
  }
  *number = measured.number;
  return !ranged || check_range(diags, evidence, measured.number, at);
}

bool value_read_quantity(struct diags *diags, const char *what, const struct golf_unit *unit,
                         const char *text, size_t n, struct span at, double *number)
{
  struct measured measured;
  if (!read_measured(diags, what, unit, text, n, at, "", &measured))
    return false;
  *number = measured.number;
  return true;
}

static const char *also_words(struct diags *diags, const struct evidence *evidence)
{
  struct text text;
  if (evidence->n_words == 0)
    return "";
  text_init(&text, diags->arena);
  text_add(&text, "; write a number or one of ");
  for (size_t i = 0; i < evidence->n_words; i++) {
    text_add(&text, i ? ", " : "");
    text_add(&text, evidence->words[i].name);
  }
  const char *done = text_done(&text);
  return done ? done : "";
}

static bool starts_like_number(const char *text)
{
  return strchr("+-.0123456789", *text) != NULL && *text != '\0';
}

static void report_word(struct diags *diags, const struct evidence *evidence, const char *text,
                        struct span at, const char *const *words, size_t n)
{
  struct text joined;
  text_init(&joined, diags->arena);
  for (size_t i = 0; i < n; i++) {
    text_add(&joined, i ? ", " : "");
    text_add(&joined, words[i]);
  }
  const char *list = text_done(&joined);
  struct diag *diag =
      DIAG(diags, UNKNOWN_WORD, at, text, evidence->title, list ? list : "");
  diag_nearest(diags, diag, text, words, n);
}

static bool read_number_value(struct diags *diags, const struct evidence *evidence,
                              const char *text, struct span at, struct value *value)
{
  for (size_t i = 0; i < evidence->n_words; i++) {
    if (strcmp(evidence->words[i].name, text) == 0) {
      value->number = evidence->words[i].value;
      value->error = evidence->words[i].error;
      return true;
    }
  }
  if (evidence->n_words > 0 && !starts_like_number(text)) {
    const char **words = arena_new_array(diags->arena, const char *, evidence->n_words);
    for (size_t i = 0; words && i < evidence->n_words; i++)
      words[i] = evidence->words[i].name;
    if (words)
      report_word(diags, evidence, text, at, words, evidence->n_words);
    return false;
  }
  struct measured measured;
  if (!read_measured(diags, evidence->name, evidence->unit, text, strlen(text), at,
                     also_words(diags, evidence), &measured))
    return false;
  value->number = measured.number;
  value->error = measured.has_error ? measured.error : evidence->error;
  return check_range(diags, evidence, value->number, at);
}

static bool read_choice_value(struct diags *diags, const struct model *model,
                              const struct evidence *evidence, const char *text, struct span at,
                              struct value *value)
{
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
  const char **words = arena_new_array(diags->arena, const char *, evidence->n_choices + 1);
  for (size_t i = 0; words && i < evidence->n_choices; i++)
    words[i] = evidence->choices[i].name;
  if (words)
    report_word(diags, evidence, text, at, words, evidence->n_choices);
  return false;
}

bool value_read(struct arena *arena, struct diags *diags, const struct model *model,
                size_t evidence, const char *text, struct span at, struct value *value)
{
  const struct evidence *read = &model->evidence[evidence];
  *value = (struct value){.evidence = evidence, .shots = 1, .sure = 1, .choice = NO_INDEX, .at = at};
  value->typed = arena_copy_string(arena, text);
  if (value->typed == NULL)
    return false;
  switch (read->kind) {
  case EVIDENCE_NUMBER:
    return read_number_value(diags, read, value->typed, at, value);
  case EVIDENCE_TEXT:
    value->text = value->typed;
    return true;
  case EVIDENCE_CHOICE:
  case EVIDENCE_YES_NO:
  case EVIDENCE_CLUB:
    break;
  }
  return read_choice_value(diags, model, read, value->typed, at, value);
}

static bool read_shots(struct diags *diags, const struct node *node, unsigned *shots)
{
  double number = 0;
  size_t used = node->kind == NODE_SCALAR ? number_read(node->text, node->n, &number) : 0;
  if (used > 0 && used == node->n && number >= 1 && number <= 10000 && number == floor(number)) {
    *shots = (unsigned)number;
    return true;
  }
  DIAG(diags, BAD_SHOTS, node->at, node->kind == NODE_SCALAR ? node->text : "this");
  return false;
}

static bool read_error(struct diags *diags, const struct evidence *evidence,
                       const struct node *node, double *error)
{
  struct measured measured;
  if (node->kind == NODE_SCALAR && evidence->kind == EVIDENCE_NUMBER &&
      read_measured(diags, evidence->name, evidence->unit, node->text, node->n, node->at, "",
                    &measured) &&
      measured.number >= 0) {
    *error = golf_unit_convert_error(measured.number, evidence->unit, evidence->unit);
    return true;
  }
  DIAG(diags, BAD_ERROR, node->at, node->kind == NODE_SCALAR ? node->text : "this");
  return false;
}

static bool read_sure(struct diags *diags, const struct node *node, double *sure)
{
  size_t used = node->kind == NODE_SCALAR ? number_read(node->text, node->n, sure) : 0;
  if (used > 0 && used == node->n && *sure > 0 && *sure <= 1)
    return true;
  DIAG(diags, WRONG_SHAPE, node->at, "sure", "a number above 0, at most 1",
       node_describe(diags->arena, node));
  return false;
}

/* {value: 88 mph, error: 0.5 mph, shots: 5, sure: 0.8} */
static bool read_value_map(struct arena *arena, struct diags *diags, const struct model *model,
                           size_t evidence, const struct node *node, struct value *value)
{
  static const char *const keys[] = {"value", "error", "shots", "sure", NULL};
  struct reader reader = {.arena = arena, .diags = diags};
  size_t before = diags->errors;
  reader_check_keys(&reader, node, "a value", keys);
  const struct node *given = node_get(node, "value"), *error = node_get(node, "error");
  const struct node *shots = node_get(node, "shots"), *sure = node_get(node, "sure");
  if (given == NULL || given->kind != NODE_SCALAR) {
    DIAG(diags, MISSING_KEY, node->at, "evidence", model->evidence[evidence].name, "value");
    return false;
  }
  if (!value_read(arena, diags, model, evidence, given->text, given->at, value))
    return false;
  if (error)
    read_error(diags, &model->evidence[evidence], error, &value->error);
  if (shots)
    read_shots(diags, shots, &value->shots);
  if (sure)
    read_sure(diags, sure, &value->sure);
  return diags->errors == before;
}

bool value_read_node(struct arena *arena, struct diags *diags, const struct model *model,
                     size_t evidence, const struct node *node, struct value *value)
{
  if (node->kind == NODE_MAP)
    return read_value_map(arena, diags, model, evidence, node, value);
  if (node->kind == NODE_SCALAR && node->n > 0)
    return value_read(arena, diags, model, evidence, node->text, node->at, value);
  DIAG(diags, WRONG_SHAPE, node->at, model->evidence[evidence].name, "a value",
       node_describe(diags->arena, node));
  return false;
}

struct value value_mirror(const struct model *model, struct value value)
{
  const struct evidence *evidence = &model->evidence[value.evidence];
  if (evidence->kind == EVIDENCE_NUMBER) {
    if (evidence->mirrored)
      value.number = 0 - value.number;
  } else if (evidence->n_choices > 0 && value.choice < evidence->n_choices) {
    value.choice = evidence->choices[value.choice].mirror;
  }
  return value;
}
