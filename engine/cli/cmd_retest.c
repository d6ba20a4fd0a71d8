/* retest: shots before, shots after; or those after one by one on standard input. */
#include <stdio.h>
#include <string.h>

#include "cli/cli.h"

struct retesting {
  struct session session;
  wm_session *before, *after;
  wm_retest *retest;
};

static bool good(const struct retesting *retesting) {
  return retesting->session.status == WM_OK;
}

static void note(struct retesting *retesting, enum wm_status status) {
  session_note(&retesting->session, status);
}

/* A line has to be seen before the next shot is hit. */
static int write_at_once(void *file, const char *bytes, size_t n) {
  return write_file(file, bytes, n) == 0 && fflush(file) == 0 ? 0 : -1;
}

/* Words behind the files hold for all shots of both tables. */
static void open_all(struct retesting *retesting, const struct options *options, size_t files) {
  struct session *session = &retesting->session;
  const struct word *words = options->words + files;
  size_t n = options->n_words - files;
  note(retesting, wm_session_new(&retesting->before, session->kb, NULL));
  if (good(retesting)) note(retesting, wm_session_new(&retesting->after, session->kb, NULL));
  if (good(retesting))
    note(retesting, wm_retest_new(&retesting->retest, retesting->before, retesting->after, NULL));
  if (!good(retesting)) return;
  shots_prepare(session, retesting->before, words, n);
  session_tell(session);
  if (good(retesting)) shots_prepare(session, retesting->after, words, n);
  if (good(retesting) && options->number)
    note(retesting, wm_retest_read_number(retesting->retest, options->number, "option --number",
                                          session->diags));
}

static void read_before(struct retesting *retesting, const struct options *options) {
  shots_read(&retesting->session, retesting->before, options->words[0].text);
  session_tell(&retesting->session);
  if (good(retesting)) note(retesting, wm_session_run(retesting->before, retesting->session.diags));
}

static void read_after(struct retesting *retesting, const struct options *options) {
  struct session *session = &retesting->session;
  if (!options->follow) shots_read(session, retesting->after, options->words[1].text);
  else
    note(retesting, wm_retest_follow(retesting->retest, "standard input", shots_input, NULL,
                                     options->json ? NULL : write_at_once, stdout, session->diags));
  session_tell(session);
  if (good(retesting)) note(retesting, wm_session_run(retesting->after, session->diags));
}

static bool is_evidence(const struct options *options, size_t word) {
  return word >= options->n_words || strchr(options->words[word].text, '=') != NULL;
}

static bool check_words(const struct options *options) {
  const char *wrong = NULL;
  if (is_evidence(options, 0)) wrong = "name the table of the shots before";
  else if (!options->follow && is_evidence(options, 1)) wrong = "name the table of the shots after";
  else if (options->follow && !is_evidence(options, 1))
    wrong = "with --follow the shots after come on standard input; name the table before alone";
  else if (options->follow && strcmp(options->words[0].text, "-") == 0)
    wrong = "with --follow standard input is taken; name a file";
  else if (!options->follow && strcmp(options->words[0].text, "-") == 0 &&
           strcmp(options->words[1].text, "-") == 0)
    wrong = "only one table can come on standard input";
  if (wrong) fprintf(stderr, "whymiss retest: %s\n", wrong);
  return !wrong;
}

enum wm_status cmd_retest(const struct options *options) {
  struct retesting retesting = {.before = NULL};
  if (!check_words(options)) return WM_USAGE;
  if (session_open(&retesting.session, options))
    open_all(&retesting, options, options->follow ? 1 : 2);
  if (good(&retesting)) read_before(&retesting, options);
  if (good(&retesting)) read_after(&retesting, options);
  if (good(&retesting)) note(&retesting, wm_retest_run(retesting.retest, retesting.session.diags));
  if (good(&retesting) && options->follow && !options->json) putchar('\n');
  if (good(&retesting))
    note(&retesting,
         wm_retest_write(retesting.retest, session_format(&retesting.session), write_file, stdout));
  wm_retest_free(retesting.retest);
  wm_session_free(retesting.after);
  wm_session_free(retesting.before);
  return session_close(&retesting.session);
}
