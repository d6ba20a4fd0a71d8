/* Source text and positions in it.
 * A source is a named piece of bytes (a file, a command-line argument, bytes from memory) that
 * outlives all spans into it. Lines and columns count from 1; columns count characters (code
 * points), not bytes. */
#ifndef WM_DIAG_SOURCE_H
#define WM_DIAG_SOURCE_H

#include <stddef.h>
#include <stdint.h>

struct source {
  const char *name;  /* as shown: the path the user gave, or "argument 3" */
  const char *bytes; /* n bytes, then a NUL */
  size_t n;
  const char *root;    /* the directory of knowledge it was found in, or NULL */
  uint32_t first_line; /* the number of the first line of the bytes, when they are a piece; 0: 1 */
};

/* From (line, column) up to, not including, (end_line, end_column). source NULL: nowhere. */
struct span {
  const struct source *source;
  uint32_t line, column;
  uint32_t end_line, end_column;
};

/* The span of length characters that starts skip characters into a one-line span. */
struct span span_part(struct span whole, size_t skip, size_t length);
/* Order of names, then of lines, then of columns: <0, 0, >0. */
int span_compare(const struct span *a, const struct span *b);
/* The bytes of a line (without its end), or NULL past the end; *n gets the length. */
const char *source_line(const struct source *source, uint32_t line, size_t *n);

#endif
