#include <inttypes.h>
#include <stdio.h>

#include "cli/cli.h"

static void print_counts(const wm_kb *kb) {
  struct wm_kb_counts counts;
  wm_kb_count(kb, &counts);
  printf("%zu files: %zu evidence, %zu findings, %zu causes, %zu drills, %zu clubs, %zu sources,\n"
         "%zu rules in %zu layers, %zu worked cases\n",
         counts.files, counts.evidence, counts.findings, counts.causes, counts.drills, counts.clubs,
         counts.sources, counts.rules, counts.layers, counts.cases);
  printf("digest %016" PRIx64 "\n", wm_kb_digest(kb));
}

static void print_overrides(const wm_kb *kb) {
  struct wm_override override;
  for (size_t i = 0; wm_kb_override(kb, i, &override); i++)
    printf("%s:%" PRIu32 ": %s '%s' replaces the one at %s:%" PRIu32 "\n", override.file,
           override.line, override.kind, override.name, override.old_file, override.old_line);
}

/* A faulty knowledge base is what check is there to find: it is a finding, not a failure. */
enum wm_status cmd_check(const struct options *options) {
  struct session session;
  if (options->n_words > 0) {
    fprintf(stderr, "whymiss check: '%s' is not understood; lay a directory over with --kb\n",
            options->words[0].text);
    return WM_USAGE;
  }
  bool loaded = session_open(&session, options);
  if (session.found && session.status == WM_KB_FAULTY) session.status = WM_FINDINGS;
  if (loaded) {
    print_counts(session.kb);
    print_overrides(session.kb);
    enum wm_status checked = wm_kb_check(session.kb, session.diags);
    size_t warnings = wm_diags_warnings(session.diags);
    session_note(&session,
                 wm_diags_errors(session.diags) > 0 || checked > WM_FINDINGS ? checked : WM_OK);
    if (warnings > 0) printf("%zu warnings\n", warnings);
    else printf("nothing to find fault with\n");
  }
  return session_close(&session);
}
