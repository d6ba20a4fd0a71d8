/* cases: the worked cases of the knowledge, or those named, or those of a file; how they come out,
 * what they reach, and which mistakes they would notice. */
#include <stdio.h>
#include <string.h>

#include "cli/cli.h"

static const char *const levels[] = {"verdict", "answer", "certainty"};

static bool read_level(const char *word, enum wm_notice *notice) {
  *notice = WM_NOTICE_VERDICT;
  if (!word) return true;
  for (size_t i = 0; i < 3; i++)
    if (strcmp(word, levels[i]) == 0) {
      *notice = (enum wm_notice)i;
      return true;
    }
  fprintf(stderr, "whymiss cases: --notice is verdict, answer or certainty, not '%s'%s\n", word,
          options_hint(word, levels, 3, ""));
  return false;
}

static bool are_fit(const struct options *options) {
  const char *wrong = NULL;
  if (options->coverage + options->mutate + options->answers > 1)
    wrong = "use one of --coverage, --mutate and --answers";
  if (options->answers && options->json) wrong = "--answers are lines of text; leave --json out";
  if (options->notice && !options->mutate) wrong = "--notice goes with --mutate";
  if (options->brief && !options->answers) wrong = "--brief goes with --answers";
  if (options->accepted && options->answers)
    wrong = "--answers are not compared; leave --accepted out";
  if (wrong) fprintf(stderr, "whymiss cases: %s\n", wrong);
  return !wrong;
}

static enum wm_status add(struct session *session, wm_cases *cases, const struct word *word) {
  return looks_like_file(word->text) ? wm_cases_add_file(cases, word->text, session->diags)
                                     : wm_cases_add(cases, word->text, word->place, session->diags);
}

static void fill(struct session *session, wm_cases *cases) {
  const struct options *options = session->options;
  if (options->n_words == 0) session_note(session, wm_cases_add_all(cases));
  for (size_t i = 0; i < options->n_words; i++)
    session_note(session, add(session, cases, &options->words[i]));
}

static bool is_done(enum wm_status status) {
  return status == WM_OK || status == WM_FINDINGS;
}

/* The cases that fail are a finding whatever is asked about them. */
static void run(struct session *session, wm_cases *cases, enum wm_notice notice) {
  const struct options *options = session->options;
  enum wm_format format = options->json ? WM_JSON : WM_TEXT;
  session_note(session, wm_cases_run(cases));
  if (options->coverage) session_note(session, wm_cases_cover(cases));
  if (options->mutate) {
    enum wm_status mutated = wm_cases_mutate(cases, notice);
    session_note(session, is_done(mutated) ? WM_OK : mutated);
  }
  if (!is_done(session->status)) return;
  if (options->answers)
    session_note(session, wm_cases_write_answers(cases, options->brief, write_file, stdout));
  else if (options->coverage)
    session_note(session, wm_cases_write_coverage(cases, format, write_file, stdout));
  else if (options->mutate)
    session_note(session, wm_cases_write_mutants(cases, format, write_file, stdout));
  else session_note(session, wm_cases_write(cases, format, write_file, stdout));
}

enum wm_status cmd_cases(const struct options *options) {
  struct session session;
  wm_cases *cases = NULL;
  enum wm_notice notice;
  if (!are_fit(options) || !read_level(options->notice, &notice)) return WM_USAGE;
  if (session_open(&session, options))
    session_note(&session, wm_cases_new(&cases, session.kb, NULL));
  if (cases) fill(&session, cases);
  if (cases && options->accepted)
    session_note(&session, wm_cases_accept_file(cases, options->accepted, session.diags));
  if (session.status == WM_OK) run(&session, cases, notice);
  wm_cases_free(cases);
  return session_close(&session);
}
