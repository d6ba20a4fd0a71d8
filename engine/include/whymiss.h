/* whymiss: from a golf shot's numbers and words to its cause, and to the one drill to do now.
 *
 * Load a knowledge base, make a case on it, give evidence, run, walk or write the results:
 *     wm_diags *diags = wm_diags_new(NULL);
 *     wm_kb *kb = NULL;
 *     wm_case *player = NULL;
 *     if (wm_kb_load(&kb, (const char *[]){"/usr/share/whymiss"}, 1, NULL, diags) == WM_OK &&
 *         wm_case_new(&player, kb, NULL) == WM_OK &&
 *         wm_case_give(player, "path=-5 deg", "argument 1", diags) == WM_OK &&
 *         wm_case_run(player, diags) == WM_OK)
 *       wm_case_write(player, WM_ANSWER, WM_TEXT, to_stdout, NULL);
 *     else
 *       wm_diags_write(diags, to_stdout, NULL);
 *     wm_case_free(player);
 *     wm_kb_free(kb);
 *     wm_diags_free(diags);
 *
 * Signs: + is right as seen looking at the target, up, or toward the toe, for players of either
 * hand. A left-handed case is mirrored inside; values given and values told are always as the
 * player sees them. Units: each number is in the unit of its evidence (wm_reading.unit) unless it
 * is given as text with another unit. An error is one standard deviation. A certainty runs from -1
 * (certainly not) over 0 (nothing known) to 1 (certain). It is not a probability.
 *
 * Threads: a wm_kb is frozen once loaded and may be used by any number of threads. A wm_case and a
 * wm_diags belong to one thread at a time. The library has no global state, never prints and never
 * ends the process. Ownership: what a function returns through a pointer-to-pointer is the caller's
 * to free; every other pointer is borrowed, and says until when. Strings are NUL-terminated UTF-8.
 * All _free functions take NULL. A kb must outlive its cases. */
#ifndef WHYMISS_H
#define WHYMISS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct wm_kb wm_kb;       /* a knowledge base: vocabulary and compiled rules, immutable */
typedef struct wm_case wm_case;   /* one player, one kind of shot: evidence in, results out */
typedef struct wm_diags wm_diags; /* what is wrong with what somebody wrote, and where */

/* What a call came to; the values are the exit codes of the command. */
enum wm_status {
  WM_OK = 0,
  WM_FINDINGS = 1, /* done, and something was found that wants attention */
  WM_USAGE = 2, /* the call itself is wrong: a NULL argument, a result asked for before the run */
  WM_KB_FAULTY = 3,    /* the knowledge base; see the diagnostics */
  WM_INPUT_FAULTY = 4, /* evidence, case file or name; see the diagnostics */
  WM_INTERNAL = 5      /* no memory, or a write or read failed */
};

/* ---- memory and output ---- */

/* Where memory comes from. The functions are called by the thread that uses the object made with
 * it; an allocator shared by threads must guard itself. It is copied; context must outlive the
 * object. NULL instead of an allocator: malloc and free. */
#ifndef WM_ALLOCATOR_DEFINED
#define WM_ALLOCATOR_DEFINED
struct wm_allocator {
  void *(*take)(void *context, size_t size); /* aligned for any object; NULL: no memory */
  void (*give_back)(void *context, void *block, size_t size); /* size as it was taken */
  void *context;
  size_t block; /* bytes taken at a time; 0: 64 KiB; 1: every taking is its own block */
};
#endif

/* Takes n bytes of output; 0: taken, anything else stops the writing with WM_INTERNAL. */
typedef int (*wm_write)(void *context, const char *bytes, size_t n);

/* WM_EMPHASIS is text with headings in bold by terminal codes, where the view has headings; never
 * the only carrier of meaning. */
enum wm_format { WM_TEXT, WM_EMPHASIS, WM_JSON };

/* ---- diagnostics ---- */

enum wm_level { WM_NOTE, WM_WARNING, WM_ERROR };

struct wm_diag {
  const char *code; /* a stable word, such as "unknown-name" */
  enum wm_level level;
  const char *source; /* the file, or what the caller called the text; NULL: nowhere */
  uint32_t line, column, end_line,
      end_column; /* from 1, columns in characters, the end not included; 0 when nowhere */
  const char *message;
  const char *hint; /* such as "did you mean 'path'?", or NULL */
};

/* A new, empty list; NULL: no memory. Every function that takes a list adds to it; NULL for the
 * list is allowed. It keeps copies of the lines it points at, so it may outlive what it speaks of.
 * It keeps 50 errors and counts all. */
wm_diags *wm_diags_new(const struct wm_allocator *allocator);
void wm_diags_free(wm_diags *diags);
void wm_diags_clear(wm_diags *diags);
size_t wm_diags_errors(const wm_diags *diags);
size_t wm_diags_warnings(const wm_diags *diags);
/* The diagnostics kept, in order of source and place. Borrowed until the list changes. */
size_t wm_diags_count(const wm_diags *diags);
/* False when i is past the end. */
bool wm_diags_get(const wm_diags *diags, size_t i, struct wm_diag *diag);
/* All of them for a reader: "file:line:column: error: ...", the line, a caret line, notes, hint. */
enum wm_status wm_diags_write(wm_diags *diags, wm_write write, void *context);

/* ---- the knowledge base ---- */

/* Bytes of one YAML file already in memory. Layer 0 is the lowest; a higher one lies over it. */
struct wm_file {
  const char *name; /* as diagnostics show it */
  const char *bytes;
  size_t n;
  unsigned layer;
};

/* Reads the directories, each laid over the one before: all *.yaml files under its rules/ and kb/,
 * or, where it has neither, under itself; hidden files are skipped. Any error: WM_KB_FAULTY, *kb
 * NULL, and every error is in diags; a directory that cannot be read is one of them. WM_INTERNAL:
 * no memory. */
enum wm_status wm_kb_load(wm_kb **kb, const char *const *directories, size_t n,
                          const struct wm_allocator *allocator, wm_diags *diags);
/* The same from memory; names and bytes are copied. */
enum wm_status wm_kb_load_memory(wm_kb **kb, const struct wm_file *files, size_t n,
                                 const struct wm_allocator *allocator, wm_diags *diags);
void wm_kb_free(wm_kb *kb);

struct wm_kb_counts {
  size_t files, evidence, findings, causes, drills, clubs, sources, rules, layers, cases, overrides;
};
void wm_kb_count(const wm_kb *kb, struct wm_kb_counts *counts);
/* A fingerprint of what the knowledge says: the same knowledge in other files or another order has
 * the same one. It guards against mix-ups, not against attackers. */
uint64_t wm_kb_digest(const wm_kb *kb);

/* Names in byte order, borrowed as long as the kb. NULL when i is past the end. */
enum wm_kind { WM_EVIDENCE, WM_FINDING, WM_CAUSE, WM_DRILL, WM_RULE, WM_CLUB, WM_SOURCE, WM_CASE };
const char *wm_kb_name(const wm_kb *kb, enum wm_kind kind, size_t i);

/* An entry of a lower layer replaced by one above it; all strings borrowed as long as the kb. */
struct wm_override {
  const char *kind, *name;
  const char *file, *old_file;
  uint32_t line, old_line;
};
bool wm_kb_override(const wm_kb *kb, size_t i, struct wm_override *override);

/* Adds what is doubtful though not wrong and not accepted: rules that count one reading twice,
 * causes without a drill ... WM_FINDINGS when there is any warning. */
enum wm_status wm_kb_check(const wm_kb *kb, wm_diags *diags);

/* ---- inspection: the same, with witnesses and what is accepted ---- */

typedef struct wm_inspection wm_inspection; /* all that check found; read by any thread */

struct wm_inspect {
  bool thorough;  /* more impacts, and a search for a case in which each rule fires: some seconds */
  uint64_t seed;  /* of the impacts; 0: the usual */
  size_t impacts; /* how many; 0: the usual count */
};
/* how NULL: the usual. The kb must outlive the result. */
enum wm_status wm_kb_inspect(wm_inspection **inspection, const wm_kb *kb,
                             const struct wm_inspect *how, const struct wm_allocator *allocator);
void wm_inspection_free(wm_inspection *inspection);

struct wm_inspection_counts { /* warnings, notes: of those not accepted */
  size_t findings, warnings, notes, accepted, impacts;
};
void wm_inspection_count(const wm_inspection *inspection, struct wm_inspection_counts *counts);

struct wm_flaw {
  struct wm_diag diag;
  const char *accepted; /* the reason an entry gives for it, or NULL */
  const char *witness;  /* the name of a case that shows it, or NULL */
  const char *command;  /* what to say to the command to see it: "diagnose path=-5" */
  double share;         /* gaps: share of the plausible impacts; else 0 */
};
/* By place, then by code. Strings borrowed as long as the inspection; false past the end. */
bool wm_inspection_get(const wm_inspection *inspection, size_t i, struct wm_flaw *flaw);
/* The witness of a finding as a case file; WM_USAGE when it has none. */
enum wm_status wm_inspection_write_witness(const wm_inspection *inspection, size_t i,
                                           wm_write write, void *context);
/* Adds what is not accepted to the list, each with its witness as a note. */
enum wm_status wm_inspection_tell(const wm_inspection *inspection, wm_diags *diags);

/* As JSON (docs/schemas/check.schema.json) or as SARIF 2.1.0: first what the list holds, such as
 * the errors of loading, then what was found. Either may be NULL. */
enum wm_log { WM_LOG_JSON, WM_LOG_SARIF };
enum wm_status wm_inspection_write(const wm_inspection *inspection, const wm_diags *diags,
                                   enum wm_log log, wm_write write, void *context);

/* What a code of a diagnostic means. WM_INPUT_FAULTY, told at `where`: there is no such code. */
enum wm_status wm_explain_code(const char *code, const char *where, wm_write write, void *context,
                               wm_diags *diags);

/* Writes one entry as it stands: meaning, who reads and who concludes it, source, place. `where`
 * names the place of the name in diagnostics. The name may be "functions": what formulas may call.
 * WM_INPUT_FAULTY: no such name. */
enum wm_status wm_kb_show(const wm_kb *kb, const char *name, const char *where,
                          enum wm_format format, wm_write write, void *context, wm_diags *diags);

/* Writes the names of a kind, each with what it stands for. */
enum wm_status wm_kb_list(const wm_kb *kb, enum wm_kind kind, enum wm_format format, wm_write write,
                          void *context);

/* Writes the JSON Schema (draft 7) of a file of knowledge, for editors; the names of the kb are the
 * names it allows. kb NULL: any name. */
enum wm_status wm_kb_schema(const wm_kb *kb, wm_write write, void *context);

/* ---- a case ---- */

enum wm_hand { WM_RIGHT, WM_LEFT };

enum wm_status wm_case_new(wm_case **player, const wm_kb *kb, const struct wm_allocator *allocator);
void wm_case_free(wm_case *player);
/* Back to a new case, for reuse: right-handed, one shot, no evidence. */
void wm_case_reset(wm_case *player);

enum wm_status wm_case_set_hand(wm_case *player, enum wm_hand hand);
/* How many shots each number is the mean of unless it says itself, 1 to 10000. 1, as at the start:
 * the numbers are one shot, and the answer is about that shot. More: the answer is about the
 * player's tendency, and the error of each mean follows. */
enum wm_status wm_case_set_shots(wm_case *player, unsigned shots);
/* The same two from text; a fault is told with the place `where`. */
enum wm_status wm_case_read_hand(wm_case *player, const char *text, const char *where,
                                 wm_diags *diags);
enum wm_status wm_case_read_shots(wm_case *player, const char *text, const char *where,
                                  wm_diags *diags);

/* Gives one evidence as "name=value": "path=-5", "path=-5+-1 deg", "ball_speed=88mph",
 * "strike=toe", "club=7i". `where` is what diagnostics call the text. WM_INPUT_FAULTY: unknown
 * name, wrong unit, value out of range, given twice ...; the case is unchanged. */
enum wm_status wm_case_give(wm_case *player, const char *text, const char *where, wm_diags *diags);
/* A number in the unit of the evidence; error < 0: the usual error of one reading; shots 0 or 1:
 * the case's shots. */
enum wm_status wm_case_give_number(wm_case *player, const char *evidence, double number,
                                   double error, unsigned shots, wm_diags *diags);
/* A choice, yes or no, or club by its name; sure 0 to 1. */
enum wm_status wm_case_give_choice(wm_case *player, const char *evidence, const char *choice,
                                   double sure, wm_diags *diags);
enum wm_status wm_case_give_text(wm_case *player, const char *evidence, const char *text,
                                 wm_diags *diags);
/* Gives the club, whatever the kb calls that evidence. WM_INPUT_FAULTY: no such club, or given. */
enum wm_status wm_case_read_club(wm_case *player, const char *text, const char *where,
                                 wm_diags *diags);
/* Keeps what the player says, at most 4000 bytes; called again it adds a line. wm_case_run
 * understands all of it and uses it for evidence not given otherwise, whatever the order of calls.
 * WM_INPUT_FAULTY: too long. */
enum wm_status wm_case_say(wm_case *player, const char *text, const char *where, wm_diags *diags);
/* Takes an evidence back; WM_INPUT_FAULTY when there is no such name. */
enum wm_status wm_case_take_back(wm_case *player, const char *evidence, wm_diags *diags);
/* Sets hand and gives all evidence of a case file that holds one case (docs/rules.md, "Cases"). Use
 * it before other evidence. */
enum wm_status wm_case_load(wm_case *player, const char *path, wm_diags *diags);
enum wm_status wm_case_load_memory(wm_case *player, const char *name, const char *bytes, size_t n,
                                   wm_diags *diags);
/* The same from a worked case of the kb; `where` names the place of the name. */
enum wm_status wm_case_load_worked(wm_case *player, const char *name, const char *where,
                                   wm_diags *diags);

/* Derives, applies all rules, ranks causes and drills. Contradictions between values are warnings,
 * not faults. WM_INTERNAL: no memory. */
enum wm_status wm_case_run(wm_case *player, wm_diags *diags);

/* One case of a stream: resets the case, reads one line of JSON, {"id": ..., "handed": "left",
 * "shots": 5, "evidence": {"path": -5, ...}, "say":
 * "..."}, all members optional, and writes one line of JSON: the answer, or what is wrong with the
 * line, with WM_INPUT_FAULTY. number: of the line, for the reader. whole: with the diagnosis as
 * WM_ANSWER writes it in JSON. docs/schemas/stream.schema.json. */
enum wm_status wm_case_answer_line(wm_case *player, const char *line, size_t n, size_t number,
                                   bool whole, wm_write write, void *context);

/* ---- results, after wm_case_run ----
 * Each function returns an array of *n elements, borrowed until the case changes. Before the run,
 * or without memory: NULL, and *n 0. When there is nothing: not NULL, and *n 0. */

enum wm_reading_state { WM_UNKNOWN, WM_GIVEN, WM_DERIVED };
enum wm_evidence_kind { WM_NUMBER, WM_CHOICE, WM_YES_NO, WM_WORDS, WM_CLUB_NAME };

struct wm_reading {
  const char *name, *title;
  enum wm_evidence_kind kind;
  enum wm_reading_state state;
  double number, error; /* numbers: value and standard error, in `unit` */
  const char *unit;     /* numbers: "deg", "m/s" ...; "none" for plain numbers; else NULL */
  const char *word;     /* choice, yes or no, club: its name; words: the text; else NULL */
  double sure;          /* choices: 0 to 1 */
  const char *shown;    /* as an answer shows it: "5.0 deg left +/- 1.0" */
  const char *formula;  /* derived by it, or NULL */
};
/* Every evidence of the kb, in byte order of names. */
const struct wm_reading *wm_case_readings(wm_case *player, size_t *n);

enum wm_claim_state {
  WM_SILENT,
  WM_KNOWN,
  WM_NOT_KNOWN
}; /* silent: its rules were judged and none fired */

struct wm_finding {
  const char *name, *title;
  double certainty;
  enum wm_claim_state state;
  bool good;     /* it says that something is as it should be */
  bool red_flag; /* believed, and it forbids any drill */
};
/* Every finding, in byte order of names. */
const struct wm_finding *wm_case_findings(wm_case *player, size_t *n);

enum wm_standing {
  WM_LEADING,
  WM_LIKELY,
  WM_POSSIBLE,
  WM_OPEN,
  WM_UNLIKELY
}; /* open: needs evidence */

struct wm_cause {
  const char *name, *title, *area;
  double certainty;
  enum wm_standing standing;
};
/* Every cause, the best first. At most one is leading. */
const struct wm_cause *wm_case_causes(wm_case *player, size_t *n);

enum wm_removal { WM_KEPT, WM_REMOVED_BY_RULE, WM_REMOVED_BY_NEEDS };

struct wm_drill {
  const char *name, *title;
  double value;       /* 0 to 1, what drills are ordered by */
  double from_causes; /* 0 to 1, what it changes of the causes believed */
  double advice;      /* certainty of the rules for (+) and against (-) it */
  bool external;      /* something in the way or to aim at, not a thought about the body */
  bool chosen; /* the one to do now; none is chosen when nothing helps or a red flag forbids */
  enum wm_removal removal;
  const char *removed_by; /* rule, or NULL */
};
/* The drills of some value, the best first, those removed last. */
const struct wm_drill *wm_case_drills(wm_case *player, size_t *n);

enum wm_rule_state { WM_FAILED, WM_FIRED, WM_LACKING };

struct wm_firing { /* what became of one rule */
  const char *rule, *file;
  uint32_t line;
  unsigned layer; /* from 1; rules of a layer read only what lower ones conclude */
  enum wm_rule_state state;
  double premise;      /* -1 to 1; 0 when lacking */
  const char *missing; /* lacking: the first evidence or finding it lacks; else NULL */
  const char *because;
};
/* Every rule, by layer, then by name. */
const struct wm_firing *wm_case_firings(wm_case *player, size_t *n);

struct wm_contribution { /* what one fired rule says on one finding, cause or drill */
  const char *rule, *claim;
  double strength; /* as the rule gives it, -0.95 to 0.95 */
  double value;    /* premise x strength */
  bool counted;    /* false: a stronger rule of its group counted instead */
};
const struct wm_contribution *wm_case_contributions(wm_case *player, size_t *n);

struct wm_check { /* an evidence worth getting next */
  const char *evidence, *ask;
  const char *effort; /* "know", "look", "video", "measure" */
  double gain;        /* certainty that rules waiting for it could add, per effort */
  size_t n_rules;
};
/* The most telling first. */
const struct wm_check *wm_case_checks(wm_case *player, size_t *n);

struct wm_said {     /* a piece of what the player said */
  const char *words; /* as said */
  size_t start, end; /* bytes of all that was said, its calls a line apart */
  const char *phrase, *evidence;
  const char *shown;   /* the value as an answer shows it; "" when there is none */
  double sure;         /* 0 to 1 */
  const char *use;     /* "used", "denied", "past", "conflict" ...: the schema lists them */
  const char *reason;  /* why it was not used, or NULL */
  const char *because; /* the words that turned it or contradict it, or NULL */
};
/* What was understood, in the order of the text. */
const struct wm_said *wm_case_said(wm_case *player, size_t *n);

/* ---- results in words ---- */

enum wm_view {
  WM_ANSWER,   /* what a coach reads: one screen of 80 x 40 */
  WM_BRIEF,    /* three to five lines */
  WM_STEPS,    /* the numbered chain behind the answer */
  WM_ALL_STEPS /* the same with what did not matter */
};
/* JSON: WM_ANSWER validates against docs/schemas/diagnosis.schema.json; WM_BRIEF is the same.
 * WM_USAGE before the run. */
enum wm_status wm_case_write(wm_case *player, enum wm_view view, enum wm_format format,
                             wm_write write, void *context);

/* The views that ask about one name: evidence, finding, cause, drill or rule. */
enum wm_question { WM_WHY, WM_WHY_NOT };
enum wm_status wm_case_explain(wm_case *player, enum wm_question question, const char *name,
                               const char *where, enum wm_format format, wm_write write,
                               void *context, wm_diags *diags);
/* Two findings, causes or drills side by side. */
enum wm_status wm_case_contrast(wm_case *player, const char *a, const char *where_a, const char *b,
                                const char *where_b, enum wm_format format, wm_write write,
                                void *context, wm_diags *diags);
/* What changes with other evidence: each change is "name=value", or "name=" to take it back. The
 * case itself is unchanged. */
enum wm_status wm_case_what_if(wm_case *player, const char *const *changes,
                               const char *const *where, size_t n, enum wm_format format,
                               wm_write write, void *context, wm_diags *diags);

/* ---- the workshop: worked cases, and what an edit changes ---- */

typedef struct wm_cases wm_cases; /* some worked cases, and how they came out; one thread */

/* An empty set of cases on a kb, which must outlive it. */
enum wm_status wm_cases_new(wm_cases **cases, const wm_kb *kb,
                            const struct wm_allocator *allocator);
void wm_cases_free(wm_cases *cases);
/* Adds all worked cases of the kb, in byte order of names. */
enum wm_status wm_cases_add_all(wm_cases *cases);
/* Adds one worked case of the kb; `where` names the place of the name. */
enum wm_status wm_cases_add(wm_cases *cases, const char *name, const char *where, wm_diags *diags);
/* Adds all cases of a file, which holds nothing else (docs/rules.md, "Cases"). */
enum wm_status wm_cases_add_file(wm_cases *cases, const char *path, wm_diags *diags);
size_t wm_cases_count(const wm_cases *cases);
/* Reads answers accepted earlier (wm_cases_write_answers, brief). From then on a case whose answer
 * differs, or has none accepted, does not come out as expected either, and mutants are noticed by
 * any change of an accepted answer. */
enum wm_status wm_cases_accept_file(wm_cases *cases, const char *path, wm_diags *diags);

/* Runs all, in the order of adding. WM_FINDINGS: one or more did not come out as expected. */
enum wm_status wm_cases_run(wm_cases *cases);
struct wm_verdict {
  const char *name, *file;
  uint32_t line;
  size_t n_expected, n_failed; /* how much the case expects, and how much of it does not hold */
  bool answer_changed;         /* the accepted answer is another, or none is */
};
/* How the i-th came out; false before the run or past the end. Strings borrowed as long as cases.
 */
bool wm_cases_verdict(const wm_cases *cases, size_t i, struct wm_verdict *verdict);
/* All verdicts, after the run: Test Anything Protocol 14, in which a failing case tells what it
 * got and why not what it should have got; or JSON. */
enum wm_status wm_cases_write(wm_cases *cases, enum wm_format format, wm_write write,
                              void *context);

/* What each case comes to, as lines to keep in a file and compare: the answer, every certainty at
 * two decimals, the drills by value. brief: a line a case, "case: answer", with a digest for all
 * the rest. */
enum wm_status wm_cases_write_answers(wm_cases *cases, bool brief, wm_write write, void *context);

/* Gathers what of the knowledge the cases reach. */
enum wm_status wm_cases_cover(wm_cases *cases);
struct wm_coverage {
  const char *of; /* "rules fired", "conditions not held", "thresholds above" ... */
  size_t reached, all;
  unsigned percent; /* whole, rounded down; 100 of nothing */
};
/* The i-th kind; false before wm_cases_cover or past the end. */
bool wm_cases_coverage(const wm_cases *cases, size_t i, struct wm_coverage *coverage);
/* The table, and where what is not reached stands. */
enum wm_status wm_cases_write_coverage(const wm_cases *cases, enum wm_format format, wm_write write,
                                       void *context);

/* What counts as noticing a mistake; each level notices all that the one before does. */
enum wm_notice {
  WM_NOTICE_VERDICT,  /* something a case expects no longer holds; what is meant unless said */
  WM_NOTICE_ANSWER,   /* a leading cause, drill, red flag, standing or belief changes */
  WM_NOTICE_CERTAINTY /* any certainty changes, at two decimals */
};
/* Puts small mistakes into the rules, one at a time: thresholds shifted by one reading error both
 * ways, conditions turned round, clauses dropped, strengths halved; and runs the cases each
 * touches until one notices. The kb itself is unchanged. WM_FINDINGS: some go unnoticed. */
enum wm_status wm_cases_mutate(wm_cases *cases, enum wm_notice notice);
struct wm_mutants {
  size_t all, noticed;
  unsigned percent;             /* noticed of all, whole, rounded down */
  size_t cases, cases_left_out; /* run; left out because they fail as things are */
};
bool wm_cases_mutants(const wm_cases *cases, struct wm_mutants *mutants);
/* The counts, and each mistake that no case notices with its place, old and new text. */
enum wm_status wm_cases_write_mutants(const wm_cases *cases, enum wm_format format, wm_write write,
                                      void *context);

/* ---- flight: what the numbers alone imply, after wm_case_run; no rule is asked ----
 * m/s, deg, rpm, m, s; signs are the player's: + is right as seen looking at the target. */

struct wm_conditions {
  const char *model;  /* "blend", the default; "smits1994", "lyu2018" */
  double temperature; /* C; NaN: standard air at that altitude */
  double altitude;    /* m above the sea */
  double tail_wind;   /* + from behind; NaN: the evidence wind and wind_speed, or still air */
  double cross_wind;  /* + toward the right */
};
/* Blend, standard air at sea level, wind as evidence tells. */
struct wm_conditions wm_conditions_usual(void);
/* Reads one of them from text. what: "model"; "wind", a speed and where it comes from (ahead,
 * behind, left, right or degrees clockwise from ahead): "5 m/s left"; "temperature", "altitude". */
enum wm_status wm_conditions_read(struct wm_conditions *conditions, const char *what,
                                  const char *text, const char *where, wm_diags *diags);

struct wm_figure { /* NaN: not known; one standard error */
  double value, error;
};
struct wm_change {                    /* another impact at the same club speed */
  struct wm_figure ball_speed, carry; /* gained; a minus is lost */
  struct wm_figure side;              /* where it lands then, + right of the target line */
};
struct wm_impact_range { /* what the flight alone says: nine in ten lie from low to high */
  const char *name;
  double value, error, low, high; /* strike in mm */
  bool open;                      /* the flight leaves most of the doubt */
};
struct wm_flight_point {
  double time, distance, right, height, speed; /* right NaN: start or axis tilt is not known */
};
struct wm_flight {
  struct wm_figure carry, side, curve, apex, time;
  struct wm_figure curve_angle, landing_angle, landing_speed, landing_spin;
  /* what this club speed gives, and what the shot has less */
  struct wm_figure expected_ball_speed, expected_carry, ball_speed_short, carry_short;
  struct wm_change face_to_path_zero, centred_strike;
  bool usual; /* something not given was taken as usual for the club */
  struct wm_impact_range ranges[8];
  size_t n_ranges; /* 0 unless the flight is all that was told of face and path */
  const struct wm_flight_point
      *path;     /* every 0.05 s, then the landing; borrowed until the case changes */
  size_t n_path; /* 0: no flight follows from the numbers */
};
/* conditions NULL: the usual. WM_USAGE: before the run, or conditions that are not plausible. */
enum wm_status wm_case_flight(wm_case *player, const struct wm_conditions *conditions,
                              struct wm_flight *flight);

enum wm_flight_view {
  WM_FLIGHT_FIGURES, /* text of one screen, or JSON: docs/schemas/flight.schema.json */
  WM_FLIGHT_PATH,    /* CSV */
  WM_FLIGHT_PLOT,    /* side view and top view in ASCII */
  WM_FLIGHT_SVG      /* the same as one SVG document */
};
/* The format concerns the figures alone. WM_INPUT_FAULTY: a path or picture, and nothing flies. */
enum wm_status wm_case_write_flight(wm_case *player, const struct wm_conditions *conditions,
                                    enum wm_flight_view view, enum wm_format format, wm_write write,
                                    void *context, wm_diags *diags);

struct wm_residual { /* one outside check value, and what a model makes of it */
  const char *what, *unit, *source, *status;
  double value, low, high;   /* value NaN for bounds alone; bounds infinite where open */
  double measured, residual; /* from the value, or from the nearest bound */
  bool meets, concerns;      /* within the bounds; the check is about this model */
};
/* False when i is past the end or there is no such model. */
bool wm_residual(size_t i, const char *model, struct wm_residual *residual);
/* All of them for all models, as text or JSON. */
enum wm_status wm_residuals_write(enum wm_format format, wm_write write, void *context);

typedef struct wm_comparison wm_comparison; /* what an edit changes; read by any thread */

#define WM_IMPACTS_MAX 1000000
/* Runs all worked cases of both bases on both (what one does not know is left out; a case of both
 * counts as the new one has it), and so many plausible impacts, the same for the same seed. An
 * answer is the leading cause, the drill to do now and the standing of each cause. Both kbs must
 * outlive the result. */
enum wm_status wm_compare(wm_comparison **comparison, const wm_kb *old_kb, const wm_kb *new_kb,
                          size_t impacts, uint64_t seed, const struct wm_allocator *allocator);
void wm_comparison_free(wm_comparison *comparison);
struct wm_comparison_counts {
  size_t cases, worse, better;     /* worse: as expected on the old base and not on the new */
  size_t other_answer;             /* no worse, no better, but another answer */
  size_t impacts;                  /* drawn; 0 when the knowledge has none of their numbers */
  size_t leading, drill, standing; /* impacts whose answer changes so */
  size_t certainty_only;           /* impacts with the same answer and another certainty */
};
void wm_comparison_count(const wm_comparison *comparison, struct wm_comparison_counts *counts);
/* Cases that got worse or better, moves of leading cause and drill, and the regions they lie in. */
enum wm_status wm_comparison_write(const wm_comparison *comparison, enum wm_format format,
                                   wm_write write, void *context);

/* ---- a session: many shots of one player from a table ----
 * Make it, give what holds for all shots to its player (evidence, hand, club), say how the table is
 * meant, read one table, run, walk or write the results. */

typedef struct wm_session wm_session; /* one thread at a time; the kb must outlive it */

/* Puts up to room bytes of a table into bytes: how many; 0 at the end; negative: reading failed. */
typedef long (*wm_read)(void *context, char *bytes, size_t room);

enum wm_status wm_session_new(wm_session **session, const wm_kb *kb,
                              const struct wm_allocator *allocator);
void wm_session_free(wm_session *session);
/* The case that holds for all shots, to be filled before the table is read; the session's own. */
wm_case *wm_session_player(wm_session *session);
/* "ball_speed=mph": the unit of columns that name none. Before reading. */
enum wm_status wm_session_read_unit(wm_session *session, const char *text, const char *where,
                                    wm_diags *diags);
/* The target window: one of the kb by name, or half its width in degrees. Before the run. */
enum wm_status wm_session_read_window(wm_session *session, const char *text, const char *where,
                                      wm_diags *diags);
/* Reads a delimited text (RFC 4180; commas, semicolons or tabs). Faulty cells are warnings and cost
 * themselves alone. WM_INPUT_FAULTY: nothing in it is understood, or it is no table. */
enum wm_status wm_session_read(wm_session *session, const char *name, wm_read read, void *context,
                               wm_diags *diags);
enum wm_status wm_session_load(wm_session *session, const char *path, wm_diags *diags);
/* Sorts the shots by club and flight, diagnoses each group of misses, makes a plan. */
enum wm_status wm_session_run(wm_session *session, wm_diags *diags);
/* JSON validates against docs/schemas/session.schema.json. WM_USAGE before the run. */
enum wm_status wm_session_write(wm_session *session, enum wm_format format, wm_write write,
                                void *context);

/* Results after the run, as with cases; numbers are the player's, in the unit of the evidence, NaN
 * where there is none. Borrowed as long as the session. */
struct wm_block {   /* the shots of one club */
  const char *club; /* NULL: none was named */
  size_t shots, sorted, missed;
  double missed_low, missed_high; /* share of misses: 90 % range of the true one */
  bool on_all_shots; /* causes are those of all shots together: there are no groups to tell apart */
  const char *one_cause; /* explains most of the misses, or NULL */
  const char *red_flag;  /* finding that forbids a drill, or NULL */
  const char *drill;     /* to do now, or NULL */
};
const struct wm_block *wm_session_blocks(wm_session *session, size_t *n);

struct wm_shot_figure {
  const char *evidence, *unit;
  bool derived; /* worked out shot by shot */
  size_t n, outliers;
  double mean, error, sd, median, robust_spread; /* error: of the mean */
  double detectable_change; /* of the mean, in as many new shots: less is noise, at 95 % */
};
const struct wm_shot_figure *wm_session_figures(wm_session *session, size_t block, size_t *n);

struct wm_miss_group {
  const char *words; /* the flight */
  size_t n;
  double share_low, share_high; /* of all shots: 90 % range of the true share */
  bool diagnosed;               /* false: too few */
  const char *leading;          /* cause, or NULL */
};
const struct wm_miss_group *wm_session_groups(wm_session *session, size_t block, size_t *n);

struct wm_shared_cause {
  const char *name;
  double score;            /* sum over groups of share of the misses x certainty */
  size_t explained;        /* misses of groups in which it is leading or likely */
  const double *certainty; /* by group; NaN: not diagnosed */
};
/* The best first. */
const struct wm_shared_cause *wm_session_causes(wm_session *session, size_t block, size_t *n);

enum wm_test_kind { WM_TEST_NONE, WM_TEST_MEAN, WM_TEST_HITS, WM_TEST_MISSES };
struct wm_test_block { /* chance alone passes it in fewer than 1 case in 10 */
  enum wm_test_kind kind;
  const char *evidence; /* NULL for misses */
  size_t shots, shots_before;
  double before, reach; /* mean: from before to reach or beyond */
  double power;         /* chance of passing when the drill does what it is for */
  bool rising;
  size_t counted_before, needed; /* hits: at least, misses: at most */
};
/* False: there is no drill to test. */
bool wm_session_test(wm_session *session, size_t block, struct wm_test_block *test);

/* ---- a retest: the shots of one session held against those of another, before it ----
 * Both sessions are of the same kb, outlive the retest, and are not run again by it. The session
 * before must have been run; the one after is read and run as usual, or followed shot by shot and
 * then run. */

typedef struct wm_retest wm_retest; /* one thread at a time */

enum wm_status wm_retest_new(wm_retest **retest, wm_session *before, wm_session *after,
                             const struct wm_allocator *allocator);
void wm_retest_free(wm_retest *retest);
/* "path=-1": test this number against this goal, not the plan's. Before following and the run. */
enum wm_status wm_retest_read_number(wm_retest *retest, const char *text, const char *where,
                                     wm_diags *diags);
/* Reads the session after row by row, writes a line a shot (write NULL: none), and stops reading
 * when the test is decided. */
enum wm_status wm_retest_follow(wm_retest *retest, const char *name, wm_read read, void *context,
                                wm_write write, void *write_context, wm_diags *diags);
enum wm_status wm_retest_run(wm_retest *retest, wm_diags *diags);
/* JSON validates against docs/schemas/retest.schema.json. WM_USAGE before the run. */
enum wm_status wm_retest_write(const wm_retest *retest, enum wm_format format, wm_write write,
                               void *context);

enum wm_retest_verdict { WM_KEEP, WM_PROGRESS, WM_CHANGE_DRILL, WM_TOO_EARLY };
struct wm_retested {
  const char *club;     /* NULL: none was named */
  const char *evidence; /* that was to move; NULL: misses, or nothing */
  enum wm_retest_verdict verdict;
  bool moved, reached; /* by more than chance, the right way; to where it should be */
  size_t worse;        /* how many other figures got worse by more than noise */
  size_t shots, shots_planned;
};
/* The i-th club that both sessions have; false past the end. */
bool wm_retest_club(const wm_retest *retest, size_t i, struct wm_retested *out);

typedef struct wm_mending wm_mending; /* edits that would set a case right; one thread */

/* Looks for the smallest single edits of the rules (a threshold, a strength, a clause dropped or
 * added, a new rule) with which the one case of the set comes out as it expects, and runs all other
 * worked cases of the kb on each. Nothing is written. WM_FINDINGS: the case fails, and no single
 * edit was found. WM_USAGE: the set does not hold exactly one case. The set and its kb must outlive
 * the result. */
enum wm_status wm_mend(wm_mending **mending, const wm_cases *cases,
                       const struct wm_allocator *allocator);
void wm_mending_free(wm_mending *mending);
struct wm_edit {
  const char *file; /* of the place to edit; a new rule: of one that concludes the same */
  uint32_t line, column;
  const char *in;       /* "rule 'left-path'" */
  const char *old_text; /* as the rule language writes it; "" for a new rule */
  const char *new_text;
  size_t cases_broken, cases_set_right; /* other cases */
  size_t cases_touched;                 /* other cases in which the rule comes to something else */
};
/* The i-th, those that break least first; false past the end, so at once when the case needs no
 * mending. Strings borrowed as long as the mending. */
bool wm_mending_edit(wm_mending *mending, size_t i, struct wm_edit *edit);
enum wm_status wm_mending_write(const wm_mending *mending, enum wm_format format, wm_write write,
                                void *context);

/* ---- files of knowledge: a new layer, and one layout ---- */

/* Makes the directory, unless it is there and empty, and in it the commented example of a layer of
 * one's own. WM_INPUT_FAULTY: it is not empty; WM_INTERNAL: files. */
enum wm_status wm_kb_new(const char *directory, wm_diags *diags);
/* The path of the i-th file it makes, below the directory; NULL past the end. */
const char *wm_kb_new_file(size_t i);

typedef struct wm_tidying wm_tidying; /* files as they would be laid out; one thread */

/* Reads files, and directories as wm_kb_load does, and lays each out: indentation, blanks, empty
 * lines, the width of folded texts. Order and comments stay. Each layout is read again and compared
 * with the file, so it says the same. WM_INPUT_FAULTY: some file cannot be read or is left as it
 * is; then there is no result for any. */
enum wm_status wm_tidy(wm_tidying **tidying, const char *const *paths, size_t n,
                       const struct wm_allocator *allocator, wm_diags *diags);
void wm_tidying_free(wm_tidying *tidying);
struct wm_tidied {
  const char *path;
  bool changed;     /* the layout is not the file's */
  const char *text; /* n bytes and a NUL */
  size_t n;
};
/* False past the end. Strings borrowed as long as the tidying. */
bool wm_tidying_get(const wm_tidying *tidying, size_t i, struct wm_tidied *file);
/* Puts the layouts in the place of the files that are not laid out so, each in one step. */
enum wm_status wm_tidying_replace(const wm_tidying *tidying, wm_diags *diags);

/* ---- the lesson log: one plain YAML file a player in a directory of the caller's ----
 * A player is called by a made-up name of lower-case letters, digits and hyphens. A log is changed
 * in one step: at any moment it is the old one or the new one, whole. WM_INPUT_FAULTY: the name,
 * the date, or what stands in the file; WM_INTERNAL: files, or another writer at work. */

struct wm_lesson {
  const char *date;    /* "2026-05-30", or with a time: "2026-05-30T16:20" */
  const char *note;    /* NULL: none */
  const char *verdict; /* what a retest came to; NULL: none */
};
/* Adds a lesson: the evidence, leading cause and drill of a case that was run, or the note alone
 * when it is NULL. Makes directory and file when they are not there. */
enum wm_status wm_log_add(const char *directory, const char *player, wm_case *of,
                          const struct wm_lesson *told, wm_diags *diags);
/* The lessons, and which numbers moved by more than noise. JSON validates against
 * docs/schemas/log.schema.json. */
enum wm_status wm_log_write(const wm_kb *kb, const char *directory, const char *player,
                            enum wm_format format, wm_write write, void *context, wm_diags *diags);
/* Writes over the log and removes it, with its lock. */
enum wm_status wm_log_delete(const char *directory, const char *player, wm_diags *diags);

/* ---- small things ---- */

/* The nearest of the names to a misspelt word, or NULL when none is near. */
const char *wm_nearest(const char *word, const char *const *names, size_t n);
/* "0.1.0" */
const char *wm_version(void);
/* The libraries underneath: "libyaml 0.2.5, PCRE2 10.42 2022-12-11" into room bytes, cut where it
 * must. */
void wm_library_versions(char *out, size_t room);

#ifdef __cplusplus
}
#endif

#endif
