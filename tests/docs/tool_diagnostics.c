/* Writes docs/diagnostics.md: each row of the table, with what the load case of that name is told
 * as its example. Run in the project's folder. */
#include <stdio.h>
#include <string.h>

#include "diag/diag.h"

static const struct {
  const char *word, *wording, *explanation;
  enum diag_level level;
} rows[] = {
#define DIAG_ROW(id, word, level, wording, explanation) {word, wording, explanation, level},
#include "diag/diag_table.h"
#undef DIAG_ROW
};
#define ROWS (sizeof rows / sizeof rows[0])

#define LINE_MAX_BYTES 4096
#define EXAMPLE_LINES 7

/* The wording with "..." where words are filled in. */
static void print_wording(const char *wording) {
  for (; *wording; wording++) {
    if (wording[0] == '{' && wording[1] >= '0' && wording[1] <= '9' && wording[2] == '}') {
      printf("...");
      wording += 2;
    } else {
      putchar(*wording);
    }
  }
}

/* A diagnostic starts a line; its picture, notes and hint follow. */
static bool starts_diagnostic(const char *line) {
  return strstr(line, "error: ") == line || strstr(line, "warning: ") == line ||
         strstr(line, "note: ") == line ||
         (line[0] != ' ' && (strstr(line, ": error: ") || strstr(line, ": warning: ")));
}

static void print_example(const char *code) {
  char path[256], line[LINE_MAX_BYTES], wanted[128];
  bool inside = false;
  int n = 0;
  snprintf(path, sizeof path, "tests/load/%s/expected.txt", code);
  snprintf(wanted, sizeof wanted, " [%s]\n", code);
  FILE *in = fopen(path, "r");
  if (!in) return;
  while (fgets(line, sizeof line, in) && strncmp(line, "exit status", 11) != 0) {
    if (starts_diagnostic(line)) {
      if (inside) break;
      inside = strstr(line, wanted) != NULL;
      if (inside) printf("\n");
    }
    if (inside && n++ < EXAMPLE_LINES) printf("    %s", line);
  }
  fclose(in);
}

static void print_row(size_t i) {
  static const char *const levels[] = {
      [DIAG_NOTE] = "note", [DIAG_WARNING] = "warning", [DIAG_ERROR] = "error"};
  printf("\n## %s\n\n%s: `", rows[i].word, levels[rows[i].level]);
  print_wording(rows[i].wording);
  printf("`\n\n%s\n", rows[i].explanation);
  print_example(rows[i].word);
}

int main(void) {
  size_t counts[3] = {0};
  for (size_t i = 0; i < ROWS; i++) counts[rows[i].level]++;
  printf(
      "# Diagnostics\n\n"
      "What the program says about knowledge, cases, tables and arguments: %zu errors, %zu warnings,\n"
      "%zu notes. Each has a stable code in square brackets at the end of its first line. Under it stands\n"
      "the line it is about with a mark at the place, then notes with further places, then a hint.\n\n"
      "An error means that nothing is concluded from what holds it. A warning does not stop the work.\n\n"
      "This page is written by `tests/docs/tool_diagnostics.c` from `engine/diag/diag_table.h` and the\n"
      "cases of `tests/load/`; `make accept` writes it anew.\n",
      counts[DIAG_ERROR], counts[DIAG_WARNING], counts[DIAG_NOTE]);
  for (size_t i = 0; i < ROWS; i++) print_row(i);
  return 0;
}
