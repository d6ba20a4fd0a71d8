/* check: what is faulty, doubtful or missing in the knowledge. */
#include <errno.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "cli/cli.h"

#define PATH_ROOM 4096

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

/* ---- witnesses as files ---- */

static bool make_directory(const char *path) {
  if (mkdir(path, 0777) == 0 || errno == EEXIST) return true;
  fprintf(stderr, "whymiss: cannot make '%s': %s\n", path, strerror(errno));
  return false;
}

static enum wm_status write_witness(const wm_inspection *inspection, size_t i, const char *path) {
  FILE *file = fopen(path, "w");
  if (!file) {
    fprintf(stderr, "whymiss: cannot write '%s': %s\n", path, strerror(errno));
    return WM_INTERNAL;
  }
  enum wm_status status = wm_inspection_write_witness(inspection, i, write_file, file);
  if (fclose(file) != 0) status = WM_INTERNAL;
  return status;
}

/* Accepted findings have their witness too: whoever doubts the reason wants to see it. */
static enum wm_status write_witnesses(const wm_inspection *inspection, const char *directory,
                                      size_t *n) {
  struct wm_flaw flaw;
  enum wm_status status = make_directory(directory) ? WM_OK : WM_INTERNAL;
  for (size_t i = 0; status == WM_OK && wm_inspection_get(inspection, i, &flaw); i++) {
    char path[PATH_ROOM];
    if (!flaw.witness) continue;
    int length = snprintf(path, sizeof path, "%s/%s.yaml", directory, flaw.witness);
    if (length < 0 || (size_t)length >= sizeof path) return WM_INTERNAL;
    status = write_witness(inspection, i, path);
    ++*n;
  }
  return status;
}

/* ---- what was asked ---- */

/* False after a message: a whole number of at least 1 is wanted. */
static bool read_count(const char *name, const char *text, uint64_t *count) {
  char *end;
  if (!text) return true;
  errno = 0;
  unsigned long long number = strtoull(text, &end, 10);
  if (errno == 0 && *text >= '0' && *text <= '9' && *end == '\0' && number > 0) {
    *count = number;
    return true;
  }
  fprintf(stderr, "whymiss check: --%s takes a whole number above 0, not '%s'\n", name, text);
  return false;
}

static bool read_how(const struct options *options, struct wm_inspect *how) {
  uint64_t impacts = 0;
  *how = (struct wm_inspect){.thorough = options->thorough};
  if (!read_count("seed", options->seed, &how->seed) ||
      !read_count("impacts", options->impacts, &impacts))
    return false;
  if (impacts > WM_IMPACTS_MAX) {
    fprintf(stderr, "whymiss check: --impacts takes at most %d\n", WM_IMPACTS_MAX);
    return false;
  }
  how->impacts = (size_t)impacts;
  return true;
}

static enum wm_status explain(const char *code) {
  wm_diags *diags = wm_diags_new(NULL);
  if (!diags) return WM_INTERNAL;
  enum wm_status status = wm_explain_code(code, "--explain", write_file, stdout, diags);
  wm_diags_write(diags, write_file, stderr);
  wm_diags_free(diags);
  return status == WM_INPUT_FAULTY ? WM_USAGE : status;
}

static bool is_log(const struct options *options) {
  return options->json || options->sarif;
}

static void write_log(struct session *session, const wm_inspection *inspection) {
  enum wm_log log = session->options->sarif ? WM_LOG_SARIF : WM_LOG_JSON;
  session_note(session, wm_inspection_write(inspection, session->diags, log, write_file, stdout));
}

static void print_summary(struct session *session, const wm_inspection *inspection) {
  struct wm_inspection_counts counts;
  wm_inspection_count(inspection, &counts);
  session_note(session, wm_inspection_tell(inspection, session->diags));
  if (counts.impacts > 0) printf("%zu plausible impacts looked at\n", counts.impacts);
  if (counts.warnings + counts.notes > 0)
    printf("%zu warning%s, %zu note%s", counts.warnings, counts.warnings == 1 ? "" : "s",
           counts.notes, counts.notes == 1 ? "" : "s");
  else printf("nothing to find fault with");
  if (counts.accepted > 0)
    printf("; %zu finding%s accepted", counts.accepted, counts.accepted == 1 ? "" : "s");
  printf("\n");
}

static void inspect(struct session *session, const struct wm_inspect *how) {
  const struct options *options = session->options;
  wm_inspection *inspection = NULL;
  size_t n_written = 0;
  session_note(session, wm_kb_inspect(&inspection, session->kb, how, NULL));
  if (!inspection) return;
  if (is_log(options)) write_log(session, inspection);
  else print_summary(session, inspection);
  if (options->witness) {
    session_note(session, write_witnesses(inspection, options->witness, &n_written));
    if (!is_log(options)) printf("%zu witness cases in %s\n", n_written, options->witness);
  }
  wm_inspection_free(inspection);
}

/* A faulty knowledge base is what check is there to find: it is a finding, not a failure. */
enum wm_status cmd_check(const struct options *options) {
  struct session session;
  struct wm_inspect how;
  if (options->n_words > 0) {
    fprintf(stderr, "whymiss check: '%s' is not understood; lay a directory over with --kb\n",
            options->words[0].text);
    return WM_USAGE;
  }
  if (options->json && options->sarif) {
    fprintf(stderr, "whymiss check: --json and --sarif exclude each other\n");
    return WM_USAGE;
  }
  if (options->explain) return explain(options->explain);
  if (!read_how(options, &how)) return WM_USAGE;
  bool loaded = session_open(&session, options);
  if (session.found && session.status == WM_KB_FAULTY) session.status = WM_FINDINGS;
  if (!loaded && is_log(options) && session.found) {
    write_log(&session, NULL);
    wm_diags_clear(session.diags);
  }
  if (loaded && !is_log(options)) {
    print_counts(session.kb);
    print_overrides(session.kb);
  }
  if (loaded) inspect(&session, &how);
  return session_close(&session);
}
