/* Prints docs/diagnostics.md from the table of diagnostics. */
#include <stdio.h>

#include "diag/diag.h"

static const char *level_word(enum diag_level level) {
  static const char *const words[] = {"note", "warning", "error"};
  return words[level];
}

static void print_part(bool findings) {
  for (int i = 0; i < DIAG_CODES; i++) {
    enum diag_code code = (enum diag_code)i;
    bool is_finding = diag_is_finding(code) || code == DIAG_ACCEPT_UNUSED;
    if (is_finding != findings) continue;
    printf("### %s\n\n%s: `%s`\n\n%s\n\n", diag_word(code), level_word(diag_level_of(code)),
           diag_wording(code), diag_explanation(code));
  }
}

int main(void) {
  printf(
      "# Diagnostics\n\n"
      "What is told of knowledge, cases and arguments, by code. `{0}`, `{1}` ... stand for words\n"
      "that differ from case to case. Errors stop the work, warnings and notes do not.\n"
      "`whymiss check --explain CODE` prints one of them. This page is made from the program's\n"
      "own table; do not edit it.\n\n"
      "## Of reading and running\n\n");
  print_part(false);
  printf(
      "## Findings of check\n\n"
      "Doubtful or missing, though lawful. An entry that means it so accepts the finding with a\n"
      "reason (`docs/rules.md`).\n\n");
  print_part(true);
  return 0;
}
