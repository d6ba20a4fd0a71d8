/* The header: which column is what, and in which unit. */
#include <ctype.h>
#include <string.h>

#include "session/intake_parts.h"

/* ---- plain spelling ---- */

static bool is_lower(char c) {
  return c >= 'a' && c <= 'z';
}

static bool is_upper(char c) {
  return c >= 'A' && c <= 'Z';
}

static bool is_word(char c) {
  return is_lower(c) || is_upper(c) || (c >= '0' && c <= '9') || c == '#' || (c & 0x80);
}

static char small(char c) {
  return is_upper(c) ? (char)(c | 0x20) : c;
}

/* The bytes of UTF-8's degree sign and non-breaking blank part words too. */
static bool is_word_at(const char *text, size_t i) {
  if ((unsigned char)text[i] == 0xC2 &&
      ((unsigned char)text[i + 1] == 0xA0 || (unsigned char)text[i + 1] == 0xB0))
    return false;
  bool tail = i > 0 && (unsigned char)text[i - 1] == 0xC2 &&
              ((unsigned char)text[i] == 0xA0 || (unsigned char)text[i] == 0xB0);
  return is_word(text[i]) && !tail;
}

size_t plain_header(char out[PLAIN_ROOM], const char *text, size_t n) {
  bool apart = false;
  size_t used = 0;
  for (size_t i = 0; i < n; i++) {
    if (!is_word_at(text, i)) {
      apart = true;
      continue;
    }
    apart = apart || (i > 0 && is_upper(text[i]) && is_lower(text[i - 1]));
    if (used + 2 >= PLAIN_ROOM) return 0;
    if (apart && used > 0) out[used++] = ' ';
    apart = false;
    out[used++] = small(text[i]);
  }
  return used;
}

size_t plain_name(char out[PLAIN_ROOM], const char *text, size_t n) {
  size_t used = 0;
  for (size_t i = 0; i < n; i++) {
    if (!is_word_at(text, i)) continue;
    if (used == PLAIN_ROOM) return 0;
    out[used++] = small(text[i]);
  }
  return used;
}

/* ---- units ---- */

#define UNIT_ROOM 16

const struct golf_unit *unit_called(const char *text, size_t n) {
  char lower[UNIT_ROOM];
  while (n > 0 && (*text == ' ' || *text == '.')) text++, n--;
  while (n > 0 && (text[n - 1] == ' ' || text[n - 1] == '.')) n--;
  const struct golf_unit *unit = golf_unit_find(text, n);
  if (unit || n == 0 || n >= UNIT_ROOM) return unit;
  for (size_t i = 0; i < n; i++) lower[i] = small(text[i]);
  return golf_unit_find(lower, n);
}

/* A header cut into its words and, in brackets or as its last word, its unit. */
struct cut_header {
  size_t n;        /* bytes of the words in front */
  size_t from, to; /* of the unit; equal: none */
  const struct golf_unit *unit;
};

static struct cut_header cut_bracket(const char *text, size_t n) {
  struct cut_header cut = {.n = n};
  while (n > 0 && text[n - 1] == ' ') n--;
  if (n < 2 || (text[n - 1] != ')' && text[n - 1] != ']')) return cut;
  char open = text[n - 1] == ')' ? '(' : '[';
  for (size_t i = n - 1; i-- > 0;) {
    if (text[i] != open) continue;
    cut.unit = unit_called(text + i + 1, n - i - 2);
    if (cut.unit) cut = (struct cut_header){i, i + 1, n - 1, cut.unit};
    break;
  }
  return cut;
}

static struct cut_header cut_last_word(const char *text, size_t n) {
  struct cut_header cut = {.n = n};
  size_t i = n;
  while (i > 0 && text[i - 1] != ' ' && text[i - 1] != ',' && text[i - 1] != '_') i--;
  if (i == 0) return cut;
  cut.unit = unit_called(text + i, n - i);
  if (cut.unit) cut = (struct cut_header){i, i, n, cut.unit};
  return cut;
}

/* ---- what a column means ---- */

/* What a header was found to mean. */
struct meaning {
  enum column_use use;
  size_t evidence; /* or NO_INDEX */
  const struct golf_unit *usual;
  bool by_entry; /* an entry of the knowledge matches it, not only a name */
};

static const struct meaning nothing = {.use = USE_UNKNOWN, .evidence = NO_INDEX};

static enum column_use use_of_evidence(const struct intake *intake, size_t evidence) {
  return evidence == intake->shots->model->club_evidence ? USE_CLUB : USE_READINGS;
}

/* Entries of these names say more than that a column gives no reading; knowledge without them goes
 * without. */
static enum column_use use_of_ignored(const struct column *entry) {
  if (strcmp(entry->name, "player") == 0) return USE_PLAYER;
  return strcmp(entry->name, "hand") == 0 ? USE_HAND : USE_IGNORED;
}

static enum column_use use_of(const struct intake *intake, const struct column *entry) {
  switch (entry->means) {
  case COLUMN_IGNORE: return use_of_ignored(entry);
  case COLUMN_SHOT: return USE_SHOT;
  case COLUMN_SIDE: return USE_SIDE;
  case COLUMN_EVIDENCE: break;
  }
  return use_of_evidence(intake, entry->evidence);
}

/* The entry whose pattern matches; ambiguous when another does too. A pattern that gives up does
 * not match. */
static struct meaning find_entry(struct intake *intake, const char *text, size_t n) {
  const struct model *model = intake->shots->model;
  struct meaning found = nothing;
  char plain[PLAIN_ROOM];
  size_t used = plain_header(plain, text, n);
  for (size_t i = 0; i < model->n_columns; i++) {
    const struct column *column = &model->columns[i];
    if (column->rows || used == 0 ||
        pattern_match(column->pattern, plain, used, 0, NULL, 0) != PATTERN_YES)
      continue;
    if (found.by_entry) found.use = USE_AMBIGUOUS;
    else found = (struct meaning){use_of(intake, column), column->evidence, column->unit, true};
  }
  return found;
}

static bool is_called(const char *name, const char *plain, size_t n) {
  char other[PLAIN_ROOM];
  return plain_name(other, name, strlen(name)) == n && memcmp(other, plain, n) == 0;
}

/* The evidence of that name, or of another name for it, however its words are parted. */
static size_t find_name(const struct model *model, const char *plain, size_t n) {
  size_t place = 0;
  uint32_t evidence;
  const char *name;
  while ((name = names_next(model->evidence_names, &place, &evidence)) != NULL)
    if (is_called(name, plain, n)) return evidence;
  return NO_INDEX;
}

/* A column headed by the name of an evidence, else by its title, is that evidence. Angles are in
 * degrees, plain numbers have no unit; other numbers must name theirs. */
static struct meaning find_named(struct intake *intake, const char *text, size_t n) {
  const struct model *model = intake->shots->model;
  char plain[PLAIN_ROOM];
  size_t used = plain_name(plain, text, n), evidence;
  if (used == 0) return nothing;
  evidence = find_name(model, plain, used);
  for (size_t i = 0; i < model->n_evidence && evidence == NO_INDEX; i++)
    if (is_called(model->evidence[i].title, plain, used)) evidence = i;
  if (evidence == NO_INDEX || model->evidence[evidence].kind == EVIDENCE_TEXT) return nothing;
  const struct golf_unit *unit = model->evidence[evidence].unit;
  bool plainly =
      unit && (unit->dimension == GOLF_DIMENSION_ANGLE || unit->dimension == GOLF_DIMENSION_NONE);
  return (struct meaning){use_of_evidence(intake, evidence), evidence, plainly ? unit : NULL,
                          false};
}

static struct meaning find_meaning(struct intake *intake, const char *text, size_t n) {
  struct meaning found = find_entry(intake, text, n);
  return found.use == USE_UNKNOWN ? find_named(intake, text, n) : found;
}

static struct meaning understand(struct intake *intake, const struct cell *cell,
                                 struct cut_header *cut) {
  *cut = cut_bracket(cell->text, cell->n);
  struct meaning means = find_meaning(intake, cell->text, cut->n);
  if (means.use != USE_UNKNOWN || cut->unit) return means;
  *cut = cut_last_word(cell->text, cell->n);
  return cut->unit ? find_meaning(intake, cell->text, cut->n) : nothing;
}

struct recognition header_recognise(struct intake *intake, const struct row *row) {
  struct recognition seen = {0, 0, 0};
  for (size_t i = 0; i < row->n; i++) {
    struct cut_header cut;
    if (row->cells[i].n == 0) continue;
    seen.filled++;
    struct meaning means = understand(intake, &row->cells[i], &cut);
    seen.known += means.by_entry && means.evidence != NO_INDEX;
    seen.named += !means.by_entry && means.evidence != NO_INDEX;
  }
  return seen;
}

static struct intake_column take_column(struct intake *intake, const struct row *row, size_t i) {
  struct arena *arena = intake->shots->arena;
  const struct cell *cell = &row->cells[i];
  struct cut_header cut = {.n = 0};
  struct meaning means = cell->n > 0 ? understand(intake, cell, &cut) : nothing;
  struct intake_column column = {.header = arena_copy(arena, cell->text, cell->n),
                                 .at = cell_span(intake, row, cell),
                                 .use = means.use,
                                 .evidence = means.evidence,
                                 .usual = means.usual};
  if (!column.header) column.header = "";
  if (means.use != USE_UNKNOWN && cut.unit) {
    column.unit = cut.unit;
    column.unit_from = UNIT_HEADER;
    column.unit_written = arena_copy(arena, cell->text + cut.from, cut.to - cut.from);
  }
  return column;
}

bool header_take(struct intake *intake, const struct row *row) {
  struct arena *arena = intake->shots->arena;
  intake->columns = arena_new_array(arena, struct intake_column, row->n);
  intake->header_bytes = arena_copy(arena, row->bytes, row->n_bytes);
  intake->header_line = row->line;
  if (!intake->columns || !intake->header_bytes) return false;
  for (size_t i = 0; i < row->n; i++) intake->columns[i] = take_column(intake, row, i);
  intake->n_columns = row->n;
  return true;
}

/* "deg", "[deg]", "(mph)" */
static const struct golf_unit *unit_cell(const struct cell *cell) {
  const char *text = cell->text;
  size_t n = cell->n;
  if (n >= 2 && ((text[0] == '(' && text[n - 1] == ')') || (text[0] == '[' && text[n - 1] == ']')))
    text++, n -= 2;
  return unit_called(text, n);
}

bool header_take_units(struct intake *intake, const struct row *row) {
  size_t filled = 0;
  for (size_t i = 0; i < row->n; i++) {
    if (cell_is_empty(&row->cells[i])) continue;
    filled++;
    if (!unit_cell(&row->cells[i])) return false;
  }
  if (filled == 0) return false;
  for (size_t i = 0; i < row->n && i < intake->n_columns; i++) {
    struct intake_column *column = &intake->columns[i];
    if (column->unit || row->cells[i].n == 0) continue;
    column->unit = unit_cell(&row->cells[i]);
    column->unit_from = UNIT_ROW;
    column->unit_written = arena_copy(intake->shots->arena, row->cells[i].text, row->cells[i].n);
  }
  return true;
}

/* ---- deciding ---- */

static const char *known_units(struct intake *intake, const struct evidence *evidence) {
  struct text text;
  text_init(&text, intake->diags->arena);
  for (int i = 0; i < GOLF_UNITS; i++) {
    const struct golf_unit *unit = golf_unit_at((enum golf_unit_index)i);
    if (!golf_unit_convertible(unit, evidence->unit)) continue;
    text_add(&text, text.n > 0 ? ", " : "");
    text_add(&text, unit->name);
  }
  const char *done = text_done(&text);
  return done ? done : "";
}

static void skip_column(struct intake *intake, struct intake_column *column, enum column_use use,
                        const char *reason) {
  column->use = use;
  if (reason) DIAG(intake->diags, COLUMN_SKIPPED, column->at, column->header, reason);
}

static const char *misfit_reason(struct intake *intake, const struct intake_column *column,
                                 const struct evidence *evidence) {
  struct text text;
  text_init(&text, intake->diags->arena);
  text_format(&text, "%s is not in %s; known are %s", evidence->title,
              column->unit_written ? column->unit_written : column->unit->name,
              known_units(intake, evidence));
  return text_done(&text);
}

/* The unit asked for goes before the one that is usual; what the table itself says goes before
 * both. */
static void settle_unit(struct intake *intake, struct intake_column *column) {
  const struct evidence *evidence = &intake->shots->model->evidence[column->evidence];
  if (evidence->kind != EVIDENCE_NUMBER) {
    column->unit = NULL;
    return;
  }
  for (size_t i = 0; i < intake->n_units && !column->unit; i++)
    if (intake->units[i].evidence == column->evidence) {
      column->unit = intake->units[i].unit;
      column->unit_from = UNIT_ASKED;
    }
  if (!column->unit && column->usual) {
    column->unit = column->usual;
    column->unit_from = UNIT_USUAL;
  }
  if (column->unit && !golf_unit_convertible(column->unit, evidence->unit))
    skip_column(intake, column, USE_MISFIT, misfit_reason(intake, column, evidence));
}

static bool is_taken(const struct intake *intake, const struct intake_column *column) {
  for (const struct intake_column *other = intake->columns; other < column; other++)
    if (other->use == column->use && other->evidence == column->evidence) return true;
  return false;
}

/* Of two columns on the same safety neither may be passed over. */
static void refuse_twice(struct intake *intake, const struct intake_column *column) {
  struct text text;
  text_init(&text, intake->diags->arena);
  text_format(&text, "two columns say '%s', on which safety rests; keep one",
              intake->shots->model->evidence[column->evidence].title);
  const char *reason = text_done(&text);
  if (reason) DIAG(intake->diags, TABLE_FAULTY, column->at, reason);
  else intake->diags->no_memory = true;
}

static void settle_column(struct intake *intake, struct intake_column *column) {
  if (column->use == USE_AMBIGUOUS)
    skip_column(intake, column, USE_AMBIGUOUS, "two entries of the knowledge match it");
  if (column->use == USE_READINGS) settle_unit(intake, column);
  if ((column->use != USE_READINGS && column->use != USE_CLUB) || !is_taken(intake, column)) return;
  if (intake->is_safety && intake->is_safety[column->evidence]) refuse_twice(intake, column);
  skip_column(intake, column, USE_TWICE, "an earlier column says the same");
}

bool header_settle(struct intake *intake) {
  struct shots *shots = intake->shots;
  shots->columns = arena_new_array(shots->arena, struct shot_column, intake->n_columns + 1);
  if (!shots->columns) return false;
  for (size_t i = 0; i < intake->n_columns; i++) {
    struct intake_column *column = &intake->columns[i];
    settle_column(intake, column);
    if (column->use != USE_READINGS) continue;
    column->slot = shots->n_columns++;
    shots->columns[column->slot].evidence = column->evidence;
    shots->columns[column->slot].unit = column->unit;
  }
  intake->settled = true;
  return true;
}
