/* Texts with their sides and values filled in, wrapping, and the escaping of user bytes. Values and
 * conditions are worded in wording_value.c and wording_condition.c. Sides are stored as parts,
 * never as words, so a text cannot be mirrored twice. */
#include "render/wording.h"

#include <string.h>

#include "diag/glyph.h"
#include "render/wording_parts.h"

/* ---- texts in parts ---- */

/* run NULL: without a case, a value shows as the evidence's title. */
static void add_parts(struct text *out, const struct run *run, const struct model *model,
                      const struct wording *wording, enum hand hand) {
  for (size_t i = 0; i < wording->n; i++) {
    const struct wording_part *part = &wording->parts[i];
    switch (part->kind) {
    case WORDING_TEXT: text_add(out, part->text); break;
    case WORDING_LEFT: text_add(out, hand == HAND_LEFT ? "right" : "left"); break;
    case WORDING_RIGHT: text_add(out, hand == HAND_LEFT ? "left" : "right"); break;
    case WORDING_VALUE:
      if (run == NULL || run->readings[part->evidence].state == READING_UNKNOWN)
        text_add(out, model->evidence[part->evidence].title);
      else wording_value(out, run, part->evidence);
      break;
    }
  }
}

void wording_add(struct text *out, const struct run *run, const struct wording *wording) {
  add_parts(out, run, run->network->model, wording, run->hand);
}

void wording_add_plain(struct text *out, const struct model *model, const struct wording *wording,
                       enum hand hand) {
  add_parts(out, NULL, model, wording, hand);
}

void wording_signed(struct text *out, double x, int decimals) {
  struct text digits = wording_beside(out);
  text_fixed(&digits, x, decimals);
  const char *done = text_done(&digits);
  if (done == NULL) {
    out->failed = true;
    return;
  }
  bool zero = strspn(done, "0.") == strlen(done);
  if (x > 0 && !zero) text_add_char(out, '+');
  text_add(out, done);
}

void wording_certainty(struct text *out, double certainty) {
  wording_signed(out, certainty, 2);
}

/* ---- wrapping ---- */

static bool is_blank(char c) {
  return c == ' ' || c == '\n' || c == '\t' || c == '\r';
}

/* Columns of a terminal that n bytes take. */
static size_t count_columns(const char *bytes, size_t n) {
  size_t columns = 0;
  for (size_t i = 0; i < n;) {
    uint32_t code;
    i += glyph_read(bytes + i, n - i, &code);
    columns += glyph_width(code);
  }
  return columns;
}

static size_t word_length(const char *text) {
  size_t n = 0;
  while (text[n] != '\0' && !is_blank(text[n])) n++;
  return n;
}

/* A number and its unit, and the two sides of "+/-", stay on one line. */
static bool is_glued(const char *word, size_t n, const char *next, size_t n_next) {
  static const char *const mark = "+/-";
  bool around =
      (n == 3 && memcmp(word, mark, 3) == 0) || (n_next == 3 && memcmp(next, mark, 3) == 0);
  while (n_next != 0 && strchr(",.;:)", next[n_next - 1]) != NULL) n_next--;
  bool number = n != 0 && word[n - 1] >= '0' && word[n - 1] <= '9';
  return around || (number && n_next != 0 && golf_unit_find(next, n_next) != NULL);
}

/* Bytes of the words from text on that must not be parted. */
static size_t chunk_length(const char *text) {
  size_t start = 0, n = word_length(text);
  while (text[start + n] == ' ') {
    size_t next = start + n + 1, n_next = word_length(text + next);
    if (n_next == 0 || !is_glued(text + start, n, text + next, n_next)) break;
    start = next;
    n = n_next;
  }
  return start + n;
}

void wording_wrap(struct text *out, const char *text, size_t first, size_t indent, size_t width) {
  size_t column = first;
  bool line_empty = true; /* no word of this text stands on the line yet */
  while (true) {
    while (is_blank(*text)) text++;
    size_t n = chunk_length(text);
    if (n == 0) return;
    size_t columns = count_columns(text, n);
    bool fits = column + columns + (line_empty ? 0 : 1) <= width;
    if (!fits && column > indent) {
      text_add_char(out, '\n');
      wording_indent(out, indent);
      column = indent;
      line_empty = true;
    }
    if (!line_empty) text_add_char(out, ' ');
    text_add_bytes(out, text, n);
    column += columns + (line_empty ? 0 : 1);
    line_empty = false;
    text += n;
  }
}

void wording_indent(struct text *out, size_t columns) {
  while (columns-- != 0) text_add_char(out, ' ');
}

void wording_paragraph(struct text *out, size_t margin, const char *label, size_t indent,
                       const char *text) {
  wording_indent(out, margin);
  text_add(out, label);
  size_t column = margin + count_columns(label, strlen(label));
  while (is_blank(*text)) text++;
  if (*text == '\0') indent = column; /* no blanks before nothing */
  if (column < indent) {
    wording_indent(out, indent - column);
    column = indent;
  } else if (*label != '\0' && *text != '\0') {
    /* A label too long for its place: the text goes on behind it, or below where no word fits. */
    bool fits = column + 1 + count_columns(text, chunk_length(text)) <= WORDING_WIDTH;
    text_add_char(out, fits ? ' ' : '\n');
    if (!fits) wording_indent(out, indent);
    column = fits ? column + 1 : indent;
  }
  wording_wrap(out, text, column, indent, WORDING_WIDTH);
  text_add_char(out, '\n');
}

struct text wording_beside(const struct text *out) {
  struct text text;
  text_init(&text, out->arena);
  return text;
}

void wording_line(struct text *out, size_t margin, const char *label, size_t indent,
                  const struct text *text) {
  const char *done = text_done(text);
  if (done == NULL) out->failed = true;
  else wording_paragraph(out, margin, label, indent, done);
}

void wording_hanging(struct text *out, size_t margin, size_t indent, const struct text *text) {
  const char *done = text_done(text);
  if (done == NULL) out->failed = true;
  wording_indent(out, margin);
  wording_wrap(out, done != NULL ? done : "", margin, indent, WORDING_WIDTH);
  text_add_char(out, '\n');
}

/* ---- commands to type ---- */

/* As it is where a shell takes it so, else in single quotes. */
static void add_argument(struct text *out, const char *argument) {
  static const char plain[] =
      "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_=.+-,:/@%";
  bool quoted = *argument == '\0' || argument[strspn(argument, plain)] != '\0';
  if (quoted) text_add_char(out, '\'');
  for (; *argument; argument++) {
    if (*argument == '\'') text_add(out, "'\\''");
    else text_add_char(out, *argument);
  }
  if (quoted) text_add_char(out, '\'');
}

void wording_command(struct text *out, const struct model *model, const char *command,
                     const char *name) {
  text_format(out, "whymiss %s %s", command, name);
  for (size_t i = 0; i < model->n_roots; i++) {
    text_add(out, " --kb ");
    add_argument(out, model->roots[i]);
  }
}

/* ---- user bytes ---- */

void wording_escape(struct text *out, const char *bytes, size_t n) {
  for (size_t i = 0; i < n;) {
    uint32_t code;
    size_t length = glyph_read(bytes + i, n - i, &code);
    if (code == GLYPH_BAD || (code < 0x80 && glyph_hidden(code)))
      text_format(out, "\\x%02x", (unsigned char)bytes[i]);
    else if (glyph_hidden(code)) text_format(out, "\\u%04x", (unsigned)code);
    else text_add_bytes(out, bytes + i, length);
    i += length;
  }
}
