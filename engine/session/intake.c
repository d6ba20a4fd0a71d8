/* Rows in: before the header, the header, perhaps a row of units, then shots. */
#include "session/intake.h"

#include <math.h>
#include <string.h>

#include "session/intake_parts.h"

bool intake_start(struct intake *intake, struct shots *shots, const char *name,
                  struct diags *diags) {
  *intake = (struct intake){.shots = shots, .diags = diags, .club = NO_INDEX};
  intake->name = arena_copy_string(shots->arena, name);
  return intake->name != NULL;
}

static bool out_of_memory(struct intake *intake) {
  intake->diags->no_memory = true;
  return false;
}

/* ---- the header ---- */

/* Two columns that are understood make a header; so does one, when that is half of them. A row in
 * front of the header may hold an evidence's name by itself, such as "age". */
static bool is_header(struct recognition seen) {
  return seen.known + seen.named >= 2 || (seen.known == 1 && seen.filled <= 2);
}

/* The table as a whole, as a place. */
static struct span no_line(struct intake *intake) {
  struct source *source = arena_new_object(intake->diags->arena, struct source);
  if (source) *source = (struct source){.name = intake->name, .bytes = ""};
  return (struct span){.source = source};
}

static void tell_no_header(struct intake *intake) {
  struct text text;
  text_init(&text, intake->diags->arena);
  text_format(&text, "%zu", intake->n_before);
  const char *words = text_done(&text);
  if (intake->n_before == 0) {
    DIAG(intake->diags, NO_READINGS, no_line(intake), "");
    return;
  }
  DIAG(intake->diags, NO_HEADER, intake->first_row, words ? words : "");
}

static bool before_header(struct intake *intake, const struct row *row) {
  if (is_header(header_recognise(intake, row)))
    return header_take(intake, row) || out_of_memory(intake);
  if (intake->n_before == 0) intake->first_row = cell_span(intake, row, &row->cells[0]);
  if (++intake->n_before < HEADER_ROWS_MAX) return true;
  tell_no_header(intake);
  return false;
}

/* ---- shots ---- */

static const struct cell *first_filled(const struct row *row) {
  for (size_t i = 0; i < row->n; i++)
    if (row->cells[i].n > 0) return &row->cells[i];
  return NULL;
}

/* A row of means, say, or the header once more. Only words are worth matching. */
static bool is_no_shot(struct intake *intake, const struct row *row) {
  const struct cell *first = first_filled(row);
  const struct model *model = intake->shots->model;
  if (!first) return true;
  char c = (char)(*first->text | 0x20);
  if (c < 'a' || c > 'z') return false;
  if (strcmp(row->bytes, intake->header_bytes) == 0) return true;
  char plain[PLAIN_ROOM];
  size_t n = plain_header(plain, first->text, first->n);
  for (size_t i = 0; i < model->n_columns; i++)
    if (model->columns[i].rows &&
        pattern_match(model->columns[i].pattern, plain, n, 0, NULL, 0) == PATTERN_YES)
      return true;
  return false;
}

static void tell_ragged(struct intake *intake, const struct row *row) {
  struct text text;
  size_t filled = row->n;
  while (filled > 0 && row->cells[filled - 1].n == 0) filled--;
  bool more = filled > intake->n_columns;
  if (!more && row->n >= intake->n_columns) return;
  intake->n_ragged++;
  if (intake->n_told++ >= CELL_FAULTS_MAX) return;
  text_init(&text, intake->diags->arena);
  text_format(&text, "%zu", row->n);
  struct text header;
  text_init(&header, intake->diags->arena);
  text_format(&header, "%zu", intake->n_columns);
  const struct cell *cell = &row->cells[more ? intake->n_columns : row->n - 1];
  DIAG(intake->diags, RAGGED_ROW, cell_span(intake, row, cell), text_done(&text),
       text_done(&header), more ? "what is too many is left out" : "what is missing is not known");
}

/* The side of a cell goes to the number in the column before it. */
static void apply_side(struct intake *intake, const struct row *row, size_t i) {
  struct intake_column *column = &intake->columns[i];
  const struct cell *cell = &row->cells[i];
  const struct intake_column *before = i > 0 ? &intake->columns[i - 1] : NULL;
  if (cell_is_empty(cell) || !before || before->use != USE_READINGS) return;
  const struct evidence *evidence = &intake->shots->model->evidence[before->evidence];
  size_t shot = shots_count(intake->shots) - 1;
  double reading = shots_reading(intake->shots, before->slot, shot);
  int side = cell_side(evidence, cell->text, cell->n);
  if (side == 0) {
    tell_cell(intake, row, cell, column, "it is no side of the column before it");
  } else if (reading < 0) {
    tell_cell(intake, row, cell, column, "the number before it has a minus already");
  } else {
    shots_set(intake->shots, before->slot, side < 0 ? 0 - reading : reading);
    column->n_read++;
  }
}

static size_t club_of(struct intake *intake, const struct row *row) {
  for (size_t i = 0; i < intake->n_columns && i < row->n; i++)
    if (intake->columns[i].use == USE_CLUB)
      return cell_club(intake, row, &row->cells[i], &intake->columns[i]);
  return intake->club;
}

/* Who plays, and with which hand: before the cells that are read in the frame of that hand. */
static bool take_player(struct intake *intake, const struct row *row) {
  for (size_t i = 0; i < intake->n_columns && i < row->n; i++) {
    struct intake_column *column = &intake->columns[i];
    if (column->use == USE_HAND && !cell_hand(intake, row, &row->cells[i], column)) return false;
    if (column->use == USE_PLAYER && !cell_player(intake, row, &row->cells[i], column))
      return false;
  }
  return true;
}

static bool gives_nothing(const struct intake_column *column) {
  switch (column->use) {
  case USE_IGNORED:
  case USE_UNKNOWN:
  case USE_AMBIGUOUS:
  case USE_TWICE:
  case USE_MISFIT: return true;
  default: return false;
  }
}

static bool take_shot(struct intake *intake, const struct row *row, char delimiter) {
  struct shots *shots = intake->shots;
  size_t known = 0;
  if (!take_player(intake, row)) return false;
  if (!shots_add(shots, club_of(intake, row), row->line)) return out_of_memory(intake);
  for (size_t i = 0; i < intake->n_columns && i < row->n; i++) {
    struct intake_column *column = &intake->columns[i];
    double reading;
    if (column->use == USE_SIDE) apply_side(intake, row, i);
    if (gives_nothing(column) && !cell_remark(intake, row, &row->cells[i], column))
      return out_of_memory(intake);
    if (column->use != USE_READINGS ||
        !cell_read(intake, row, &row->cells[i], column, delimiter, &reading))
      continue;
    shots_set(shots, column->slot, reading);
    known++;
  }
  if (row->n != intake->n_columns) tell_ragged(intake, row);
  intake->n_empty += known == 0;
  if (intake->first_line == 0) intake->first_line = row->line;
  intake->last_line = row->line;
  return true;
}

static void tell_too_many(struct intake *intake, const struct row *row) {
  struct cell whole = {.line = row->line, .column = 1, .end_line = row->line, .end_column = 2};
  DIAG(intake->diags, TABLE_FAULTY, cell_span(intake, row, &whole),
       "it has more than 1000000 shots");
}

bool intake_row(struct intake *intake, const struct row *row, char delimiter) {
  if (!intake->columns) return before_header(intake, row);
  if (!intake->settled) {
    if (row->line == intake->header_line) return true;
    bool units = header_take_units(intake, row);
    if (!header_settle(intake)) return out_of_memory(intake);
    if (units) return true;
  }
  if (is_no_shot(intake, row)) {
    intake->n_summary++;
    return true;
  }
  if (shots_count(intake->shots) == SHOTS_MAX) {
    tell_too_many(intake, row);
    return false;
  }
  return take_shot(intake, row, delimiter);
}

/* ---- the end ---- */

static void tell_more(struct intake *intake) {
  if (intake->n_told <= CELL_FAULTS_MAX) return;
  struct text text;
  text_init(&text, intake->diags->arena);
  text_format(&text, "%zu", intake->n_told - CELL_FAULTS_MAX);
  if (text_done(&text)) DIAG(intake->diags, MORE_CELLS, no_line(intake), text_done(&text));
}

static bool has_readings(const struct intake *intake) {
  for (size_t i = 0; i < intake->n_columns; i++)
    if (intake->columns[i].use == USE_READINGS && intake->columns[i].n_read > 0) return true;
  return false;
}

bool intake_end(struct intake *intake) {
  if (intake->diags->errors > 0 || intake->diags->no_memory) return false;
  if (!intake->columns) {
    tell_no_header(intake);
    return false;
  }
  if (!intake->settled && !header_settle(intake)) return out_of_memory(intake);
  tell_more(intake);
  if (has_readings(intake)) return true;
  DIAG(intake->diags, NO_READINGS, intake->columns[0].at, NULL);
  return false;
}

static const char *fault_words(enum table_answer answer) {
  switch (answer) {
  case TABLE_UNREADABLE: return "reading failed on the way";
  case TABLE_NO_TEXT: return "it is not UTF-8 text";
  case TABLE_OPEN_QUOTE: return "the quote that opens here is never closed";
  case TABLE_LONG_RECORD: return "this row is longer than 65536 bytes";
  case TABLE_MANY_COLUMNS: return "this row has more than 256 cells";
  case TABLE_ROW:
  case TABLE_END: break;
  }
  return "";
}

void intake_fault(struct intake *intake, enum table_answer answer, const struct row *row) {
  struct span at = cell_span(intake, row, &row->cells[0]);
  DIAG(intake->diags, TABLE_FAULTY, at, fault_words(answer));
}

bool intake_table(struct intake *intake, struct table *table) {
  struct row row;
  enum table_answer answer;
  while ((answer = table_next(table, &row)) == TABLE_ROW)
    if (!intake_row(intake, &row, table_delimiter(table))) return false;
  if (answer != TABLE_END) intake_fault(intake, answer, &row);
  return intake_end(intake);
}
