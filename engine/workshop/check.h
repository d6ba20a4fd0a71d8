/* What is lawful but doubtful in a knowledge base: rules that cannot fire, are covered or
 * contradict each other, what nothing reaches or reads, gaps, slow patterns.
 * Where it can, a finding shows a witness: evidence that can be run to see it. Evaluates nothing by
 * itself: candidates come from the conditions, and a run decides. Everything lives in the arena
 * given and borrows the network. One thread; the network is only read. */
#ifndef WM_WORKSHOP_CHECK_H
#define WM_WORKSHOP_CHECK_H

#include <stdint.h>

#include "run/run.h"

#define CHECK_SEED 1
#define CHECK_SAMPLES 1000
#define CHECK_SAMPLES_THOROUGH 4000

struct check_options {
  bool thorough;  /* more impacts, and a search for a case in which each rule fires */
  uint64_t seed;  /* of the sampled impacts */
  size_t samples; /* how many impacts; 0: the usual count */
};

/* Evidence of a right-handed player, one shot; sorted by evidence. n 0: there is no witness. */
struct witness {
  const struct value *values;
  size_t n;
};

struct check_finding {
  struct diag diag;
  const struct span *entries; /* the entries it is about: it is accepted in any of them */
  size_t n_entries;
  struct witness witness;
  const char *name;    /* of the witness as a case, unique in the report; NULL: no witness */
  const char *command; /* "diagnose path=-5 face=2", quoted for a shell; NULL: no witness */
  double share;        /* gaps: share of the plausible impacts, 0 to 1 */
  const struct acceptance *accepted; /* or NULL */
};

struct check_report {
  const struct check_finding *findings; /* by place, then by code */
  size_t n, n_accepted;
  size_t n_warnings, n_notes; /* of those not accepted */
  size_t n_impacts;           /* sampled; 0: the knowledge lacks the evidence for it */
  uint64_t seed;
  bool thorough;
};

/* NULL: no memory. The allocator serves the run, which is freed again; NULL: malloc. */
const struct check_report *check_knowledge(struct arena *arena, const struct network *network,
                                           const struct check_options *options,
                                           const struct wm_allocator *allocator);
/* The witness as a file of one case (docs/rules.md), with the finding as its because-text. */
void check_witness_file(struct text *out, const struct model *model,
                        const struct check_finding *finding);

#endif
