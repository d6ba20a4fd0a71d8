/* why, whynot and contrast: names first or between the evidence; a word with "=" is evidence, one
 * without is a name. */
#include <stdio.h>
#include <string.h>

#include "cli/cli.h"

struct split {
  struct word names[WORDS_MAX], evidence[WORDS_MAX];
  size_t n_names, n_evidence;
};

static void split_words(struct split *split, const struct options *options) {
  split->n_names = split->n_evidence = 0;
  for (size_t i = 0; i < options->n_words; i++) {
    if (strchr(options->words[i].text, '='))
      split->evidence[split->n_evidence++] = options->words[i];
    else split->names[split->n_names++] = options->words[i];
  }
}

static bool has_names(const struct split *split, size_t n, const char *command,
                      const char *wanted) {
  if (split->n_names == n) return true;
  if (split->n_names < n) fprintf(stderr, "whymiss %s: %s\n", command, wanted);
  else
    fprintf(stderr, "whymiss %s: '%s' is one name too many; evidence is written name=value\n",
            command, split->names[n].text);
  fprintf(stderr, "'whymiss %s --help' shows an example.\n", command);
  return false;
}

static enum wm_status explain(const struct options *options, enum wm_question question,
                              const char *command) {
  static struct split split;
  struct session session;
  split_words(&split, options);
  if (!has_names(&split, 1, command, "name an evidence, finding, cause, drill or rule"))
    return WM_USAGE;
  if (session_open(&session, options) && session_run(&session, split.evidence, split.n_evidence))
    session_note(&session, wm_case_explain(session.player, question, split.names[0].text,
                                           split.names[0].place, session_format(&session),
                                           write_file, stdout, session.diags));
  return session_close(&session);
}

enum wm_status cmd_why(const struct options *options) {
  return explain(options, WM_WHY, "why");
}

enum wm_status cmd_whynot(const struct options *options) {
  return explain(options, WM_WHY_NOT, "whynot");
}

enum wm_status cmd_contrast(const struct options *options) {
  static struct split split;
  struct session session;
  split_words(&split, options);
  if (!has_names(&split, 2, "contrast", "name two findings, two causes or two drills"))
    return WM_USAGE;
  const struct word *a = &split.names[0], *b = &split.names[1];
  if (session_open(&session, options) && session_run(&session, split.evidence, split.n_evidence))
    session_note(&session,
                 wm_case_contrast(session.player, a->text, a->place, b->text, b->place,
                                  session_format(&session), write_file, stdout, session.diags));
  return session_close(&session);
}
