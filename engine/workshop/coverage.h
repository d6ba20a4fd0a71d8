/* What of the knowledge some cases reach: rules, conditions, thresholds, drills, causes, texts.
 * Gathers from chained runs, one after the other; judges nothing by itself. Lives in the arena
 * given and borrows the network. One thread. */
#ifndef WM_WORKSHOP_COVERAGE_H
#define WM_WORKSHOP_COVERAGE_H

#include "run/run.h"

enum covered {
  COVERED_FIRED,     /* rule: its premise was above 0.2 */
  COVERED_FAILED,    /* rule: its premise was judged, and was not */
  COVERED_HELD,      /* condition, shared by all rules that hold it: above 0.2 */
  COVERED_NOT_HELD,  /* condition: judged, and not above 0.2 */
  COVERED_BELOW,     /* threshold of a number: a reading below it */
  COVERED_ABOVE,     /* threshold: a reading above it */
  COVERED_DRILL,     /* drill: the one to do now */
  COVERED_LEADING,   /* cause: leading */
  COVERED_CANDIDATE, /* cause: likely, possible or open, and not leading */
  COVERED_TEXT,      /* text: part of an answer and the steps behind it */
  COVERED_KINDS
};

struct threshold {
  size_t test;
  double limit; /* in the unit of the evidence; 0 for a formula, which is a difference */
};

enum text_owner { TEXT_OF_RULE, TEXT_OF_CLAIM, TEXT_OF_RED_FLAG, TEXT_OF_EVIDENCE };
struct owned_text {
  enum text_owner owner;
  size_t index; /* rule; claim; evidence, for its question */
};

struct coverage {
  const struct network *network;
  size_t of[COVERED_KINDS]; /* how many there are */
  bool *seen[COVERED_KINDS];
  const struct threshold *thresholds;
  const struct owned_text *texts;
  size_t *text_of_rule, *text_of_claim, *text_of_red_flag, *text_of_evidence; /* or NO_INDEX */
};

/* NULL: no memory. */
struct coverage *coverage_new(struct arena *arena, const struct network *network);
/* Adds what the chained run reached; scratch is used and may be reset afterwards. */
void coverage_add(struct coverage *coverage, const struct run *run, struct arena *scratch);
size_t coverage_count(const struct coverage *coverage, enum covered kind);
/* Share in whole percent, rounded down; 100 of nothing. */
unsigned coverage_percent(size_t n, size_t of);
/* The rule, test, threshold, claim or text that the i-th of a kind stands for: its place. */
struct span coverage_place(const struct coverage *coverage, enum covered kind, size_t i);
/* "rules fired", "conditions held", ... */
const char *covered_words(enum covered kind);

#endif
