/* Lines end at a line feed alone; other line ends are refused where text is read. */
#include "diag/source.h"

#include <string.h>

struct span span_part(struct span whole, size_t skip, size_t length) {
  struct span part = whole;
  part.column = whole.column + (uint32_t)skip;
  part.end_line = whole.line;
  part.end_column = part.column + (uint32_t)length;
  return part;
}

static int compare_numbers(uint32_t a, uint32_t b) {
  return (a > b) - (a < b);
}

/* Nowhere comes before every place. */
static int compare_sources(const struct source *a, const struct source *b) {
  if (a == b) return 0;
  if (a == NULL) return -1;
  if (b == NULL) return 1;
  return strcmp(a->name, b->name);
}

int span_compare(const struct span *a, const struct span *b) {
  int order = compare_sources(a->source, b->source);
  if (order == 0 && a->source != NULL) order = compare_numbers(a->line, b->line);
  if (order == 0 && a->source != NULL) order = compare_numbers(a->column, b->column);
  return order;
}

const char *source_line(const struct source *source, uint32_t line, size_t *n) {
  const char *at = source->bytes;
  const char *end = source->bytes + source->n;
  uint32_t before = source->first_line > 0 ? source->first_line - 1 : 0;
  if (line <= before) return NULL;
  line -= before;
  if (before == 0 && source->n >= 3 && memcmp(at, "\xEF\xBB\xBF", 3) == 0)
    at += 3; /* a byte order mark has no column */
  for (; line > 1; line--) {
    const char *feed = memchr(at, '\n', (size_t)(end - at));
    if (feed == NULL) return NULL;
    at = feed + 1;
  }
  const char *feed = memchr(at, '\n', (size_t)(end - at));
  const char *stop = feed != NULL ? feed : end;
  if (stop > at && stop[-1] == '\r') stop--;
  *n = (size_t)(stop - at);
  return at;
}
