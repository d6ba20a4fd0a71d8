/* new kb DIR: a directory for an academy's own layer, to begin from. */
#include <stdio.h>
#include <string.h>

#include "cli/cli.h"

static void tell(const char *directory) {
  const char *path;
  for (size_t i = 0; (path = wm_kb_new_file(i)) != NULL; i++)
    printf("made %s/%s\n", directory, path);
  printf("\nTry it, then put your own in the place of the example:\n"
         "  whymiss check --kb %s\n"
         "  whymiss cases --kb %s academy-hook-over-straight-foot academy-hook-with-free-foot\n"
         "  whymiss show lead_foot_holds_hips --kb %s\n",
         directory, directory, directory);
}

enum wm_status cmd_new(const struct options *options) {
  if (options->n_words != 2 || strcmp(options->words[0].text, "kb") != 0 ||
      options->words[1].text[0] == '\0') {
    fprintf(stderr, "whymiss new: say what and where: 'whymiss new kb my-academy'\n");
    return WM_USAGE;
  }
  struct session session = {.options = options, .diags = wm_diags_new(NULL)};
  if (!session.diags) session_note(&session, WM_INTERNAL);
  else session_note(&session, wm_kb_new(options->words[1].text, session.diags));
  if (session.status == WM_OK) tell(options->words[1].text);
  return session_close(&session);
}
