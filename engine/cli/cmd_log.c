/* log: a player's lessons, kept as one plain file a player. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "cli/cli.h"

#define PATH_ROOM 4096

/* --in, else WHYMISS_LOG, else the place the desktop standard names. */
static bool find_directory(const struct options *options, char *out, size_t room) {
  const char *named = options->log_directory ? options->log_directory : getenv("WHYMISS_LOG");
  const char *state = getenv("XDG_DATA_HOME"), *home = getenv("HOME");
  int n;
  if (named && *named) n = snprintf(out, room, "%s", named);
  else if (state && *state) n = snprintf(out, room, "%s/whymiss-log", state);
  else if (home && *home) n = snprintf(out, room, "%s/.whymiss-log", home);
  else n = -1;
  if (n >= 0 && (size_t)n < room) return true;
  fprintf(stderr, "whymiss log: say where the logs are: --in DIR\n");
  return false;
}

static void today(char out[20]) {
  time_t now = time(NULL);
  struct tm local;
  if (localtime_r(&now, &local)) strftime(out, 20, "%Y-%m-%dT%H:%M", &local);
  else snprintf(out, 20, "1970-01-01");
}

/* A name that says nothing about who it is. */
static bool make_pseudonym(char *out, size_t room) {
  static const char *const first[] = {"quiet", "amber", "brisk",  "early", "fallow", "gentle",
                                      "hardy", "keen",  "mellow", "north", "plain",  "steady",
                                      "sunny", "swift", "upland", "windy"};
  static const char *const second[] = {"heron", "birch",   "otter",  "finch",  "maple", "plover",
                                       "hazel", "swift",   "alder",  "curlew", "rowan", "wren",
                                       "cedar", "lapwing", "willow", "marten"};
  unsigned char bytes[4];
  FILE *chance = fopen("/dev/urandom", "rb");
  bool good = chance && fread(bytes, 1, sizeof bytes, chance) == sizeof bytes;
  if (chance) fclose(chance);
  if (good)
    snprintf(out, room, "%s-%s-%u", first[bytes[0] % 16], second[bytes[1] % 16],
             (bytes[2] * 256u + bytes[3]) % 9000u + 1000u);
  else fprintf(stderr, "whymiss log: no chance to make up a name; give one\n");
  return good;
}

/* Evidence has a "="; the first word without one is the player. */
static bool is_player(const struct word *word) {
  return !strchr(word->text, '=');
}

/* What stops a lesson is told at once, not only kept. */
static void tell_stop(struct session *session) {
  size_t n;
  const struct wm_finding *findings = wm_case_findings(session->player, &n);
  bool stop = false;
  for (size_t i = 0; i < n; i++) stop = stop || findings[i].red_flag;
  if (stop)
    session_note(session, wm_case_write(session->player, WM_BRIEF, WM_TEXT, write_file, stdout));
}

static enum wm_status add(const struct options *options, const char *directory) {
  struct session session;
  char made[64], date[20];
  const struct word *words = options->words + 1;
  size_t n = options->n_words - 1;
  bool named = n > 0 && is_player(&words[0]);
  const char *player = named ? words[0].text : made;
  if (!named && !make_pseudonym(made, sizeof made)) return WM_INTERNAL;
  today(date);
  struct wm_lesson lesson = {.date = options->date ? options->date : date,
                             .note = options->note,
                             .verdict = options->verdict};
  bool has_case = n > (size_t)named || options->case_from || options->say;
  if (!has_case && !options->note && !options->verdict) {
    fprintf(stderr, "whymiss log add: give evidence, or a --note\n");
    return WM_USAGE;
  }
  if (session_open(&session, options) &&
      (!has_case || session_run(&session, words + named, n - named))) {
    if (has_case) tell_stop(&session);
    session_note(&session, wm_log_add(directory, player, has_case ? session.player : NULL, &lesson,
                                      session.diags));
    if (session.status == WM_OK) printf("%s: lesson of %s kept\n", player, lesson.date);
  }
  return session_close(&session);
}

static enum wm_status show(const struct options *options, const char *directory) {
  struct session session;
  if (session_open(&session, options))
    session_note(&session,
                 wm_log_write(session.kb, directory, options->words[1].text,
                              session_format(&session), write_file, stdout, session.diags));
  return session_close(&session);
}

static enum wm_status delete (const struct options *options, const char *directory) {
  wm_diags *diags = wm_diags_new(NULL);
  enum wm_status status = wm_log_delete(directory, options->words[1].text, diags);
  if (status == WM_OK) printf("%s: log deleted\n", options->words[1].text);
  if (diags) wm_diags_write(diags, write_file, stderr);
  wm_diags_free(diags);
  return status;
}

enum wm_status cmd_log(const struct options *options) {
  static const struct {
    const char *name;
    bool needs_player;
    enum wm_status (*act)(const struct options *options, const char *directory);
  } verbs[] = {{"add", false, add}, {"show", true, show}, {"delete", true, delete}};
  const char *names[] = {"add", "show", "delete"};
  char directory[PATH_ROOM];
  const char *verb = options->n_words > 0 ? options->words[0].text : "";
  for (size_t i = 0; i < sizeof verbs / sizeof verbs[0]; i++) {
    if (strcmp(verbs[i].name, verb) != 0) continue;
    if (verbs[i].needs_player && options->n_words != 2) {
      fprintf(stderr, "whymiss log %s: name one player\n", verb);
      return WM_USAGE;
    }
    return find_directory(options, directory, sizeof directory) ? verbs[i].act(options, directory)
                                                                : WM_USAGE;
  }
  fprintf(stderr, "whymiss log: say add, show or delete%s\n", options_hint(verb, names, 3, ""));
  return WM_USAGE;
}
