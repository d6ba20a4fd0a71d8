/* A record is first gathered whole as written, then cut into cells. Invariants: `line` is that of
 * the record being gathered, until it is whole; buffer[from, to) is what was fetched and not yet
 * gathered. */
#include "input/table.h"

#include <string.h>

#define FETCH_ROOM 65536
#define LOOK_RECORDS 20 /* what the delimiter is found from */

struct table {
  table_fetch *fetch;
  void *context;
  char *buffer; /* FETCH_ROOM */
  size_t from, to;
  bool ended, failed;
  bool started;
  char delimiter;
  uint32_t line;
  char *record; /* as written, TABLE_RECORD_MAX and a NUL */
  size_t n;
  char *texts; /* the cells' texts, each with its NUL: never longer than the record and the NULs */
  struct cell *cells;
  enum table_answer answer; /* the final one, or TABLE_ROW */
};

struct table *table_open(struct arena *arena, table_fetch *fetch, void *context) {
  struct table *table = arena_new_object(arena, struct table);
  if (!table) return NULL;
  *table = (struct table){.fetch = fetch, .context = context, .line = 1, .delimiter = ','};
  table->buffer = arena_take(arena, FETCH_ROOM);
  table->record = arena_take(arena, TABLE_RECORD_MAX + 1);
  table->texts = arena_take(arena, TABLE_RECORD_MAX + TABLE_COLUMNS_MAX + 1);
  table->cells = arena_new_array(arena, struct cell, TABLE_COLUMNS_MAX);
  return table->buffer && table->record && table->texts && table->cells ? table : NULL;
}

char table_delimiter(const struct table *table) {
  return table->delimiter;
}

/* ---- fetching ---- */

/* Adds to the buffer; false at the end, on failure, or when the buffer is full. */
static bool fetch_more(struct table *table) {
  if (table->ended || table->to == FETCH_ROOM) return false;
  long got = table->fetch(table->context, table->buffer + table->to, FETCH_ROOM - table->to);
  if (got <= 0) {
    table->ended = true;
    table->failed = got < 0;
    return false;
  }
  table->to += (size_t)got;
  return true;
}

/* The next byte without taking it; false at the end. */
static bool peek(struct table *table, char *c) {
  if (table->from == table->to) {
    table->from = table->to = 0;
    if (!fetch_more(table)) return false;
  }
  *c = table->buffer[table->from];
  return true;
}

/* ---- the delimiter ---- */

static const char candidates[] = {'\t', ';', ','}; /* of equally good ones the first is taken */
#define N_CANDIDATES sizeof candidates

struct look {
  size_t counts[LOOK_RECORDS][N_CANDIDATES]; /* candidates outside quotes, by record */
  size_t n;
};

static bool is_blank(char c) {
  return c == ' ';
}

static bool is_candidate(char c) {
  return memchr(candidates, c, N_CANDIDATES) != NULL;
}

/* Counts in the records of the buffer that are there whole. */
static void look_at(struct look *look, const char *bytes, size_t n, bool ended) {
  size_t counts[N_CANDIDATES] = {0};
  bool quoted = false, cell_start = true, blank = true;
  for (size_t i = 0; i <= n && look->n < LOOK_RECORDS; i++) {
    bool end = i == n ? ended : bytes[i] == '\n' && !quoted;
    if (i == n && !end) break;
    if (end) {
      if (!blank) memcpy(look->counts[look->n++], counts, sizeof counts);
      memset(counts, 0, sizeof counts);
      cell_start = blank = true;
      quoted = false;
      continue;
    }
    char c = bytes[i];
    blank = blank && (is_blank(c) || c == '\r');
    if (c == '"' && (quoted || cell_start)) quoted = !quoted;
    for (size_t k = 0; k < N_CANDIDATES; k++) counts[k] += !quoted && c == candidates[k];
    cell_start = is_candidate(c) || (cell_start && is_blank(c));
  }
}

/* How many records have the most frequent count of the candidate that is not 0. */
static size_t agreement(const struct look *look, size_t candidate) {
  size_t best = 0;
  for (size_t i = 0; i < look->n; i++) {
    size_t same = 0, count = look->counts[i][candidate];
    for (size_t k = 0; k < look->n; k++) same += look->counts[k][candidate] == count;
    if (count > 0 && same > best) best = same;
  }
  return best;
}

/* Looks at what was fetched; a first record that is not there whole counts only when it must. */
static struct look look_over(const struct table *table, bool must) {
  struct look look = {.n = 0};
  look_at(&look, table->buffer + table->from, table->to - table->from, must);
  return look;
}

static void find_delimiter(struct table *table) {
  size_t best = 0;
  struct look look = look_over(table, table->ended);
  if (look.n == 0) look = look_over(table, true);
  for (size_t k = 0; k < N_CANDIDATES; k++) {
    size_t agreed = agreement(&look, k);
    if (agreed > best) table->delimiter = candidates[k];
    if (agreed > best) best = agreed;
  }
}

/* Fetches the first record, passes over the mark of UTF-8 and refuses that of UTF-16. */
static void start(struct table *table) {
  table->started = true;
  while (look_over(table, false).n == 0 && fetch_more(table)) continue;
  const unsigned char *mark = (const unsigned char *)table->buffer;
  if (table->to >= 3 && memcmp(mark, "\xEF\xBB\xBF", 3) == 0) table->from = 3;
  if (table->to >= 2 &&
      ((mark[0] == 0xFF && mark[1] == 0xFE) || (mark[0] == 0xFE && mark[1] == 0xFF)))
    table->answer = TABLE_NO_TEXT;
  else find_delimiter(table);
}

/* ---- one record ---- */

/* Where in a record the gathering is. */
struct gathering {
  bool quoted, cell_start;
  bool closed; /* right behind a closing quote: another one makes a doubled quote of both */
  uint32_t quote_line, quote_column; /* of the quote that is open */
  uint32_t line, column;
};

static void step_quotes(struct gathering *at, char c, char delimiter) {
  bool opens = c == '"' && !at->quoted && (at->cell_start || at->closed);
  bool closes = c == '"' && at->quoted;
  if (opens && at->cell_start) {
    at->quote_line = at->line;
    at->quote_column = at->column;
  }
  at->quoted = opens || (at->quoted && !closes);
  at->closed = closes;
  at->cell_start = !at->quoted && (c == delimiter || (at->cell_start && is_blank(c)));
}

static void step(struct gathering *at, char c, char delimiter) {
  step_quotes(at, c, delimiter);
  if (c == '\n') {
    at->line++;
    at->column = 1;
  } else if (((unsigned char)c & 0xC0u) != 0x80u) {
    at->column++;
  }
}

static enum table_answer fault(struct table *table, struct row *row, enum table_answer answer,
                               uint32_t line, uint32_t column) {
  table->cells[0] = (struct cell){
      .text = "", .line = line, .column = column, .end_line = line, .end_column = column + 1};
  table->record[table->n] = '\0';
  *row = (struct row){.cells = table->cells,
                      .n = 1,
                      .line = table->line,
                      .bytes = table->record,
                      .n_bytes = table->n};
  table->answer = answer;
  return answer;
}

/* Gathers up to the end of the record; TABLE_END when nothing is left. */
static enum table_answer gather(struct table *table, struct row *row) {
  struct gathering at = {.cell_start = true, .line = table->line, .column = 1};
  uint32_t first = table->line;
  bool any = false;
  char c;
  table->n = 0;
  while (peek(table, &c)) {
    any = true;
    table->from++;
    if (c == '\n' && !at.quoted) {
      at.line++;
      break;
    }
    if (c == '\0') return fault(table, row, TABLE_NO_TEXT, at.line, at.column);
    if (table->n == TABLE_RECORD_MAX)
      return at.quoted ? fault(table, row, TABLE_OPEN_QUOTE, at.quote_line, at.quote_column)
                       : fault(table, row, TABLE_LONG_RECORD, first, 1);
    table->record[table->n++] = c;
    step(&at, c, table->delimiter);
  }
  if (table->failed) return fault(table, row, TABLE_UNREADABLE, at.line, at.column);
  if (table->ended && at.quoted && table->from == table->to)
    return fault(table, row, TABLE_OPEN_QUOTE, at.quote_line, at.quote_column);
  if (table->n > 0 && table->record[table->n - 1] == '\r') table->n--;
  table->record[table->n] = '\0';
  table->line = at.line;
  *row = (struct row){.line = first, .bytes = table->record, .n_bytes = table->n};
  return any ? TABLE_ROW : TABLE_END;
}

/* ---- cells ---- */

/* Cutting a record: from is the next byte, out the next place for a text. */
struct cutting {
  const char *bytes;
  size_t n, from;
  uint32_t line, column;
  char delimiter;
  char *out;
};

static char take(struct cutting *cutting) {
  char c = cutting->bytes[cutting->from++];
  if (c == '\n') {
    cutting->line++;
    cutting->column = 1;
  } else if (((unsigned char)c & 0xC0u) != 0x80u) {
    cutting->column++;
  }
  return c;
}

static bool at_delimiter(const struct cutting *cutting) {
  return cutting->from == cutting->n || cutting->bytes[cutting->from] == cutting->delimiter;
}

static void mark_end(const struct cutting *cutting, struct cell *cell) {
  cell->end_line = cutting->line;
  cell->end_column = cutting->column;
}

static void cut_quoted(struct cutting *cutting, struct cell *cell) {
  cell->quoted = true;
  take(cutting);
  while (cutting->from < cutting->n) {
    char c = take(cutting);
    if (c == '"' && (cutting->from == cutting->n || cutting->bytes[cutting->from] != '"')) break;
    if (c == '"') take(cutting);
    *cutting->out++ = c;
  }
  mark_end(cutting, cell);
  while (!at_delimiter(cutting)) {
    char c = take(cutting);
    if (is_blank(c)) continue;
    cell->torn = true;
    *cutting->out++ = c;
    mark_end(cutting, cell);
  }
}

static void cut_plain(struct cutting *cutting, struct cell *cell) {
  char *end = cutting->out;
  mark_end(cutting, cell);
  while (!at_delimiter(cutting)) {
    char c = take(cutting);
    *cutting->out++ = c;
    if (is_blank(c) || c == '\r' || c == '\t') continue;
    end = cutting->out;
    mark_end(cutting, cell);
  }
  cutting->out = end;
}

static void cut_cell(struct cutting *cutting, struct cell *cell) {
  while (!at_delimiter(cutting) && is_blank(cutting->bytes[cutting->from])) take(cutting);
  *cell = (struct cell){.text = cutting->out, .line = cutting->line, .column = cutting->column};
  bool quoted = cutting->from < cutting->n && cutting->bytes[cutting->from] == '"';
  if (quoted) cut_quoted(cutting, cell);
  else cut_plain(cutting, cell);
  cell->n = (size_t)(cutting->out - cell->text);
  *cutting->out++ = '\0';
}

static enum table_answer cut(struct table *table, struct row *row) {
  struct cutting cutting = {.bytes = table->record,
                            .n = table->n,
                            .line = row->line,
                            .column = 1,
                            .delimiter = table->delimiter,
                            .out = table->texts};
  size_t n = 0;
  for (;;) {
    if (n == TABLE_COLUMNS_MAX)
      return fault(table, row, TABLE_MANY_COLUMNS, cutting.line, cutting.column);
    cut_cell(&cutting, &table->cells[n++]);
    if (cutting.from == cutting.n) break;
    take(&cutting);
  }
  row->cells = table->cells;
  row->n = n;
  return TABLE_ROW;
}

static bool is_blank_row(const struct row *row) {
  for (size_t i = 0; i < row->n; i++)
    if (row->cells[i].n > 0) return false;
  return true;
}

enum table_answer table_next(struct table *table, struct row *row) {
  *row = (struct row){.line = table->line, .bytes = ""};
  if (!table->started) start(table);
  if (table->answer != TABLE_ROW) return fault(table, row, table->answer, table->line, 1);
  do {
    enum table_answer answer = gather(table, row);
    if (answer != TABLE_ROW) return table->answer = answer;
    answer = cut(table, row);
    if (answer != TABLE_ROW) return answer;
  } while (is_blank_row(row));
  return TABLE_ROW;
}
