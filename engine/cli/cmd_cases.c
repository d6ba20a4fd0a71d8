/* cases: the worked cases of the knowledge, or those named, or those of a file. */
#include <stdio.h>

#include "cli/cli.h"

static enum wm_status add(struct session *session, wm_cases *cases, const struct word *word) {
  return looks_like_file(word->text)
             ? wm_cases_add_file(cases, word->text, session->diags)
             : wm_cases_add(cases, word->text, word->place, session->diags);
}

static void fill(struct session *session, wm_cases *cases) {
  const struct options *options = session->options;
  if (options->n_words == 0) session_note(session, wm_cases_add_all(cases));
  for (size_t i = 0; i < options->n_words; i++)
    session_note(session, add(session, cases, &options->words[i]));
}

static void run(struct session *session, wm_cases *cases) {
  enum wm_status ran = wm_cases_run(cases);
  session_note(session, ran);
  if (ran == WM_OK || ran == WM_FINDINGS)
    session_note(session, wm_cases_write(cases, session->options->json ? WM_JSON : WM_TEXT,
                                         write_file, stdout));
}

enum wm_status cmd_cases(const struct options *options) {
  struct session session;
  wm_cases *cases = NULL;
  if (session_open(&session, options))
    session_note(&session, wm_cases_new(&cases, session.kb, NULL));
  if (cases) fill(&session, cases);
  if (session.status == WM_OK) run(&session, cases);
  wm_cases_free(cases);
  return session_close(&session);
}
