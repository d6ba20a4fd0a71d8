/* flight: what the numbers alone imply, as figures, a path or a picture. */
#include <math.h>
#include <stdio.h>

#include "cli/cli.h"

/* The one view asked for; false after a message when there are two. */
static bool view_of(const struct options *options, enum wm_flight_view *view) {
  int asked = options->csv + options->plot + options->svg + options->json;
  *view = options->csv    ? WM_FLIGHT_PATH
          : options->plot ? WM_FLIGHT_PLOT
          : options->svg  ? WM_FLIGHT_SVG
                          : WM_FLIGHT_FIGURES;
  if (asked <= 1) return true;
  fprintf(stderr, "whymiss flight: use one of --json, --csv, --plot and --svg\n");
  return false;
}

/* All faults of the conditions are told at once. */
static bool read_conditions(struct session *session, struct wm_conditions *conditions) {
  const struct options *options = session->options;
  const struct {
    const char *what, *text, *place;
  } given[] = {{"model", options->model, "option --model"},
               {"wind", options->wind, "option --wind"},
               {"temperature", options->temperature, "option --temperature"},
               {"altitude", options->altitude, "option --altitude"}};
  *conditions = wm_conditions_usual();
  for (size_t i = 0; i < sizeof given / sizeof given[0]; i++)
    if (given[i].text)
      session_note(session, wm_conditions_read(conditions, given[i].what, given[i].text,
                                               given[i].place, session->diags));
  return session->status == WM_OK;
}

static enum wm_status residuals(const struct options *options) {
  if (options->n_words == 0 && options->csv + options->plot + options->svg == 0)
    return wm_residuals_write(options->json ? WM_JSON : WM_TEXT, write_file, stdout);
  fprintf(stderr, "whymiss flight: --residuals takes no evidence and no other view than --json\n");
  return WM_USAGE;
}

enum wm_status cmd_flight(const struct options *options) {
  struct session session;
  struct wm_conditions conditions;
  enum wm_flight_view view;
  if (options->residuals) return residuals(options);
  if (!view_of(options, &view)) return WM_USAGE;
  if (session_open(&session, options)) {
    session_run(&session, options->words, options->n_words);
    if (read_conditions(&session, &conditions)) {
      /* The figures tell contradictions themselves. */
      if (view == WM_FLIGHT_FIGURES && !options->json) wm_diags_clear(session.diags);
      session_note(&session,
                   wm_case_write_flight(session.player, &conditions, view, session_format(&session),
                                        write_file, stdout, session.diags));
    }
  }
  return session_close(&session);
}
