/* What the tests of the views share: a view as a string, and the checks that hold for all of them.
 * Test code only. */
#ifndef TESTS_RENDER_VIEWS_H
#define TESTS_RENDER_VIEWS_H

#include "explain/small.h"
#include "render/json.h"

static inline struct text view_text(const struct small *small) {
  struct text text;
  text_init(&text, small->arena);
  return text;
}

/* Prints what is missing, so that a failure can be read. */
static inline bool view_holds(const char *view, const char *part) {
  bool holds = strstr(view, part) != NULL;
  if (!holds) print_error("\"%s\" is not in:\n%s\n", part, view);
  return holds;
}

/* No line beyond 79 columns, no blank at a line's end, ASCII, a line end at the end. */
static inline bool view_is_tidy(const char *view) {
  size_t column = 0;
  for (const char *c = view; *c != '\0'; c++) {
    if (*c == '\n' && c > view && c[-1] == ' ') return false;
    column = *c == '\n' ? 0 : column + 1;
    if (column > 79 || (*c != '\n' && (*c < 0x20 || *c > 0x7E))) {
      print_error("untidy at: %.100s\n", c - (column > 60 ? 60 : column));
      return false;
    }
  }
  return *view != '\0' && view[strlen(view) - 1] == '\n';
}

#endif
