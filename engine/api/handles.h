/* What stands behind the opaque types of whymiss.h, and the small tools its implementation shares.
 * Internal to api/. Each handle lives in an arena of its own, since only base/ calls malloc; what
 * it gathers lives in further arenas that can be emptied without losing the handle. Threads as in
 * whymiss.h. */
#ifndef WM_API_HANDLES_H
#define WM_API_HANDLES_H

#include "base/allocator.h"
#include "diag/diag.h"
#include "run/run.h"
#include "whymiss.h"

struct wm_diags {
  struct arena *home;  /* the handle */
  struct arena *arena; /* diagnostics, and copies of the sources they point into */
  struct diags list;
  ARRAY(const struct source *) sources; /* the copies */
};

struct wm_kb {
  struct arena *arena; /* the handle and everything of it */
  const struct model *model;
  const struct network *network;
  size_t n_files;
};

/* Results made on demand; NULL: not made since the last change. */
struct results {
  struct wm_reading *readings;
  struct wm_finding *findings;
  struct wm_cause *causes;
  struct wm_drill *drills;
  struct wm_firing *firings;
  struct wm_contribution *contributions;
  struct wm_check *checks;
  struct wm_said *said;
  size_t n_contributions, n_said;
};

struct wm_case {
  struct arena *home;    /* the handle */
  struct arena *texts;   /* evidence as given; emptied by reset */
  struct arena *answers; /* results; emptied by any change */
  struct wm_allocator allocator;
  bool has_allocator;
  const wm_kb *kb;
  struct run *run;
  bool hand_given;           /* by other means than words */
  const struct source *said; /* all that was said, in texts; or NULL */
  bool *from_words;          /* by evidence: the run's value is from the words */
  struct results results;
};

/* One call's report: a list without earlier errors, whether the caller gave one or not. */
struct report {
  wm_diags *given, *used;
  struct diags list; /* in used->arena */
  bool lacked;       /* memory ran out there before */
};
/* False: no memory. */
bool report_open(struct report *report, wm_diags *diags, const struct wm_allocator *allocator);
/* Moves what was reported to the caller's list, with copies of the sources. Returns status, or
 * WM_INTERNAL when memory ran out on the way, or `faulty` when status is WM_OK and there were
 * errors. */
enum wm_status report_close(struct report *report, enum wm_status status, enum wm_status faulty);

/* What whymiss.h shows of a diagnostic; borrows it. */
struct wm_diag diag_public(const struct diag *diag);

const struct wm_allocator *case_allocator(const wm_case *player);
/* Forgets results; before any change of the case. */
void case_changed(wm_case *player);
/* Understands what was said, and gives the run what it does not know otherwise. False: no memory.
 */
bool case_understand(wm_case *player, struct diags *diags);
/* Takes back what the words gave. */
void case_forget_words(wm_case *player);

/* A source with copies of name and bytes, in the arena; NULL: no memory. */
struct source *source_copy(struct arena *arena, const char *name, const char *bytes, size_t n);
/* The span of a source that is one line. */
struct span source_whole(const struct source *source);
/* The part from byte `from` up to, not including, byte `to` of a one-line source. */
struct span source_part(const struct source *source, size_t from, size_t to);

/* Reads a file whole, refusing more than NODE_BYTES_MAX; NULL after a diagnostic. */
struct source *source_read(struct arena *arena, const char *path, struct diags *diags);

/* Files of the directory in order of path, added to the array; faults are diagnostics. */
struct file_list {
  ARRAY(struct model_file) files;
  size_t bytes;
};
void files_collect(struct arena *arena, struct file_list *list, const char *directory,
                   unsigned layer, struct diags *diags);

/* Reads "name=value" into a value of the case's frame; false after a diagnostic. takes_back, if not
 * NULL, allows an empty value and is set then. */
bool evidence_read(struct arena *arena, struct diags *diags, const struct model *model,
                   const struct source *source, struct value *value, bool *takes_back);

/* Reads all cases of a file, against the vocabulary of the model; NULL and *n 0 after a diagnostic.
 */
const struct worked_case *worked_cases_read(struct arena *arena, struct diags *diags,
                                            const struct model *model, const struct source *source,
                                            size_t *n);
/* The worked case of the model by its name; NULL after a diagnostic at `where`. */
const struct worked_case *worked_case_find(const struct model *model, struct diags *diags,
                                           struct arena *arena, const char *name,
                                           const char *where);

/* Sends a finished text. */
enum wm_status text_send(const struct text *text, wm_write write, void *context);

#endif
