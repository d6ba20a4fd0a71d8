/* What the parts of the command share: the tables of commands and options, what was asked, and the
 * steps every command takes. Uses only whymiss.h. One thread. Texts point into argv, which outlives
 * everything here. */
#ifndef WM_CLI_CLI_H
#define WM_CLI_CLI_H

#include <stdbool.h>
#include <stddef.h>

#include "whymiss.h"

#define WORDS_MAX 256
#define LAYERS_MAX 16
#define UNITS_MAX 32
#define PLACE_ROOM 32

/* ---- what was asked ---- */

/* A word of the command line that is no option. */
struct word {
  const char *text;
  char place[PLACE_ROOM]; /* "argument 3", counted after the command's name */
};

struct options {
  const char *case_from, *handed, *mean_of, *say; /* NULL: not given */
  const char *notice, *accepted;                  /* cases; NULL: not given */
  const char *shots, *club, *window;              /* diagnose a table of shots; NULL: not given */
  bool json, brief, steps, all, bare, help;
  bool coverage, mutate, answers;                    /* cases */
  const char *revision, *fail_on, *impacts, *seed;   /* compare, check; NULL: not given */
  const char *explain, *witness;                     /* check; NULL: not given */
  bool thorough, sarif;                              /* check */
  const char *model, *wind, *temperature, *altitude; /* flight; NULL: not given */
  const char *jobs;                                  /* stream; NULL: not given */
  bool whole;                                        /* stream */
  bool tidy_check, write;                            /* tidy */
  const char *log_directory, *note, *verdict, *date; /* log; NULL: not given */
  const char *number;                                /* retest; NULL: not given */
  bool follow;                                       /* retest */
  bool csv, plot, svg, residuals;                    /* flight */
  const char *layers[LAYERS_MAX];
  size_t n_layers;
  const char *units[UNITS_MAX]; /* of columns: "name=unit" */
  size_t n_units;
  struct word words[WORDS_MAX];
  size_t n_words;
};

/* The commands an option belongs to; one bit a command. */
enum command_bit {
  DIAGNOSE = 1 << 0,
  WHY = 1 << 1,
  WHYNOT = 1 << 2,
  CONTRAST = 1 << 3,
  WHATIF = 1 << 4,
  SHOW = 1 << 5,
  CHECK = 1 << 6,
  CASES = 1 << 7,
  COMPARE = 1 << 8,
  MEND = 1 << 9,
  FLIGHT = 1 << 16,
  LOG = 1 << 17,
  STREAM = 1 << 18,
  RETEST = 1 << 19,
  NEW = 1 << 20, /* these two read no knowledge base */
  TIDY = 1 << 21,
  WITH_CASE = DIAGNOSE | WHY | WHYNOT | CONTRAST | WHATIF | FLIGHT | LOG,
  EVERY = WITH_CASE | STREAM | RETEST | SHOW | CHECK | CASES | COMPARE | MEND
};

struct command {
  const char *name;
  enum command_bit bit;
  const char *synopsis; /* what follows the name */
  const char *about;    /* one line */
  const char *example;  /* what follows "whymiss" */
  enum wm_status (*act)(const struct options *options);
};

/* The table, ended by a NULL name. */
extern const struct command commands[];

/* Reads what follows the command's name; false after messages on stderr. */
bool options_read(struct options *options, const struct command *command, int argc, char **argv);
/* Prints what the command does, its options and an example. */
void options_help(const struct command *command);
/* "; did you mean 'x'?" for the nearest of the names, shown behind the prefix, or "". Borrowed
 * until the next call. */
const char *options_hint(const char *word, const char *const *names, size_t n, const char *prefix);

/* ---- what every command does ---- */

/* A knowledge base, a case when it was asked for, and what is wrong with them. */
struct session {
  const struct options *options;
  wm_diags *diags;
  wm_kb *kb;
  wm_case *player;
  enum wm_status status; /* the worst so far, WM_OK at the start */
  bool found;            /* there were directories of knowledge to read */
};

/* Loads the shipped knowledge and the layers; false when that failed: session_close tells why. */
bool session_open(struct session *session, const struct options *options);
/* Makes the case from --case, --handed, --mean-of and the n words, tells all faults, runs it; false
 * when that failed. */
bool session_run(struct session *session, const struct word *words, size_t n);
/* Where the shipped knowledge is; false after a message. */
bool session_base(char *out, size_t room);
/* Whether a word looks like a file: it has a slash or ends in .yaml, or there is such a file. */
bool looks_like_file(const char *word);
/* Gives hand, case and the n words to session->player; faults are noted, not yet told. */
void session_fill(struct session *session, const struct word *words, size_t n);
/* Keeps the worst status. */
void session_note(struct session *session, enum wm_status status);
/* Prints the diagnostics not yet printed. */
void session_tell(struct session *session);
/* Frees all and returns the status. */
enum wm_status session_close(struct session *session);
/* JSON, or text with or without emphasis as the terminal allows. */
enum wm_format session_format(const struct session *session);

/* Where the shipped knowledge is; false: nowhere, and *out says where it was looked for. */
bool base_find(char *out, size_t room);

/* A wm_write to a FILE, which is the context. */
int write_file(void *file, const char *bytes, size_t n);

/* Gives what holds for all shots of a table: hand, club, units, window and the n words; faults are
 * noted, not yet told. */
void shots_prepare(struct session *session, wm_session *shots, const struct word *words, size_t n);
/* Reads a table; "-" is standard input. */
void shots_read(struct session *session, wm_session *shots, const char *from);
/* A wm_read of standard input; the context is not used. */
long shots_input(void *context, char *bytes, size_t room);
/* diagnose --shots: reads the table, writes the session. */
enum wm_status shots_diagnose(const struct options *options);

enum wm_status cmd_diagnose(const struct options *options);
enum wm_status cmd_why(const struct options *options);
enum wm_status cmd_whynot(const struct options *options);
enum wm_status cmd_contrast(const struct options *options);
enum wm_status cmd_whatif(const struct options *options);
enum wm_status cmd_show(const struct options *options);
enum wm_status cmd_check(const struct options *options);
enum wm_status cmd_cases(const struct options *options);
enum wm_status cmd_compare(const struct options *options);
enum wm_status cmd_mend(const struct options *options);
enum wm_status cmd_new(const struct options *options);
enum wm_status cmd_tidy(const struct options *options);
enum wm_status cmd_stream(const struct options *options);
enum wm_status cmd_log(const struct options *options);
enum wm_status cmd_retest(const struct options *options);
enum wm_status cmd_flight(const struct options *options);

#endif
