/* Diagnostics: what is wrong with what somebody wrote, where, and what is allowed.
 * Every kind of diagnostic is one row of the table in diag_table.h (code word, level, wording,
 * explanation), which also makes docs/diagnostics.md. A list belongs to one owner; strings given to
 * it are copied. It keeps the first 50 errors in order of position and counts the rest. */
#ifndef WM_DIAG_DIAG_H
#define WM_DIAG_DIAG_H

#include <stdbool.h>

#include "base/array.h"
#include "base/names.h"
#include "base/text.h"
#include "diag/source.h"

enum diag_level { DIAG_NOTE, DIAG_WARNING, DIAG_ERROR };

enum diag_code {
#define DIAG_ROW(id, word, level, wording, explanation) DIAG_##id,
#include "diag/diag_table.h"
#undef DIAG_ROW
  DIAG_CODES
};

struct diag_note {
  const char *text;
  struct span at; /* at.source NULL: a note without a place */
};

struct diag {
  enum diag_code code;
  enum diag_level level;
  struct span at;
  const char *message; /* the wording with its words filled in */
  const char *hint;    /* "did you mean 'path'?" or NULL */
  ARRAY(struct diag_note) notes;
  size_t order; /* of adding, among the kept */
};

struct diags {
  struct arena *arena;
  ARRAY(struct diag) list;
  size_t errors, warnings; /* all of them, also those not kept */
  bool no_memory;
  bool cut; /* the list has been cut to the cap once; errors behind `last` are only counted */
  struct diag last; /* the last error kept at the latest cut */
  /* What was written but could not be read: that such a name is missing is no fault of its own, so
   * it is only counted. */
  const struct names *lost; /* or NULL */
  bool lost_all;            /* what was lost is not known: any name may be among it */
  size_t held;              /* errors not added for that */
};

void diags_init(struct diags *diags, struct arena *arena);
/* Adds one; words fill {0}, {1}, ... of the code's wording, the last is NULL. Returns it for notes
 * and hint, good until the next adding, or NULL (no memory, past the cap, or held back as the error
 * of a lost name), which the functions below accept. */
struct diag *diag_add(struct diags *diags, enum diag_code code, struct span at,
                      const char *const words[]);
#define DIAG(diags, code, at, ...)                                                                 \
  diag_add((diags), DIAG_##code, (at), (const char *const[]){__VA_ARGS__, NULL})
/* Adds a copy of one, with its notes and hint; NULL as above. */
struct diag *diag_copy(struct diags *diags, const struct diag *diag);
void diag_note(struct diags *diags, struct diag *diag, struct span at, const char *text);
void diag_hint(struct diags *diags, struct diag *diag, const char *text);
/* Sets the hint "did you mean 'x'?" when one of the n names is near enough to the word. */
void diag_nearest(struct diags *diags, struct diag *diag, const char *word,
                  const char *const *names, size_t n);
/* Sorts, first what keeps a file or an entry from being read, then by position and code; drops what
 * is past the cap of 50. */
void diags_finish(struct diags *diags);

const char *diag_word(enum diag_code code);
enum diag_level diag_level_of(enum diag_code code);
const char *diag_wording(enum diag_code code); /* with {0}, {1}, ... where words go */
const char *diag_explanation(enum diag_code code);
/* Whether it is a finding of `check`, which an entry may accept. */
bool diag_is_finding(enum diag_code code);

/* The nearest name by Damerau-Levenshtein distance, at most a third of the word's length away (1 at
 * least); ties go to the first in byte order. Else the only name that the word shortens, part by
 * part ("ball_pos"). NULL: there is none. */
const char *nearest_name(const char *word, const char *const *names, size_t n);

/* Adds "file:line:column: error: message [code]", the source line, a caret line, notes and hint.
 * Control characters and bidirectional controls of the source are shown escaped. */
void diag_print(struct text *out, const struct diag *diag);
void diags_print(struct text *out, const struct diags *diags);

#endif
