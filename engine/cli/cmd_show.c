#include <stdio.h>
#include <string.h>

#include "cli/cli.h"

static const struct {
  const char *name;
  enum wm_kind kind;
} lists[] = {
    {"evidence", WM_EVIDENCE}, {"findings", WM_FINDING}, {"causes", WM_CAUSE},
    {"drills", WM_DRILL},      {"rules", WM_RULE},       {"clubs", WM_CLUB},
    {"sources", WM_SOURCE},    {"cases", WM_CASE},
};

static enum wm_status show(struct session *session, const struct word *word) {
  enum wm_format format = session_format(session);
  if (strcmp(word->text, "schema") == 0) return wm_kb_schema(session->kb, write_file, stdout);
  for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++)
    if (strcmp(lists[i].name, word->text) == 0)
      return wm_kb_list(session->kb, lists[i].kind, format, write_file, stdout);
  return wm_kb_show(session->kb, word->text, word->place, format, write_file, stdout,
                    session->diags);
}

/* The schema needs no knowledge: without any it allows every name. */
static bool wants_bare_schema(const struct options *options) {
  return options->bare && options->n_layers == 0 && options->n_words == 1 &&
         strcmp(options->words[0].text, "schema") == 0;
}

enum wm_status cmd_show(const struct options *options) {
  struct session session;
  if (options->n_words == 0) {
    fprintf(
        stderr,
        "whymiss show: name an entry, or a list: evidence, findings, causes, drills, rules, clubs, "
        "sources, cases, functions, schema\n");
    return WM_USAGE;
  }
  if (wants_bare_schema(options)) return wm_kb_schema(NULL, write_file, stdout);
  if (session_open(&session, options))
    for (size_t i = 0; i < options->n_words; i++) {
      if (i > 0 && !options->json) putchar('\n');
      session_note(&session, show(&session, &options->words[i]));
    }
  return session_close(&session);
}
