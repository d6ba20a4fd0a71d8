/* Untrusted delimited text in, rows of cells with positions out (RFC 4180, and a little more).
 * Reads record by record through a fetching function, in constant memory; finds out the delimiter
 * (comma, semicolon or tab) from the first records. Accepts LF and CRLF, a byte order mark, quoted
 * cells with line breaks and doubled quotes, rows of any length up to the limits. Does not know
 * what cells mean: numbers, decimal commas and headers are session/'s. The table and its rows live
 * in the arena given; a row is good until the next is asked for. One thread. */
#ifndef WM_INPUT_TABLE_H
#define WM_INPUT_TABLE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"

#define TABLE_COLUMNS_MAX 256
#define TABLE_RECORD_MAX 65536 /* bytes of a record as written */

struct table;

/* Puts up to room bytes into bytes: how many; 0 at the end; negative when reading failed. May give
 * fewer than there is room for, as a pipe does. */
typedef long table_fetch(void *context, char *bytes, size_t room);

struct cell {
  const char *text; /* n bytes and a NUL: without quotes and, unless quoted, without outer blanks */
  size_t n;
  uint32_t line, column;         /* of its first character, the opening quote included; from 1 */
  uint32_t end_line, end_column; /* behind its last character; columns count characters */
  bool quoted;
  bool torn; /* there is text behind its closing quote */
};

struct row {
  const struct cell *cells;
  size_t n;
  uint32_t line;     /* where the record starts */
  const char *bytes; /* the record as written, without its line end; n_bytes and a NUL */
  size_t n_bytes;
};

enum table_answer {
  TABLE_ROW,
  TABLE_END,
  TABLE_UNREADABLE,   /* the fetching function failed */
  TABLE_NO_TEXT,      /* a NUL byte or the mark of UTF-16: not UTF-8 text */
  TABLE_OPEN_QUOTE,   /* a quoted cell is never closed, or not within the limit */
  TABLE_LONG_RECORD,  /* a record over TABLE_RECORD_MAX */
  TABLE_MANY_COLUMNS, /* over TABLE_COLUMNS_MAX */
};

/* NULL: no memory. Nothing is fetched yet; context must outlive the table. */
struct table *table_open(struct arena *arena, table_fetch *fetch, void *context);
/* The next record that is not blank. Any answer but TABLE_ROW is final; a fault is placed by *row:
 * the record as far as it was read, and one cell without text where the fault lies. */
enum table_answer table_next(struct table *table, struct row *row);
/* ',', ';' or '\t'; of a table with a single column ','. Known after the first table_next. */
char table_delimiter(const struct table *table);

#endif
