#include <stdio.h>
#include <string.h>

#include "cli/cli.h"

static enum wm_view view_of(const struct options *options) {
  if (options->steps) return options->all ? WM_ALL_STEPS : WM_STEPS;
  return options->brief ? WM_BRIEF : WM_ANSWER;
}

/* The answer tells contradictions itself, so they are not told a second time. */
static bool answer_tells_all(const struct session *session, enum wm_view view) {
  struct wm_diag diag;
  if (view != WM_ANSWER || session->options->json) return false;
  for (size_t i = 0; wm_diags_get(session->diags, i, &diag); i++)
    if (strcmp(diag.code, "contradiction") != 0) return false;
  return true;
}

enum wm_status cmd_diagnose(const struct options *options) {
  struct session session;
  enum wm_view view = view_of(options);
  if (options->brief + options->steps > 1 || (options->all && !options->steps)) {
    fprintf(stderr, "whymiss diagnose: %s\n",
            options->all && !options->steps ? "--all goes with --steps"
                                            : "use --brief or --steps, not both");
    return WM_USAGE;
  }
  if (options->shots && options->say) {
    fprintf(stderr, "whymiss diagnose: use --shots or --say, not both\n");
    return WM_USAGE;
  }
  if (options->shots) return shots_diagnose(options);
  if (options->n_units > 0 || options->club || options->window) {
    fprintf(stderr, "whymiss diagnose: --%s goes with --shots\n",
            options->n_units > 0 ? "unit"
            : options->club      ? "club"
                                 : "window");
    return WM_USAGE;
  }
  if (session_open(&session, options) && session_run(&session, options->words, options->n_words)) {
    if (answer_tells_all(&session, view)) wm_diags_clear(session.diags);
    session_tell(&session);
    session_note(&session,
                 wm_case_write(session.player, view, session_format(&session), write_file, stdout));
  }
  return session_close(&session);
}
