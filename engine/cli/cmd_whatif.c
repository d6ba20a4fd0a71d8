/* whatif: evidence, the word "then", and what changes. With --case and no "then" all words are
 * changes. */
#include <stdio.h>
#include <string.h>

#include "cli/cli.h"

static size_t find_then(const struct options *options) {
  size_t i = 0;
  while (i < options->n_words && strcmp(options->words[i].text, "then") != 0) i++;
  return i;
}

static enum wm_status ask(struct session *session, const struct word *changes, size_t n) {
  const char *texts[WORDS_MAX], *places[WORDS_MAX];
  for (size_t i = 0; i < n; i++) {
    texts[i] = changes[i].text;
    places[i] = changes[i].place;
  }
  return wm_case_what_if(session->player, texts, places, n, session_format(session), write_file,
                         stdout, session->diags);
}

enum wm_status cmd_whatif(const struct options *options) {
  struct session session;
  size_t then = find_then(options);
  bool has_then = then < options->n_words;
  if (!has_then && options->case_from) then = 0;
  size_t first = has_then ? then + 1 : then;
  if (first >= options->n_words) {
    fprintf(stderr,
            "whymiss whatif: say what changes after the word 'then': path=-5 then path=0\n");
    return WM_USAGE;
  }
  if (session_open(&session, options) && session_run(&session, options->words, then))
    session_note(&session, ask(&session, options->words + first, options->n_words - first));
  return session_close(&session);
}
