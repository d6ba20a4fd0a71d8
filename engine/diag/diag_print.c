/* The picture under a message: the source line, cut to a window of SCREEN columns around the place,
 * and a caret line. The caret line is reckoned in columns of the terminal, never in bytes or
 * characters, so tabs, accents, wide scripts and escapes line up. */
#include <stdio.h>
#include <string.h>

#include "diag/diag.h"
#include "diag/glyph.h"

#define SCREEN 100
#define TAB 4
#define LEAD_IN 30 /* columns shown in front of a place that lies far in */

/* One character of the line on its way to the screen. */
struct cell {
  char shown[12]; /* "<U+10FFFF>" at most */
  size_t n;       /* bytes of shown */
  size_t width;   /* columns */
  size_t length;  /* bytes of the source */
};

/* What of the line is shown, and what is marked, in columns of the whole line counted from 0. */
struct window {
  size_t from, to;
  size_t mark, mark_end;
};

static struct cell cell_at(const char *bytes, size_t n, size_t column) {
  struct cell cell = {.n = 0};
  uint32_t code;
  cell.length = glyph_read(bytes, n, &code);
  if (code == '\t') {
    cell.n = cell.width = TAB - column % TAB;
    memset(cell.shown, ' ', cell.n);
  } else if (code == GLYPH_BAD) {
    unsigned byte = (unsigned char)bytes[0];
    cell.n = cell.width = (size_t)snprintf(cell.shown, sizeof cell.shown, "<%02X>", byte);
  } else if (glyph_hidden(code)) {
    cell.n = cell.width =
        (size_t)snprintf(cell.shown, sizeof cell.shown, "<U+%04X>", (unsigned)code);
  } else {
    cell.n = cell.length;
    cell.width = glyph_width(code);
    memcpy(cell.shown, bytes, cell.length);
  }
  return cell;
}

/* A string on one line, with what would hide or break it escaped. */
static void add_escaped(struct text *out, const char *string) {
  size_t n = strlen(string);
  for (size_t i = 0; i < n;) {
    struct cell cell = cell_at(string + i, n - i, 0);
    if (string[i] == '\n') text_add(out, "\\n");
    else if (string[i] == '\t') text_add(out, "\\t");
    else text_add_bytes(out, cell.shown, cell.n);
    i += cell.length;
  }
}

/* Finds the columns of the marked characters. */
static struct window measure(const char *line, size_t n, const struct span *at) {
  struct window window = {0};
  size_t column = 0;
  uint32_t character = 1;
  bool one_line = at->end_line == at->line;
  size_t mark = SIZE_MAX, mark_end = SIZE_MAX;
  for (size_t i = 0; i < n && mark_end == SIZE_MAX; character++) {
    if (character == at->column) mark = column;
    if (one_line && character >= at->end_column && mark != SIZE_MAX) mark_end = column;
    struct cell cell = cell_at(line + i, n - i, column);
    column += cell.width;
    i += cell.length;
  }
  window.mark = mark != SIZE_MAX ? mark : column;
  window.mark_end = mark_end != SIZE_MAX ? mark_end : column;
  if (window.mark_end <= window.mark) window.mark_end = window.mark + 1;
  return window;
}

static void place(struct window *window) {
  window->from = window->mark_end > SCREEN && window->mark > LEAD_IN ? window->mark - LEAD_IN : 0;
  window->to = window->from + SCREEN;
  if (window->mark_end > window->to) window->mark_end = window->to;
}

/* The cells that lie wholly in the window; returns how many columns of "..." stand in front of
 * them. */
static size_t add_line(struct text *out, const char *line, size_t n, struct window *window) {
  size_t column = 0, i = 0;
  bool started = false;
  size_t front = window->from != 0 ? 3 : 0;
  if (front != 0) text_add(out, "...");
  while (i < n) {
    struct cell cell = cell_at(line + i, n - i, column);
    if (column + cell.width > window->to) break;
    if (column >= window->from) {
      if (!started) window->from = column; /* a wide character may straddle the edge */
      started = true;
      text_add_bytes(out, cell.shown, cell.n);
    }
    column += cell.width;
    i += cell.length;
  }
  if (i < n) text_add(out, "...");
  return front;
}

static void add_repeated(struct text *out, char c, size_t n) {
  for (size_t i = 0; i < n; i++) text_add_char(out, c);
}

static void trim_end(struct text *out) {
  if (out->failed) return;
  while (out->n > 0 && out->at[out->n - 1] == ' ') out->at[--out->n] = '\0';
}

static void add_picture(struct text *out, const struct span *at) {
  size_t n = 0;
  const char *line = source_line(at->source, at->line, &n);
  if (line == NULL) return;
  char number[16];
  int gutter = snprintf(number, sizeof number, "%5u", (unsigned)at->line);
  struct window window = measure(line, n, at);
  place(&window);
  text_format(out, "%s | ", number);
  size_t front = add_line(out, line, n, &window);
  trim_end(out);
  text_format(out, "\n%*s | ", gutter, "");
  add_repeated(out, ' ', front + window.mark - window.from);
  text_add_char(out, '^');
  add_repeated(out, '~', window.mark_end - window.mark - 1);
  text_add_char(out, '\n');
}

/* A place in a file has a line and a column; one in an argument or in bytes from memory too. */
static void add_place(struct text *out, const struct span *at) {
  if (at->source == NULL) return;
  add_escaped(out, at->source->name);
  if (at->line != 0) text_format(out, ":%u:%u", (unsigned)at->line, (unsigned)at->column);
  text_add(out, ": ");
}

static const char *level_word(enum diag_level level) {
  static const char *const words[] = {"note", "warning", "error"};
  return words[level];
}

void diag_print(struct text *out, const struct diag *diag) {
  add_place(out, &diag->at);
  text_format(out, "%s: ", level_word(diag->level));
  add_escaped(out, diag->message);
  text_format(out, " [%s]\n", diag_word(diag->code));
  if (diag->at.source != NULL) add_picture(out, &diag->at);
  for (size_t i = 0; i < diag->notes.n; i++) {
    const struct diag_note *note = &diag->notes.at[i];
    add_place(out, &note->at);
    text_add(out, note->at.source != NULL ? "note: " : "  note: ");
    add_escaped(out, note->text);
    text_add_char(out, '\n');
    if (note->at.source != NULL) add_picture(out, &note->at);
  }
  if (diag->hint == NULL) return;
  text_add(out, "  hint: ");
  add_escaped(out, diag->hint);
  text_add_char(out, '\n');
}

void diags_print(struct text *out, const struct diags *diags) {
  bool told = false;
  for (size_t i = 0; i < diags->list.n; i++) {
    diag_print(out, &diags->list.at[i]);
    told = told || diags->list.at[i].code == DIAG_NO_MEMORY;
  }
  if (diags->no_memory && !told) text_add(out, "error: out of memory [no-memory]\n");
}
