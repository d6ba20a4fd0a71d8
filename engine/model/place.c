/* Places inside scalars: source and text are walked side by side. A run of blanks and line ends
 * stands for any other, because YAML folds lines and cuts indentation; the other differences are
 * quotes and what is escaped in them. */
#include <string.h>

#include "model/reader.h"

enum style { STYLE_PLAIN, STYLE_QUOTED, STYLE_BLOCK, STYLES };

struct walk {
  const char *raw, *raw_end;
  uint32_t line, column;
};

static bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

static void step(struct walk *walk) {
  bool line_end = *walk->raw == '\n';
  walk->raw++;
  if (line_end) {
    walk->line++;
    walk->column = 1;
  } else if (walk->raw == walk->raw_end || ((unsigned char)*walk->raw & 0xC0) != 0x80) {
    walk->column++; /* columns count characters */
  }
}

static void skip_blanks(struct walk *walk) {
  while (walk->raw < walk->raw_end && is_blank(*walk->raw)) step(walk);
}

/* '' in single quotes, \" and \\ in double quotes. */
static void skip_escape(struct walk *walk, char quote, char c) {
  bool doubled = quote == '\'' && c == '\'' && *walk->raw == '\'';
  bool escaped = quote == '"' && *walk->raw == '\\' && (c == '"' || c == '\\');
  if ((doubled || escaped) && walk->raw + 1 < walk->raw_end && walk->raw[1] == c) step(walk);
}

static bool start(struct walk *walk, const struct span *at, enum style style) {
  size_t n = 0;
  const char *line = source_line(at->source, at->line, &n);
  if (line == NULL) return false;
  *walk = (struct walk){line, at->source->bytes + at->source->n, at->line, 1};
  while (walk->raw < walk->raw_end && walk->column < at->column && walk->line == at->line)
    step(walk);
  if (walk->raw == walk->raw_end) return false;
  if (style == STYLE_QUOTED && (*walk->raw == '"' || *walk->raw == '\'')) step(walk);
  else if (style == STYLE_QUOTED) return false;
  if (style == STYLE_BLOCK && *walk->raw != '|' && *walk->raw != '>') return false;
  while (style == STYLE_BLOCK && walk->raw < walk->raw_end && walk->line == at->line) step(walk);
  if (style == STYLE_BLOCK) skip_blanks(walk);
  return true;
}

/* Walks over `from` up to, not including, `to` of the text; false where source and text differ. */
static bool advance(struct walk *walk, const char *text, size_t from, size_t to, char quote) {
  for (size_t i = from; i < to;) {
    if (is_blank(text[i])) {
      if (walk->raw == walk->raw_end || !is_blank(*walk->raw)) return false;
      skip_blanks(walk);
      while (i < to && is_blank(text[i])) i++;
      continue;
    }
    if (walk->raw < walk->raw_end) skip_escape(walk, quote, text[i]);
    if (walk->raw == walk->raw_end || *walk->raw != text[i]) return false;
    step(walk);
    i++;
  }
  return true;
}

struct span reader_place(struct span at, const char *text, size_t offset, size_t n) {
  size_t length = strlen(text);
  size_t end = offset + n < length ? offset + n : length;
  for (int style = STYLE_PLAIN; at.source && style < STYLES; style++) {
    struct walk walk;
    if (!start(&walk, &at, (enum style)style)) continue;
    char quote = style == STYLE_QUOTED ? walk.raw[-1] : '\0';
    if (!advance(&walk, text, 0, offset, quote)) continue;
    struct span part = {at.source, walk.line, walk.column, walk.line, walk.column + 1};
    if (!advance(&walk, text, offset, end, quote)) continue;
    if (end > offset) {
      part.end_line = walk.line;
      part.end_column = walk.column;
    }
    return part;
  }
  return at;
}
