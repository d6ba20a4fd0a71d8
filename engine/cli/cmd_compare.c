/* compare: two directories of knowledge, each laid over the shipped (with --bare: each whole), or
 * one against the shipped alone, or one against itself at a revision of git. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/revision.h"

#define PATH_ROOM 4096
#define IMPACTS 2000

enum fail_on { FAIL_NEVER, FAIL_WORSE, FAIL_ANY };

struct comparing {
  const struct options *options;
  struct session session;
  char base[PATH_ROOM], past[PATH_ROOM];     /* past: the temporary directory, or "" */
  const char *old_directory, *new_directory; /* NULL: nothing on top */
  wm_kb *old_kb, *new_kb;
  enum fail_on fail_on;
  unsigned long impacts, seed;
};

/* ---- reading what was asked ---- */

static bool read_fail_on(struct comparing *comparing) {
  static const char *const words[] = {"never", "worse", "any"};
  const char *word = comparing->options->fail_on;
  for (size_t i = 0; word && i < 3; i++)
    if (strcmp(word, words[i]) == 0) {
      comparing->fail_on = (enum fail_on)i;
      return true;
    }
  if (!word) return true;
  fprintf(stderr, "whymiss compare: --fail-on is worse, any or never, not '%s'%s\n", word,
          options_hint(word, words, 3, ""));
  return false;
}

static bool read_count(const char *option, const char *word, unsigned long most,
                       unsigned long *out) {
  char *end;
  if (!word) return true;
  *out = strtoul(word, &end, 10);
  if (*word >= '0' && *word <= '9' && *end == '\0' && *out <= most) return true;
  fprintf(stderr, "whymiss compare: --%s is a whole number up to %lu, not '%s'\n", option, most,
          word);
  return false;
}

static bool has_words(const struct options *options) {
  size_t n = options->n_words;
  const char *wrong = NULL;
  if (options->revision && n > 1) wrong = "with --git name one directory, or none for the shipped";
  else if (!options->revision && (n < 1 || n > 2))
    wrong = "name two directories, or one to compare with the shipped knowledge";
  else if (!options->revision && n == 1 && options->bare)
    wrong = "with --bare name two directories";
  else if (options->revision && n == 0 && options->bare)
    wrong = "with --bare name the directory, which is the whole knowledge";
  if (wrong) fprintf(stderr, "whymiss compare: %s\n", wrong);
  return !wrong;
}

/* ---- the two bases ---- */

static bool find_directories(struct comparing *comparing) {
  const struct options *options = comparing->options;
  const char *first = options->n_words > 0 ? options->words[0].text : NULL;
  if (!options->revision) {
    bool two = options->n_words == 2;
    comparing->old_directory = two ? first : NULL;
    comparing->new_directory = two ? options->words[1].text : first;
    return true;
  }
  const char *directory = first ? first : comparing->base;
  if (!revision_take(directory, options->revision, comparing->past, sizeof comparing->past))
    return false;
  comparing->old_directory = comparing->past;
  comparing->new_directory = first;
  return true;
}

/* From the lowest up: the shipped knowledge, what --kb lays over it, the directory. The shipped
 * knowledge at a revision takes the place of the shipped knowledge. */
static wm_kb *load(struct comparing *comparing, const char *directory, bool is_base) {
  const struct options *options = comparing->options;
  const char *layers[LAYERS_MAX + 2];
  size_t n = 0;
  wm_kb *kb = NULL;
  if (is_base) layers[n++] = directory;
  else if (!options->bare) layers[n++] = comparing->base;
  for (size_t i = 0; i < options->n_layers; i++) layers[n++] = options->layers[i];
  if (directory && !is_base) layers[n++] = directory;
  struct session *session = &comparing->session;
  session_note(session, wm_kb_load(&kb, layers, n, NULL, session->diags));
  if (!kb) {
    session_tell(session);
    if (!options->bare && directory && !is_base)
      fprintf(stderr, "'%s' was laid over the shipped knowledge; --bare takes it as a whole.\n",
              directory);
  }
  return kb;
}

static bool load_both(struct comparing *comparing) {
  bool is_base = comparing->options->revision && comparing->options->n_words == 0;
  comparing->old_kb = load(comparing, comparing->old_directory, is_base);
  if (comparing->old_kb) comparing->new_kb = load(comparing, comparing->new_directory, false);
  return comparing->old_kb && comparing->new_kb;
}

/* ---- the command ---- */

static bool is_failure(const struct comparing *comparing, const wm_comparison *comparison) {
  struct wm_comparison_counts counts;
  wm_comparison_count(comparison, &counts);
  bool worse = counts.worse > 0;
  bool any = worse || counts.better + counts.other_answer > 0 ||
             counts.leading + counts.drill + counts.standing > 0;
  return comparing->fail_on == FAIL_WORSE ? worse : comparing->fail_on == FAIL_ANY && any;
}

static void compare(struct comparing *comparing) {
  struct session *session = &comparing->session;
  wm_comparison *comparison = NULL;
  session_note(session, wm_compare(&comparison, comparing->old_kb, comparing->new_kb,
                                   comparing->impacts, comparing->seed, NULL));
  if (comparison) {
    session_note(session,
                 wm_comparison_write(comparison, session_format(session), write_file, stdout));
    if (is_failure(comparing, comparison)) session_note(session, WM_FINDINGS);
  }
  wm_comparison_free(comparison);
}

static void run(struct comparing *comparing) {
  struct session *session = &comparing->session;
  if (!comparing->options->bare && !session_base(comparing->base, sizeof comparing->base))
    session_note(session, WM_KB_FAULTY);
  else if (!session->diags) session_note(session, WM_INTERNAL);
  else if (!find_directories(comparing)) session_note(session, WM_INPUT_FAULTY);
  else if (load_both(comparing)) compare(comparing);
}

enum wm_status cmd_compare(const struct options *options) {
  struct comparing comparing = {.options = options, .impacts = IMPACTS, .seed = 1};
  if (!has_words(options) || !read_fail_on(&comparing) ||
      !read_count("impacts", options->impacts, WM_IMPACTS_MAX, &comparing.impacts) ||
      !read_count("seed", options->seed, 4294967295ul, &comparing.seed))
    return WM_USAGE;
  comparing.session = (struct session){.options = options, .diags = wm_diags_new(NULL)};
  run(&comparing);
  revision_remove(comparing.past);
  wm_kb_free(comparing.old_kb);
  wm_kb_free(comparing.new_kb);
  return session_close(&comparing.session);
}
