/* Scalars over several lines with new indentation. Folding is undone and done anew only where YAML
 * gives the same text: a line may be broken at a single blank between two words, nowhere else. */
#include <string.h>

#include "workshop/tidy_parts.h"

/* One line of a scalar, without its line end. */
struct line {
  const char *at;
  size_t n;
};

static bool is_blank(char byte) {
  return byte == ' ' || byte == '\t';
}

static void add_indent(struct text *out, size_t indent) {
  while (indent-- > 0) text_add_char(out, ' ');
}

/* The next line of the n bytes; false at the end. */
static bool next_line(const char **at, size_t *n, struct line *line) {
  if (*n == 0) return false;
  const char *end = memchr(*at, '\n', *n);
  size_t used = end ? (size_t)(end - *at) + 1 : *n;
  *line = (struct line){*at, end ? used - 1 : used};
  if (line->n > 0 && line->at[line->n - 1] == '\r') line->n--;
  *at += used;
  *n -= used;
  return true;
}

static struct line trimmed(struct line line, bool front) {
  while (line.n > 0 && is_blank(line.at[line.n - 1])) line.n--;
  while (front && line.n > 0 && is_blank(line.at[0])) {
    line.at++;
    line.n--;
  }
  return line;
}

static size_t characters(const char *at, size_t n) {
  size_t count = 0;
  for (size_t i = 0; i < n; i++) count += ((unsigned char)at[i] & 0xC0u) != 0x80;
  return count;
}

/* ---- filling ---- */

/* Where the next piece that must not be broken ends: before a single blank between two words. */
static size_t piece_end(const char *at, size_t n, size_t from) {
  for (size_t i = from; i + 1 < n; i++)
    if (at[i] == ' ' && i > from && !is_blank(at[i - 1]) && !is_blank(at[i + 1])) return i;
  return n;
}

/* Lines filled to the width; column is where the first starts. */
static void fill(struct text *out, const char *at, size_t n, size_t indent, size_t column) {
  for (size_t from = 0; from < n;) {
    size_t end = piece_end(at, n, from);
    size_t width = characters(at + from, end - from);
    if (from > 0 && column + 1 + width > TIDY_WIDTH) {
      text_add_char(out, '\n');
      add_indent(out, indent);
      column = indent;
    } else if (from > 0) {
      text_add_char(out, ' ');
      column++;
    }
    text_add_bytes(out, at + from, end - from);
    column += width;
    from = end + 1;
  }
}

/* ---- plain and quoted ---- */

/* A plain text of several lines: blanks around its line ends are no part of it, empty lines are. */
void tidy_add_plain(struct text *out, const struct tidy_token *token, size_t indent,
                    size_t column) {
  struct text paragraph;
  struct line line;
  const char *at = token->at;
  size_t n = token->n, empty = 0;
  bool started = false;
  text_init(&paragraph, out->arena);
  while (next_line(&at, &n, &line)) {
    line = trimmed(line, true);
    if (line.n == 0) {
      empty++;
      continue;
    }
    if (empty > 0) {
      fill(out, paragraph.at, paragraph.n, indent, started ? indent : column);
      for (size_t i = 0; i <= empty; i++) text_add_char(out, '\n');
      add_indent(out, indent);
      started = true;
      text_init(&paragraph, out->arena);
    } else if (paragraph.n > 0) {
      text_add_char(&paragraph, ' ');
    }
    text_add_bytes(&paragraph, line.at, line.n);
    empty = 0;
  }
  fill(out, paragraph.at, paragraph.n, indent, started ? indent : column);
  out->failed = out->failed || paragraph.failed;
}

/* A blank behind a backslash is an escaped one, and stays. */
static struct line quoted_line(struct line line, bool front) {
  struct line cut = trimmed(line, front);
  bool escaped = cut.n > 0 && cut.at[cut.n - 1] == '\\';
  if (escaped && cut.at + cut.n < line.at + line.n) cut.n++;
  return cut;
}

void tidy_add_quoted(struct text *out, const struct tidy_token *token, size_t indent) {
  struct line line;
  const char *at = token->at;
  size_t n = token->n;
  for (bool first = true; next_line(&at, &n, &line); first = false) {
    if (n > 0) line = quoted_line(line, !first);
    else if (!first) {
      while (line.n > 0 && is_blank(line.at[0])) line.at++, line.n--;
    }
    if (!first) text_add_char(out, '\n');
    if (!first && line.n > 0) add_indent(out, indent);
    text_add_bytes(out, line.at, line.n);
  }
}

/* ---- blocks ---- */

size_t tidy_digit(const struct tidy_token *head) {
  for (size_t i = 0; i < head->n; i++)
    if (head->at[i] >= '1' && head->at[i] <= '9') return (size_t)(head->at[i] - '0');
  return 0;
}

static size_t front_blanks(const char *at, size_t n) {
  size_t blanks = 0;
  while (blanks < n && at[blanks] == ' ') blanks++;
  return blanks;
}

/* How deep the lines are indented: what the first line that is not empty has in the source, less
 * what it has in the text. */
static size_t body_indent(const struct tidy_token *body) {
  struct line line = {body->at, 0};
  const char *at = body->at, *text = body->node->text;
  size_t n = body->n;
  do
    if (!next_line(&at, &n, &line)) return 0;
  while (trimmed(line, true).n == 0);
  while (*text == '\n') text++;
  size_t deep = front_blanks(line.at, line.n), kept = front_blanks(text, strlen(text));
  return deep > kept ? deep - kept : 0;
}

/* Takes the indentation off; a line that is all indentation is empty. */
static struct line inner(struct line line, size_t indent) {
  size_t cut = front_blanks(line.at, line.n);
  if (cut > indent) cut = indent;
  return (struct line){line.at + cut, line.n - cut};
}

static void add_verbatim(struct text *out, const struct tidy_token *body, size_t old_indent,
                         size_t indent) {
  struct line line;
  const char *at = body->at;
  size_t n = body->n;
  while (next_line(&at, &n, &line)) {
    line = inner(line, old_indent);
    if (line.n > 0) add_indent(out, indent);
    text_add_bytes(out, line.at, line.n);
    text_add_char(out, '\n');
  }
}

/* Lines that are indented deeper are not folded, and their neighbours are folded otherwise. */
static bool can_be_filled(const struct tidy_token *head, const struct tidy_token *body,
                          size_t old_indent) {
  struct line line;
  const char *at = body->at;
  size_t n = body->n;
  if (head->at[0] != '>') return false;
  while (next_line(&at, &n, &line)) {
    line = inner(line, old_indent);
    if (line.n > 0 && is_blank(line.at[0])) return false;
  }
  return true;
}

static void add_filled(struct text *out, const struct tidy_token *body, size_t old_indent,
                       size_t indent) {
  struct text paragraph;
  struct line line;
  const char *at = body->at;
  size_t n = body->n;
  text_init(&paragraph, out->arena);
  for (bool more = true; more;) {
    more = next_line(&at, &n, &line);
    if (more) line = inner(line, old_indent);
    if (more && line.n > 0) {
      if (paragraph.n > 0) text_add_char(&paragraph, ' ');
      text_add_bytes(&paragraph, line.at, line.n);
      continue;
    }
    if (paragraph.n > 0) {
      add_indent(out, indent);
      fill(out, paragraph.at, paragraph.n, indent, indent);
      text_add_char(out, '\n');
    }
    if (more) text_add_char(out, '\n');
    out->failed = out->failed || paragraph.failed;
    text_init(&paragraph, out->arena);
  }
}

void tidy_add_body(struct text *out, const struct tidy_token *head, const struct tidy_token *body,
                   size_t indent) {
  size_t old_indent = body_indent(body);
  if (can_be_filled(head, body, old_indent)) add_filled(out, body, old_indent, indent);
  else add_verbatim(out, body, old_indent, indent);
}
