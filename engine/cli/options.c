/* One table of options reads the command line and prints the help. */
#include <stdio.h>
#include <string.h>

#include "cli/cli.h"

enum option_kind { OPTION_FLAG, OPTION_TEXT, OPTION_LAYER, OPTION_UNIT };

static const struct option {
  const char *name;
  const char *value; /* what the help calls it; NULL: it takes none */
  const char *about;
  unsigned commands;
  enum option_kind kind;
  size_t place; /* of the bool or the text in struct options */
} table[] = {
    {"case", "CASE", "take the evidence of a case file, or of a worked case", WITH_CASE,
     OPTION_TEXT, offsetof(struct options, case_from)},
    {"say", "WORDS", "what happens in the player's own words", WITH_CASE & ~FLIGHT, OPTION_TEXT,
     offsetof(struct options, say)},
    {"handed", "HAND", "left or right: the hand the player plays with", WITH_CASE | RETEST,
     OPTION_TEXT, offsetof(struct options, handed)},
    {"mean-of", "N", "each number is the mean of N shots", WITH_CASE, OPTION_TEXT,
     offsetof(struct options, mean_of)},
    {"shots", "FILE", "a table of shots (- is standard input): each miss explained", DIAGNOSE,
     OPTION_TEXT, offsetof(struct options, shots)},
    {"unit", "NAME=UNIT", "of a column of shots that names none; repeatable", DIAGNOSE | RETEST,
     OPTION_UNIT, 0},
    {"club", "CLUB", "the club of shots that name none", DIAGNOSE | RETEST, OPTION_TEXT,
     offsetof(struct options, club)},
    {"window", "WINDOW", "of shots: half the target's width in degrees, or a name",
     DIAGNOSE | RETEST, OPTION_TEXT, offsetof(struct options, window)},
    {"number", "NAME=GOAL", "test this number against this goal, not the plan's", RETEST,
     OPTION_TEXT, offsetof(struct options, number)},
    {"follow", NULL, "the shots after come one by one on standard input", RETEST, OPTION_FLAG,
     offsetof(struct options, follow)},
    {"brief", NULL, "a few lines", DIAGNOSE, OPTION_FLAG, offsetof(struct options, brief)},
    {"steps", NULL, "the numbered steps from the evidence to the answer", DIAGNOSE, OPTION_FLAG,
     offsetof(struct options, steps)},
    {"all", NULL, "with --steps: also what did not matter", DIAGNOSE, OPTION_FLAG,
     offsetof(struct options, all)},
    {"coverage", NULL, "what of the knowledge the cases reach, and what they do not", CASES,
     OPTION_FLAG, offsetof(struct options, coverage)},
    {"mutate", NULL, "put small mistakes into the rules; list those not noticed", CASES,
     OPTION_FLAG, offsetof(struct options, mutate)},
    {"answers", NULL, "what each case comes to, as lines to keep and compare", CASES, OPTION_FLAG,
     offsetof(struct options, answers)},
    {"brief", NULL, "with --answers: one line a case", CASES, OPTION_FLAG,
     offsetof(struct options, brief)},
    {"accepted", "FILE", "compare with answers accepted earlier (--answers --brief > FILE)", CASES,
     OPTION_TEXT, offsetof(struct options, accepted)},
    {"notice", "LEVEL", "with --mutate: verdict (usual), answer or certainty", CASES, OPTION_TEXT,
     offsetof(struct options, notice)},
    {"git", "REV", "compare the directory with itself at a revision of git", COMPARE, OPTION_TEXT,
     offsetof(struct options, revision)},
    {"fail-on", "WHAT", "end with 1 when a case gets worse (worse) or changes (any)", COMPARE,
     OPTION_TEXT, offsetof(struct options, fail_on)},
    {"impacts", "N", "how many plausible impacts to draw", COMPARE | CHECK, OPTION_TEXT,
     offsetof(struct options, impacts)},
    {"seed", "N", "of the draw (1): the same seed, the same impacts", COMPARE | CHECK, OPTION_TEXT,
     offsetof(struct options, seed)},
    {"thorough", NULL, "more impacts, and a case looked for in which each rule fires", CHECK,
     OPTION_FLAG, offsetof(struct options, thorough)},
    {"explain", "CODE", "what the code of a diagnostic means, such as never-fires", CHECK,
     OPTION_TEXT, offsetof(struct options, explain)},
    {"witness", "DIR", "write the case that shows a finding into this directory", CHECK,
     OPTION_TEXT, offsetof(struct options, witness)},
    {"sarif", NULL, "SARIF 2.1.0 instead of text", CHECK, OPTION_FLAG,
     offsetof(struct options, sarif)},
    {"model", "NAME", "blend (usual), smits1994 or lyu2018", FLIGHT, OPTION_TEXT,
     offsetof(struct options, model)},
    {"wind", "WIND", "speed and where from: \"5 m/s left\", ahead, behind, degrees", FLIGHT,
     OPTION_TEXT, offsetof(struct options, wind)},
    {"temperature", "T", "of the air: 25, \"77 F\"", FLIGHT, OPTION_TEXT,
     offsetof(struct options, temperature)},
    {"altitude", "H", "above the sea: 800, \"2600 ft\"", FLIGHT, OPTION_TEXT,
     offsetof(struct options, altitude)},
    {"csv", NULL, "the path as a table of points", FLIGHT, OPTION_FLAG,
     offsetof(struct options, csv)},
    {"plot", NULL, "a picture in the terminal: from the side, from above", FLIGHT, OPTION_FLAG,
     offsetof(struct options, plot)},
    {"svg", NULL, "the same picture as an SVG document", FLIGHT, OPTION_FLAG,
     offsetof(struct options, svg)},
    {"residuals", NULL, "each model beside every outside check value", FLIGHT, OPTION_FLAG,
     offsetof(struct options, residuals)},
    {"jobs", "N", "how many cases at once (1); the order stays", STREAM, OPTION_TEXT,
     offsetof(struct options, jobs)},
    {"whole", NULL, "with each answer the whole diagnosis", STREAM, OPTION_FLAG,
     offsetof(struct options, whole)},
    {"in", "DIR", "where the logs are (else WHYMISS_LOG, else your home)", LOG, OPTION_TEXT,
     offsetof(struct options, log_directory)},
    {"note", "TEXT", "with log add: a note to keep", LOG, OPTION_TEXT,
     offsetof(struct options, note)},
    {"verdict", "TEXT", "with log add: what a retest came to", LOG, OPTION_TEXT,
     offsetof(struct options, verdict)},
    {"date", "DATE", "with log add: of the lesson, 2026-05-30 (else now)", LOG, OPTION_TEXT,
     offsetof(struct options, date)},
    {"check", NULL, "name the files that would change, and end with 1 when there are any", TIDY,
     OPTION_FLAG, offsetof(struct options, tidy_check)},
    {"write", NULL, "put the new layout in the place of the old, and name the files", TIDY,
     OPTION_FLAG, offsetof(struct options, write)},
    {"json", NULL, "JSON instead of text", EVERY, OPTION_FLAG, offsetof(struct options, json)},
    {"kb", "DIR", "lay a directory of knowledge over the shipped; repeatable", EVERY, OPTION_LAYER,
     0},
    {"bare", NULL, "leave the shipped knowledge out", EVERY, OPTION_FLAG,
     offsetof(struct options, bare)},
    {"help", NULL, "print this", EVERY | NEW | TIDY, OPTION_FLAG, offsetof(struct options, help)},
};
#define N_OPTIONS (sizeof table / sizeof table[0])

const char *options_hint(const char *word, const char *const *names, size_t n, const char *prefix) {
  static char hint[96];
  const char *nearest = wm_nearest(word, names, n);
  hint[0] = '\0';
  if (nearest) snprintf(hint, sizeof hint, "; did you mean '%s%s'?", prefix, nearest);
  return hint;
}

/* ---- reading ---- */

struct reading {
  struct options *options;
  const struct command *command;
  int argc, at;
  char **argv;
  bool good;
};

static void complain(struct reading *reading, const char *what, const char *word,
                     const char *hint) {
  fprintf(stderr, "whymiss %s: %s '%s'%s\n", reading->command->name, what, word, hint);
  reading->good = false;
}

/* The option called by the first n bytes of a word without its dashes; NULL after a message. */
static const struct option *find_option(struct reading *reading, const char *word, size_t n) {
  const char *names[N_OPTIONS];
  size_t n_names = 0;
  for (size_t i = 0; i < N_OPTIONS; i++) {
    if (!(table[i].commands & reading->command->bit)) continue;
    if (strlen(table[i].name) == n && memcmp(table[i].name, word, n) == 0) return &table[i];
    names[n_names++] = table[i].name;
  }
  char name[64];
  snprintf(name, sizeof name, "--%.*s", (int)(n < 60 ? n : 60), word);
  complain(reading, "there is no option", name, options_hint(name + 2, names, n_names, "--"));
  return NULL;
}

/* The value after "=", or the next word; NULL after a message. */
static const char *option_value(struct reading *reading, const struct option *option,
                                const char *equals) {
  if (equals) return equals + 1;
  if (reading->at + 1 < reading->argc) return reading->argv[++reading->at];
  fprintf(stderr, "whymiss %s: --%s needs %s: %s\n", reading->command->name, option->name,
          option->value, option->about);
  reading->good = false;
  return NULL;
}

static void set_text(struct reading *reading, const struct option *option, const char *value) {
  const char **place = (const char **)((char *)reading->options + option->place);
  if (*place) complain(reading, "option given twice:", option->name, "");
  *place = value;
}

static void add_layer(struct reading *reading, const char *value) {
  if (reading->options->n_layers == LAYERS_MAX) complain(reading, "too many --kb, from", value, "");
  else reading->options->layers[reading->options->n_layers++] = value;
}

static void add_unit(struct reading *reading, const char *value) {
  if (reading->options->n_units == UNITS_MAX) complain(reading, "too many --unit, from", value, "");
  else reading->options->units[reading->options->n_units++] = value;
}

static void read_option(struct reading *reading, const char *word) {
  const char *equals = strchr(word, '=');
  const struct option *option =
      find_option(reading, word, equals ? (size_t)(equals - word) : strlen(word));
  if (!option) return;
  if (option->kind == OPTION_FLAG) {
    if (equals) complain(reading, "this option takes no value:", option->name, "");
    *(bool *)((char *)reading->options + option->place) = true;
    return;
  }
  const char *value = option_value(reading, option, equals);
  if (value && option->kind == OPTION_TEXT) set_text(reading, option, value);
  else if (value && option->kind == OPTION_UNIT) add_unit(reading, value);
  else if (value) add_layer(reading, value);
}

static void add_word(struct reading *reading, const char *text) {
  struct options *options = reading->options;
  if (options->n_words == WORDS_MAX) {
    complain(reading, "too many arguments, from", text, "");
    return;
  }
  struct word *word = &options->words[options->n_words++];
  word->text = text;
  snprintf(word->place, sizeof word->place, "argument %d", reading->at + 1);
}

bool options_read(struct options *options, const struct command *command, int argc, char **argv) {
  struct reading reading = {
      .options = options, .command = command, .argc = argc, .argv = argv, .good = true};
  bool only_words = false;
  memset(options, 0, sizeof *options);
  for (; reading.at < argc; reading.at++) {
    const char *word = argv[reading.at];
    if (only_words || word[0] != '-' || word[1] == '\0') add_word(&reading, word);
    else if (strcmp(word, "--") == 0) only_words = true;
    else if (strcmp(word, "-h") == 0) options->help = true;
    else read_option(&reading, word + (word[1] == '-' ? 2 : 1));
  }
  if (!reading.good) fprintf(stderr, "'whymiss %s --help' lists the options.\n", command->name);
  return reading.good;
}

/* ---- help ---- */

void options_help(const struct command *command) {
  printf("whymiss %s: %s\n\n  whymiss %s %s\n\n", command->name, command->about, command->name,
         command->synopsis);
  for (size_t i = 0; i < N_OPTIONS; i++) {
    if (!(table[i].commands & command->bit)) continue;
    char name[32];
    snprintf(name, sizeof name, "--%s%s%s", table[i].name, table[i].value ? " " : "",
             table[i].value ? table[i].value : "");
    printf("  %-16s %s\n", name, table[i].about);
  }
  printf("\nExample:\n  whymiss %s\n", command->example);
  if (command->bit & WITH_CASE) printf("\n'whymiss show evidence' lists what can be given.\n");
  if (command->bit == SHOW)
    printf("\nLists: evidence, findings, causes, drills, rules, clubs, sources, cases,\n"
           "and functions, which formulas may call.\n");
}
