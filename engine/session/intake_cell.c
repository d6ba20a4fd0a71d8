/* One cell: numbers with signs or sides, units, decimal commas; words; clubs. A cell that cannot be
 * understood costs itself alone. */
#include <math.h>
#include <string.h>

#include "session/intake_parts.h"

#define SHOWN_MAX 40 /* bytes of a cell that a message repeats */
#define WORDS_MAX 4

/* ---- telling ---- */

struct span cell_span(struct intake *intake, const struct row *row, const struct cell *cell) {
  struct arena *arena = intake->diags->arena;
  struct source *source = arena_new_object(arena, struct source);
  if (!source) return (struct span){0};
  source->name = intake->name;
  source->bytes = arena_copy(arena, row->bytes, row->n_bytes);
  source->n = row->n_bytes;
  source->first_line = row->line;
  if (!source->bytes) return (struct span){0};
  return (struct span){source, cell->line, cell->column, cell->end_line, cell->end_column};
}

void refuse_table(struct intake *intake, const struct row *row, const struct cell *cell,
                  const char *reason) {
  if (!reason) intake->diags->no_memory = true;
  else DIAG(intake->diags, TABLE_FAULTY, cell_span(intake, row, cell), reason);
}

static void shorten(const struct cell *cell, char shown[SHOWN_MAX + 4]) {
  size_t n = cell->n < SHOWN_MAX ? cell->n : SHOWN_MAX;
  while (n < cell->n && n > 0 && ((unsigned char)cell->text[n] & 0xC0u) == 0x80u) n--;
  memcpy(shown, cell->text, n);
  memcpy(shown + n, n < cell->n ? "..." : "", n < cell->n ? 4 : 1);
}

/* What may be a warning of pain or danger is not left out. */
static void refuse_safety(struct intake *intake, const struct row *row, const struct cell *cell,
                          const struct intake_column *column, const char *reason) {
  char shown[SHOWN_MAX + 4];
  struct text text;
  if (intake->diags->errors >= CELL_FAULTS_MAX) return;
  shorten(cell, shown);
  text_init(&text, intake->diags->arena);
  text_format(&text, "'%s' in column '%s' is not understood, and safety rests on it: %s", shown,
              column->header, reason ? reason : "write yes or no");
  refuse_table(intake, row, cell, text_done(&text));
}

void tell_cell(struct intake *intake, const struct row *row, const struct cell *cell,
               struct intake_column *column, const char *reason) {
  char shown[SHOWN_MAX + 4];
  column->n_bad++;
  intake->n_bad++;
  if (column->use == USE_READINGS && intake->is_safety && intake->is_safety[column->evidence]) {
    refuse_safety(intake, row, cell, column, reason);
    return;
  }
  if (intake->n_told++ >= CELL_FAULTS_MAX) return;
  shorten(cell, shown);
  DIAG(intake->diags, BAD_CELL, cell_span(intake, row, cell), shown, column->header,
       reason ? reason : "it cannot be read");
}

bool cell_is_empty(const struct cell *cell) {
  static const char *const words[] = {"", "-", "--", "---", "n/a", "na", "nan", "null", "none"};
  if (cell->n > 4) return false;
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
    size_t k = 0;
    while (k < cell->n && words[i][k] != '\0' &&
           (cell->text[k] == words[i][k] ||
            (words[i][k] >= 'a' && (cell->text[k] | 0x20) == words[i][k])))
      k++;
    if (k == cell->n && words[i][k] == '\0') return true;
  }
  return false;
}

/* ---- numbers ---- */

/* A cell being read. */
struct scan {
  const char *at, *end;
  double number;
  bool has_number, has_minus;
  const struct golf_unit *unit;
  int side;         /* -1, 1; 0: none named */
  bool handless;    /* the side is a word such as "open", the same to both hands */
  const char *word; /* a word that is neither, n bytes */
  size_t n_word;
};

/* Sets the decimal sign of the table, or refuses the other one. */
static bool decimal_is(struct intake *intake, char sign) {
  if (intake->decimal == 0) intake->decimal = sign;
  return intake->decimal == sign;
}

/* Three digits after each sign, one to three before the first: 1,234,567. */
static bool is_grouped(const char *digits, size_t n, char sign) {
  size_t run = 0, groups = 0;
  for (size_t i = 0; i < n; i++) {
    if (digits[i] != sign) {
      run++;
      continue;
    }
    if (run == 0 || run > 3 || (groups > 0 && run != 3)) return false;
    groups++;
    run = 0;
  }
  return groups > 0 && run == 3;
}

static size_t count_of(const char *text, size_t n, char c) {
  size_t count = 0;
  for (size_t i = 0; i < n; i++) count += text[i] == c;
  return count;
}

/* Copies digits without grouping signs and with a decimal point; NULL, or why that cannot be. */
static const char *copy_digits(struct intake *intake, const char *text, size_t n, char delimiter,
                               char *out) {
  size_t points = count_of(text, n, '.'), commas = count_of(text, n, ',');
  const char *last_point = points ? strrchr(text, '.') : NULL, *last_comma = NULL;
  for (size_t i = 0; i < n; i++) {
    if (text[i] == ',') last_comma = text + i;
    if (text[i] == '.') last_point = text + i;
  }
  char decimal = 0, group = 0;
  if (points && commas) {
    decimal = last_point > last_comma ? '.' : ',';
    group = decimal == '.' ? ',' : '.';
  } else if (commas && (delimiter == ',' || commas > 1)) {
    group = ',';
  } else if (points > 1) {
    group = '.';
  } else if (points || commas) {
    decimal = points ? '.' : ',';
  }
  size_t whole = decimal ? (size_t)((decimal == '.' ? last_point : last_comma) - text) : n;
  if (group && !is_grouped(text, whole, group))
    return group == ',' && delimiter == ','
               ? "a comma here can only part thousands, because it also parts the cells"
               : "its points and commas do not make a number";
  if (decimal && !decimal_is(intake, decimal))
    return decimal == ',' ? "earlier cells have decimal points, this a decimal comma"
                          : "earlier cells have decimal commas, this a decimal point";
  for (size_t i = 0; i < n; i++)
    if (text[i] != group) *out++ = text[i] == decimal ? '.' : text[i];
  *out = '\0';
  return NULL;
}

#define DIGITS_ROOM 40

static bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/* U+2212 or a hyphen. */
static size_t minus_length(const struct scan *scan) {
  if (*scan->at == '-') return 1;
  return scan->end - scan->at >= 3 && memcmp(scan->at, "\xE2\x88\x92", 3) == 0 ? 3 : 0;
}

static const char *take_number(struct intake *intake, struct scan *scan, char delimiter) {
  char digits[DIGITS_ROOM];
  size_t minus = minus_length(scan);
  if (scan->has_number) return "there are two numbers in it";
  scan->at += minus > 0 ? minus : (*scan->at == '+');
  scan->has_minus = minus > 0;
  const char *start = scan->at;
  while (scan->at < scan->end && (is_digit(*scan->at) || *scan->at == '.' || *scan->at == ','))
    scan->at++;
  if (scan->at - start >= DIGITS_ROOM - 8 || scan->at == start) return "it is not a number";
  size_t n = (size_t)(scan->at - start);
  const char *reason = copy_digits(intake, start, n, delimiter, digits);
  if (reason) return reason;
  n = strlen(digits);
  if (number_read(digits, n, &scan->number) != n || !isfinite(scan->number))
    return "it is not a number";
  if (scan->has_minus) scan->number = 0 - scan->number;
  scan->has_number = true;
  return NULL;
}

/* ---- sides ---- */

static bool same_caseless(const char *text, size_t n, const char *word, size_t n_word) {
  if (n != n_word) return false;
  for (size_t i = 0; i < n; i++)
    if ((text[i] | 0x20) != (word[i] | 0x20)) return false;
  return true;
}

/* The first word of "heel side". */
static size_t first_word(const char *words) {
  const char *end = strchr(words, ' ');
  return end ? (size_t)(end - words) : strlen(words);
}

int cell_side(const struct evidence *evidence, const char *text, size_t n) {
  if (!evidence->minus || !evidence->plus || n == 0) return 0;
  const char *sides[] = {evidence->minus, evidence->plus};
  for (int i = 0; i < 2; i++)
    if (same_caseless(text, n, sides[i], first_word(sides[i])) ||
        same_caseless(text, n, sides[i], strlen(sides[i])))
      return i == 0 ? -1 : 1;
  if (n != 1 || (sides[0][0] | 0x20) == (sides[1][0] | 0x20)) return 0;
  return (*text | 0x20) == sides[0][0] ? -1 : (*text | 0x20) == sides[1][0] ? 1 : 0;
}

static const struct number_word *find_word(const struct evidence *evidence, const char *text,
                                           size_t n) {
  for (size_t i = 0; i < evidence->n_words; i++)
    if (same_caseless(text, n, evidence->words[i].name, strlen(evidence->words[i].name)))
      return &evidence->words[i];
  return NULL;
}

static const char *take_word(struct scan *scan, const struct evidence *evidence) {
  const char *start = scan->at;
  while (scan->at < scan->end && *scan->at != ' ' && !is_digit(*scan->at) && *scan->at != '+' &&
         *scan->at != '-')
    scan->at++;
  size_t n = (size_t)(scan->at - start);
  int side = cell_side(evidence, start, n);
  const struct golf_unit *unit = side == 0 ? unit_called(start, n) : NULL;
  if (side != 0 && scan->side != 0) return "it names a side twice";
  if (unit && scan->unit) return "it names a unit twice";
  if (side != 0) scan->side = side;
  else if (unit) scan->unit = unit;
  else if (!scan->word) scan->word = start;
  if (side == 0 && !unit) scan->n_word = (size_t)(scan->at - scan->word);
  return NULL;
}

static const char *scan_cell(struct intake *intake, struct scan *scan,
                             const struct evidence *evidence, char delimiter) {
  const char *reason = NULL;
  while (scan->at < scan->end && !reason) {
    char c = *scan->at;
    if (c == ' ') scan->at++;
    else if (scan->end - scan->at >= 2 && memcmp(scan->at, "\xC2\xA0", 2) == 0) scan->at += 2;
    else if (is_digit(c) || c == '.' || c == ',' || c == '+' || minus_length(scan) > 0)
      reason = take_number(intake, scan, delimiter);
    else reason = take_word(scan, evidence);
  }
  return reason;
}

/* A word beside a number that says which way, such as "2.1 open". */
static bool word_is_side(struct scan *scan, const struct evidence *evidence) {
  const struct number_word *word = find_word(evidence, scan->word, scan->n_word);
  if (!word || word->value == 0 || scan->side != 0) return false;
  scan->side = word->value < 0 ? -1 : 1;
  scan->handless = evidence->mirrored && !word->sided;
  return true;
}

/* A cell of words alone: what the word is worth. */
static const char *word_alone(struct scan *scan, const struct evidence *evidence) {
  const char *text = scan->word;
  size_t n = scan->n_word;
  if (!text && scan->side != 0) {
    text = scan->side < 0 ? evidence->minus : evidence->plus;
    n = first_word(text);
  }
  const struct number_word *word = text ? find_word(evidence, text, n) : NULL;
  if (!word) return scan->side != 0 ? "a side without a number" : "it is not a number";
  scan->number = word->value;
  scan->handless = evidence->mirrored && !word->sided;
  scan->side = 0;
  scan->has_number = true;
  scan->unit = evidence->unit;
  return NULL;
}

static const char *apply_side(struct scan *scan) {
  if (scan->side == 0) return NULL;
  if (scan->has_minus && scan->number != 0) return "it has a minus and a side";
  if (scan->side < 0) scan->number = 0 - scan->number;
  return NULL;
}

/* ---- units and ranges ---- */

static const char *say(struct intake *intake, const char *format, const char *a, const char *b) {
  struct text text;
  text_init(&text, intake->diags->arena);
  text_format(&text, format, a, b);
  return text_done(&text);
}

/* Told once a column: all its cells lack it. */
static void tell_unit(struct intake *intake, struct intake_column *column,
                      const struct evidence *evidence) {
  struct text text;
  text_init(&text, intake->diags->arena);
  text_format(&text, "it names no unit; say it with --unit %s=%s", evidence->name,
              evidence->unit->name);
  for (int i = 0; i < GOLF_UNITS; i++) {
    const struct golf_unit *unit = golf_unit_at((enum golf_unit_index)i);
    if (unit != evidence->unit && golf_unit_convertible(unit, evidence->unit))
      text_format(&text, ", %s", unit->name);
  }
  if (!column->told && text_done(&text))
    DIAG(intake->diags, COLUMN_SKIPPED, column->at, column->header, text_done(&text));
  column->told = true;
}

static const char *range_reason(struct intake *intake, const struct evidence *evidence) {
  struct text text;
  text_init(&text, intake->diags->arena);
  text_format(&text, "the plausible range of %s is ", evidence->title);
  text_number(&text, evidence->low);
  text_add(&text, " to ");
  text_number(&text, evidence->high);
  if (evidence->unit->dimension != GOLF_DIMENSION_NONE)
    text_format(&text, " %s", evidence->unit->name);
  return text_done(&text);
}

/* Whether reasons are still worth wording. */
static bool is_told(const struct intake *intake) {
  return intake->n_told < CELL_FAULTS_MAX;
}

static const char *convert(struct intake *intake, struct scan *scan,
                           const struct evidence *evidence, const struct golf_unit *unit) {
  if (!golf_unit_convertible(unit, evidence->unit))
    return is_told(intake) ? say(intake, "%s is not measured in %s", evidence->title, unit->name)
                           : "";
  scan->number = golf_unit_convert(scan->number, unit, evidence->unit);
  if (intake->hand == HAND_LEFT && scan->handless) scan->number = 0 - scan->number;
  if (scan->number >= evidence->low && scan->number <= evidence->high) return NULL;
  return is_told(intake) ? range_reason(intake, evidence) : "";
}

static bool read_number(struct intake *intake, const struct row *row, const struct cell *cell,
                        struct intake_column *column, char delimiter, double *reading) {
  const struct evidence *evidence = &intake->shots->model->evidence[column->evidence];
  struct scan scan = {.at = cell->text, .end = cell->text + cell->n};
  const char *reason = scan_cell(intake, &scan, evidence, delimiter);
  if (!reason && !scan.has_number) reason = word_alone(&scan, evidence);
  else if (!reason && scan.word && !word_is_side(&scan, evidence)) reason = "it is not a number";
  if (!reason) reason = apply_side(&scan);
  const struct golf_unit *unit = scan.unit ? scan.unit : column->unit;
  if (!reason && !unit) {
    tell_unit(intake, column, evidence);
    return false;
  }
  if (!reason) reason = convert(intake, &scan, evidence, unit);
  if (reason) {
    tell_cell(intake, row, cell, column, reason);
    return false;
  }
  if (!column->unit) column->unit = intake->shots->columns[column->slot].unit = unit;
  *reading = scan.number;
  return true;
}

/* ---- choices and clubs ---- */

/* What else tables write for yes and no. */
static bool is_answer(const struct evidence *evidence, const char *plain, size_t n,
                      double *reading) {
  static const char *const words[2][3] = {{"n", "false", "0"}, {"y", "true", "1"}};
  for (int yes = 0; yes < 2 && evidence->kind == EVIDENCE_YES_NO; yes++)
    for (int i = 0; i < 3; i++)
      if (same_caseless(plain, n, words[yes][i], strlen(words[yes][i]))) {
        *reading = yes;
        return true;
      }
  return false;
}

static bool read_choice(struct intake *intake, const struct row *row, const struct cell *cell,
                        struct intake_column *column, double *reading) {
  const struct evidence *evidence = &intake->shots->model->evidence[column->evidence];
  char plain[PLAIN_ROOM], name[PLAIN_ROOM];
  size_t n = plain_name(plain, cell->text, cell->n);
  for (size_t i = 0; i < evidence->n_choices; i++) {
    const char *choice = evidence->choices[i].name;
    if (n == 0 || plain_name(name, choice, strlen(choice)) != n || memcmp(plain, name, n) != 0)
      continue;
    *reading = (double)i;
    return true;
  }
  if (is_answer(evidence, plain, n, reading)) return true;
  struct text text;
  text_init(&text, intake->diags->arena);
  text_format(&text, "%s is one of", evidence->title);
  for (size_t i = 0; i < evidence->n_choices; i++)
    text_format(&text, "%s %s", i > 0 ? "," : "", evidence->choices[i].name);
  tell_cell(intake, row, cell, column, text_done(&text));
  return false;
}

bool cell_read(struct intake *intake, const struct row *row, const struct cell *cell,
               struct intake_column *column, char delimiter, double *reading) {
  if (cell_is_empty(cell)) return false;
  if (cell->torn) {
    tell_cell(intake, row, cell, column, "there is text behind its closing quote");
    return false;
  }
  enum evidence_kind kind = intake->shots->model->evidence[column->evidence].kind;
  bool read = kind == EVIDENCE_NUMBER ? read_number(intake, row, cell, column, delimiter, reading)
                                      : read_choice(intake, row, cell, column, reading);
  column->n_read += read;
  return read;
}

static bool add_club(struct intake *intake, const char *name, size_t club) {
  char plain[PLAIN_ROOM];
  size_t n = plain_name(plain, name, strlen(name));
  const char *kept = arena_copy(intake->shots->arena, plain, n);
  return kept && names_add(intake->clubs, kept, n, (uint32_t)club) != NAMES_NONE;
}

/* Names and titles, plainly spelt. */
static bool make_clubs(struct intake *intake) {
  const struct model *model = intake->shots->model;
  intake->clubs = names_new(intake->shots->arena);
  if (!intake->clubs) return false;
  for (size_t i = 0; i < model->n_clubs; i++)
    if (!add_club(intake, model->clubs[i].name, i) || !add_club(intake, model->clubs[i].title, i))
      return false;
  return true;
}

size_t cell_club(struct intake *intake, const struct row *row, const struct cell *cell,
                 struct intake_column *column) {
  const struct model *model = intake->shots->model;
  char plain[PLAIN_ROOM];
  if (cell_is_empty(cell)) return intake->club;
  if (!intake->clubs && !make_clubs(intake)) return NO_INDEX;
  size_t n = plain_name(plain, cell->text, cell->n);
  uint32_t club = names_find(model->club_names, cell->text, cell->n);
  if (club == NAMES_NONE) club = names_find(intake->clubs, plain, n);
  if (club == NAMES_NONE) club = names_find(model->club_names, plain, n);
  if (club == NAMES_NONE) {
    n = plain_header(plain, cell->text, cell->n);
    for (size_t i = 0; i < n; i++)
      if (plain[i] == ' ') plain[i] = '_'; /* "Pitching Wedge": pitching_wedge */
    club = names_find(model->club_names, plain, n);
  }
  if (club != NAMES_NONE) {
    column->n_read++;
    return club;
  }
  tell_cell(intake, row, cell, column, "there is no such club; see 'whymiss show clubs'");
  return NO_INDEX;
}
