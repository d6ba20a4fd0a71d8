/* whymiss: from a golf shot's numbers and words to its cause, and to the one drill to do now. */
#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "cli/cli.h"

const struct command commands[] = {
    {"diagnose", DIAGNOSE, "[options] [evidence=value ...]",
     "find what is behind a miss, and the drill to do now",
     "diagnose club=7i face=1 path=-5+-1 strike=toe ball_speed=88mph", cmd_diagnose},
    {"why", WHY, "ITEM [options] [evidence=value ...]",
     "why an evidence, finding, cause, drill or rule is as it is",
     "why shaft_steepens club=7i face=1 path=-5", cmd_why},
    {"whynot", WHYNOT, "ITEM [options] [evidence=value ...]",
     "why it is not believed or chosen, and by how much it missed",
     "whynot weak_lead_grip club=7i face=1 path=-5", cmd_whynot},
    {"contrast", CONTRAST, "A B [options] [evidence=value ...]",
     "two causes, findings or drills side by side",
     "contrast shaft_steepens body_aims_left club=7i face=1 path=-5", cmd_contrast},
    {"whatif", WHATIF, "[options] [evidence=value ...] then [evidence=value ...]",
     "what other evidence would change; 'name=' takes evidence back",
     "whatif club=7i face=1 path=-5 then path=0", cmd_whatif},
    {"flight", FLIGHT, "[options] [evidence=value ...]",
     "what the numbers alone imply: geometry, launch, carry, loss",
     "flight club=8i club_speed=72mph ball_speed=88mph face=1 path=-5", cmd_flight},
    {"retest", RETEST, "BEFORE AFTER [options] [evidence=value ...]",
     "two tables of shots: did the drill work, and what it gained",
     "retest monday.csv friday.csv --club 7i", cmd_retest},
    {"stream", STREAM, "[options] < CASES.jsonl",
     "cases as JSON Lines in, answers as JSON Lines out, in order", "stream --jobs 2 < cases.jsonl",
     cmd_stream},
    {"log", LOG, "add [PLAYER] [options] [evidence=value ...] | show PLAYER | delete PLAYER",
     "a player's lessons over time, kept as one plain file",
     "log add keen-heron-4711 club=7i face=1 path=-5 strike=toe", cmd_log},
    {"show", SHOW, "ITEM ... [options]", "an entry of the knowledge, or a list of entries",
     "show path", cmd_show},
    {"check", CHECK, "[options]", "check the knowledge, and list what your own replaces",
     "check --kb my-academy", cmd_check},
    {"cases", CASES, "[NAME | FILE ...] [options]",
     "run worked cases: which come out as expected, what they reach",
     "cases setup-feet-left-path-right", cmd_cases},
    {"compare", COMPARE, "OLD NEW | DIR | --git REV [DIR] [options]",
     "what an edit of the knowledge changes", "compare my-academy", cmd_compare},
    {"mend", MEND, "CASE | FILE [options]",
     "the smallest edits of the rules that set a failing case right",
     "mend setup-feet-left-path-right", cmd_mend},
    {"new", NEW, "kb DIR", "make a directory for knowledge of your own, with an example in it",
     "new kb my-academy", cmd_new},
    {"tidy", TIDY, "FILE | DIR ... [options]",
     "lay files of knowledge out alike, keeping comments and order", "tidy --check my-academy",
     cmd_tidy},
    {NULL, 0, NULL, NULL, NULL, NULL},
};

static void print_version(void) {
  char libraries[128];
  wm_library_versions(libraries, sizeof libraries);
  printf("whymiss %s\n%s\n", wm_version(), libraries);
}

static void print_help(FILE *out) {
  fprintf(out, "whymiss: from a golf shot's numbers and words to its cause, and to one drill\n\n");
  for (const struct command *command = commands; command->name; command++)
    fprintf(out, "  %-10s %s\n", command->name, command->about);
  fprintf(out, "\nTry:\n  whymiss %s\n", commands[0].example);
  fprintf(out, "'whymiss COMMAND --help' tells more; --version tells the version.\n");
}

static const struct command *find_command(const char *name) {
  const char *names[64];
  size_t n = 0;
  for (const struct command *command = commands; command->name; command++) {
    if (strcmp(command->name, name) == 0) return command;
    names[n++] = command->name;
  }
  fprintf(stderr, "whymiss: there is no command '%s'%s\n", name, options_hint(name, names, n, ""));
  fprintf(stderr, "'whymiss --help' lists the commands.\n");
  return NULL;
}

static enum wm_status act(const char *name, int argc, char **argv) {
  static struct options options;
  const struct command *command = find_command(name);
  if (!command || !options_read(&options, command, argc, argv)) return WM_USAGE;
  if (options.help) {
    options_help(command);
    return WM_OK;
  }
  return command->act(&options);
}

static bool is_one_of(const char *word, const char *a, const char *b, const char *c) {
  return strcmp(word, a) == 0 || strcmp(word, b) == 0 || strcmp(word, c) == 0;
}

static enum wm_status help(int argc, char **argv) {
  if (argc == 0) {
    print_help(stdout);
    return WM_OK;
  }
  const struct command *command = find_command(argv[0]);
  if (!command) return WM_USAGE;
  options_help(command);
  return WM_OK;
}

static enum wm_status run(int argc, char **argv) {
  if (argc < 2) {
    print_help(stderr);
    return WM_USAGE;
  }
  if (is_one_of(argv[1], "--help", "-h", "help")) return help(argc - 2, argv + 2);
  if (is_one_of(argv[1], "--version", "-V", "version")) {
    print_version();
    return WM_OK;
  }
  return act(argv[1], argc - 2, argv + 2);
}

/* Output that did not arrive is a failure, whatever else went well. */
int main(int argc, char **argv) {
  enum wm_status status = run(argc, argv);
  if (fflush(stdout) != 0 || ferror(stdout)) {
    fprintf(stderr, "whymiss: cannot write the output: %s\n", strerror(errno));
    return WM_INTERNAL;
  }
  return status;
}
