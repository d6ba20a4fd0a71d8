/* What the readers of the model's parts share: the entries of all files, and the taking of keys.
 * Internal to model/. Every taking function reports what is wrong at the faulty value and goes on,
 * so that one pass finds all faults; its result is then empty but safe. */
#ifndef WM_MODEL_READER_H
#define WM_MODEL_READER_H

#include "model/formula.h"
#include "model/keys.h"
#include "model/model.h"
#include "model/value.h"

/* In the order the parts are read; findings, causes and drills stay together because claims are
 * numbered so. */
enum entry_kind {
  ENTRY_SOURCE,
  ENTRY_CLUB,
  ENTRY_EVIDENCE,
  ENTRY_FINDING,
  ENTRY_CAUSE,
  ENTRY_DRILL,
  ENTRY_RULE,
  ENTRY_CASE,
  ENTRY_COLUMN,
  ENTRY_WINDOW,
  ENTRY_PHRASE,
  ENTRY_KINDS
};

struct entry {
  enum entry_kind kind;
  const char *name;
  const struct node *node; /* the mapping */
  unsigned layer;
  struct span at; /* of the name */
};

struct entries {
  const struct entry *at;
  size_t n;
};

struct reader {
  struct arena *arena;
  struct diags *diags;
  struct model *model;               /* filled part by part */
  struct entries kinds[ENTRY_KINDS]; /* sorted by name */
  struct names *everything;          /* evidence, findings, causes, drills: one space of names */
};

/* Refuses what in an upper layer would take a red flag away; entries of all layers. */
void guard_red_flags(struct reader *reader, const struct entry *entries, size_t n);

const char *entry_kind_word(enum entry_kind kind);
/* "a finding", "an evidence": for messages. */
const char *entry_kind_phrase(enum entry_kind kind);
/* Lower case, digits, _ and, when allowed, -. */
bool reader_is_name(const char *name, bool hyphens);
/* The place of n bytes at an offset of a scalar's text, where the source and the text can be walked
 * side by side: plain, quoted and block scalars; else the whole of it. */
struct span reader_place(struct span at, const char *text, size_t offset, size_t n);
/* What stands there, for messages: "a list of 3", "an empty mapping", "'word'". */
const char *reader_describe(struct reader *reader, const struct node *node);
/* Reports another shape than is wanted: of a key's value or of an element of a list. Returns the
 * report, or NULL as diag_add does. */
struct diag *reader_wrong_shape(struct reader *reader, const struct node *node, const char *wanted);
/* The hint for a key that is the rest of a text cut at a comma: it stands in { } without a colon.
 * False: it is a key like others. */
bool reader_comma_hint(struct reader *reader, struct diag *diag, const struct node *value);
/* Reports a claim of another kind than is wanted at this place: "'gate' is a drill; <wanted>". */
void reader_wrong_claim(struct reader *reader, size_t claim, struct span at, const char *wanted);
/* Reports keys of the mapping that the set has not. */
void reader_check_keys(struct reader *reader, const struct node *map, const char *what,
                       enum key_set set);
/* The names of the keys of a set; NULL without memory. */
const char *const *reader_key_names(struct reader *reader, enum key_set set);
/* The value of a key; when required and absent, reports it and returns NULL. */
const struct node *reader_key(struct reader *reader, const struct entry *entry, const char *key,
                              bool required);
/* The text of a scalar, or NULL after a report. node NULL gives NULL in silence, as in all below.
 */
const char *reader_string(struct reader *reader, const struct node *node);
bool reader_is_list(struct reader *reader, const struct node *node, const char *of);
bool reader_is_map(struct reader *reader, const struct node *node, const char *of);
/* A plain, finite number without unit; *number is left alone when there is none. */
bool reader_number(struct reader *reader, const struct node *node, double *number);
bool reader_yes_no(struct reader *reader, const struct node *node, bool fallback);
/* Index of the word among the n words, or NO_INDEX after a report ("'x' is no <what>; allowed are
 * ..."). */
size_t reader_word(struct reader *reader, const struct node *node, const char *what,
                   const char *const *words, size_t n);
/* The same among the words of a list. */
size_t reader_listed(struct reader *reader, const struct node *node, enum word_list list);
struct source_ref reader_source(struct reader *reader, const struct entry *entry);
/* The title of an evidence or a club, a plain text; reports sides and braces in it. Never NULL. */
const char *reader_title(struct reader *reader, const struct entry *entry);
/* A text with braces; reports bare side words and unknown names. */
struct wording reader_wording(struct reader *reader, const struct node *node);
struct wording reader_wording_key(struct reader *reader, const struct entry *entry, const char *key,
                                  bool required);
/* A claim of the kind named by the scalar, or NO_INDEX after a report. */
size_t reader_claim(struct reader *reader, const struct node *node, enum claim_kind kind);
/* A claim of any kind whose name stands at `at`. */
size_t reader_any_claim(struct reader *reader, const char *name, struct span at, const char *what);
/* The words joined by ", ". */
const char *reader_join(struct reader *reader, const char *const *words, size_t n);

/* The entry that names the rule-format version; only the first of a file may. */
bool format_is_entry(const struct node *node);
/* False, after a report, when the entry asks for a newer program; other faults of it are reported
 * too. */
bool format_is_known(struct reader *reader, const struct node *entry);
void format_misplaced(struct diags *diags, const struct node *entry);

/* The parts. */
void read_references(struct reader *reader);
void read_clubs(struct reader *reader);
void read_evidence(struct reader *reader);
void read_claims(struct reader *reader);
void read_drills(struct reader *reader); /* fills the drills of claims already read */
void read_rules(struct reader *reader);
void read_cases(struct reader *reader);
void read_phrases(struct reader *reader);
void read_columns(struct reader *reader);
void read_windows(struct reader *reader);
void read_acceptances(struct reader *reader); /* of all entries */

/* A condition of a rule or of a drill's needs; NULL after a report. */
const struct condition *reader_condition(struct reader *reader, const struct node *node);
/* One comparison on an evidence: its name and the mapping of its comparison. */
const struct condition *reader_comparison(struct reader *reader, size_t evidence,
                                          const struct node *node);

#endif
