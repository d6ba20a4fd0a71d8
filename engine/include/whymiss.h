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

/* Adds what is doubtful though not wrong: rules that count one reading twice, causes without a
 * drill ... WM_FINDINGS when there is any. */
enum wm_status wm_kb_check(const wm_kb *kb, wm_diags *diags);
/* Writes one entry as it stands: meaning, who reads and who concludes it, source, place. `where`
 * names the place of the name in diagnostics. The name may be "functions": what formulas may call.
 * WM_INPUT_FAULTY: no such name. */
enum wm_status wm_kb_show(const wm_kb *kb, const char *name, const char *where,
                          enum wm_format format, wm_write write, void *context, wm_diags *diags);

/* Writes the names of a kind, each with what it stands for. */
enum wm_status wm_kb_list(const wm_kb *kb, enum wm_kind kind, enum wm_format format, wm_write write,
                          void *context);

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
enum wm_status wm_cases_new(wm_cases **cases, const wm_kb *kb, const struct wm_allocator *allocator);
void wm_cases_free(wm_cases *cases);
/* Adds all worked cases of the kb, in byte order of names. */
enum wm_status wm_cases_add_all(wm_cases *cases);
/* Adds one worked case of the kb; `where` names the place of the name. */
enum wm_status wm_cases_add(wm_cases *cases, const char *name, const char *where, wm_diags *diags);
/* Adds all cases of a file, which holds nothing else (docs/rules.md, "Cases"). */
enum wm_status wm_cases_add_file(wm_cases *cases, const char *path, wm_diags *diags);
size_t wm_cases_count(const wm_cases *cases);

/* Runs all, in the order of adding. WM_FINDINGS: one or more did not come out as expected. */
enum wm_status wm_cases_run(wm_cases *cases);
struct wm_verdict {
  const char *name, *file;
  uint32_t line;
  size_t n_expected, n_failed; /* how much the case expects, and how much of it does not hold */
};
/* How the i-th came out; false before the run or past the end. Strings borrowed as long as cases. */
bool wm_cases_verdict(const wm_cases *cases, size_t i, struct wm_verdict *verdict);
/* All verdicts, after the run: Test Anything Protocol 14, in which a failing case tells what it
 * got and why not what it should have got; or JSON. */
enum wm_status wm_cases_write(wm_cases *cases, enum wm_format format, wm_write write,
                              void *context);

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
