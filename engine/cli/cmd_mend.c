/* mend: the smallest edits of the rules that would set a case right. */
#include <stdio.h>

#include "cli/cli.h"

static void add(struct session *session, wm_cases *cases, const struct word *word) {
  if (looks_like_file(word->text))
    session_note(session, wm_cases_add_file(cases, word->text, session->diags));
  else session_note(session, wm_cases_add(cases, word->text, word->place, session->diags));
  if (session->status == WM_OK && wm_cases_count(cases) != 1) {
    fprintf(stderr, "whymiss mend: '%s' holds %zu cases; mend takes one\n", word->text,
            wm_cases_count(cases));
    session_note(session, WM_INPUT_FAULTY);
  }
}

static void run(struct session *session, const wm_cases *cases) {
  wm_mending *mending = NULL;
  session_note(session, wm_mend(&mending, cases, NULL));
  if (mending)
    session_note(session, wm_mending_write(mending, session_format(session), write_file, stdout));
  wm_mending_free(mending);
}

enum wm_status cmd_mend(const struct options *options) {
  struct session session;
  wm_cases *cases = NULL;
  if (options->n_words != 1) {
    fprintf(stderr, "whymiss mend: name one case: a worked case of the knowledge, or a file\n");
    return WM_USAGE;
  }
  if (session_open(&session, options))
    session_note(&session, wm_cases_new(&cases, session.kb, NULL));
  if (cases) add(&session, cases, &options->words[0]);
  if (session.status == WM_OK) run(&session, cases);
  wm_cases_free(cases);
  return session_close(&session);
}
