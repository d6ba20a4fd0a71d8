/* One case: evidence in, layers chained, everything recorded, causes and drills ranked.
 * A run borrows an immutable network and owns one arena, reset and reused from case to case; one
 * thread at a time. All values inside are in the frame of a right-handed player; giving and showing
 * them mirrors. */
#ifndef WM_RUN_RUN_H
#define WM_RUN_RUN_H

#include "model/value.h"
#include "network/network.h"

/* A certainty above this counts as believed, a premise above it fires. Source key: buchanan-1984.
 */
#define BELIEF_THRESHOLD 0.2

enum reading_state { READING_UNKNOWN, READING_GIVEN, READING_DERIVED };
struct reading {
  enum reading_state state;
  double number; /* numbers, in the unit of the evidence */
  double error;  /* numbers: standard error of the value for what it stands for */
  size_t choice; /* choice, yes_no, club */
  double sure;
  const char *text;
  const struct value *given;     /* as given (giver's frame), or NULL */
  const struct formula *formula; /* derived by it, or NULL (also for values from the club) */
  const double *gradient;        /* numbers: d(number)/d(root k), n_roots entries; NULL: exact */
};

enum rule_state { RULE_FAILED, RULE_FIRED, RULE_UNKNOWN };

/* What one clause or premise came to. */
struct judgement {
  bool known;
  double belief;                          /* -1 to 1 when known */
  size_t missing_evidence, missing_claim; /* not known: the first thing that lacks, else NO_INDEX */
};

enum claim_state {
  CLAIM_SILENT,
  CLAIM_KNOWN,
  CLAIM_UNKNOWN
}; /* silent: all its rules were judged and failed */

/* What became of one contribution. */
enum contribution_state { CONTRIBUTION_NONE, CONTRIBUTION_COUNTED, CONTRIBUTION_OVERSHADOWED };
struct contribution_record {
  enum contribution_state state; /* overshadowed: a stronger member of its group counted instead */
  double value;                  /* premise x strength when the rule fired */
};

enum standing {
  STANDING_LEADING,
  STANDING_LIKELY,
  STANDING_POSSIBLE,
  STANDING_OPEN,
  STANDING_UNLIKELY
};
struct ranked_cause {
  size_t claim;
  double certainty;
  enum standing standing;
};
struct drill_share { /* one cause's part in a drill's value */
  size_t cause;
  double certainty, effect, part;
};
enum removal { REMOVAL_NONE, REMOVAL_RULE, REMOVAL_NEEDS };
struct ranked_drill {
  size_t claim;
  double from_causes; /* 1 - prod(1 - certainty x effect) */
  double advice;      /* what rules say for (+) and against (-) it, a certainty */
  double value;       /* both combined, a body thought weighed down */
  const struct drill_share *shares;
  size_t n_shares;
  enum removal removal;
  size_t removed_by; /* rule index */
};
struct next_check {
  size_t evidence;
  double gain; /* how far it could part the likeliest causes, per effort: checks.c */
  size_t n_rules;
};
struct contradiction { /* a given value against what a formula makes of the other given values, or
                        * a value that follows from them against what is plausible */
  size_t evidence;
  const struct formula *formula;
  double given, computed, error; /* error: standard error of the difference */
  double computed_error;         /* of computed alone */
  bool beyond_range; /* the evidence follows from given ones; given is then its range's limit */
  const char *told;  /* what cannot be correct together, in the player's hand and words */
};

struct understanding;

struct run {
  const struct network *network;
  struct arena *lasting; /* the run itself and what was given */
  struct arena *arena;   /* results, reset by each chaining */
  enum hand hand;
  unsigned shots;       /* how many shots each number stands for unless it says itself */
  struct value *values; /* by evidence: as given, giver's frame */
  bool *is_given;
  const struct understanding
      *said;   /* what the player said (say/say.h), borrowed for the readers of results; or NULL */
  bool judged; /* run_chain has run since the last change */

  struct reading *readings; /* by evidence */
  /* Independent errors: those of the given numbers, then the own errors of formulas. */
  size_t n_roots, n_given_roots;
  const size_t *roots;      /* evidence whose error is root k */
  double *root_errors;      /* standard error of root k; 0 where the formula was not used */
  struct judgement *tests;  /* by test of the network */
  struct judgement *nodes;  /* by premise node of the network */
  enum rule_state *rules;   /* by rule */
  double *certainty;        /* by claim, -1..1 */
  enum claim_state *claims; /* by claim */
  struct contribution_record *contributions; /* by contribution of the network */
  const struct ranked_cause *causes;         /* best first; all causes */
  size_t n_causes;
  const struct ranked_drill
      *drills; /* best first, the removed last; only those with a value or removed while of value */
  size_t n_drills;
  const struct next_check *checks; /* most telling first */
  size_t n_checks;
  const struct contradiction *contradictions;
  size_t n_contradictions;
  size_t red_flag; /* claim that forbids a drill, or NO_INDEX */
};

/* NULL: no memory. */
struct run *run_new(const struct wm_allocator *allocator, const struct network *network);
void run_free(struct run *run);
/* Forgets evidence, hand and results. */
void run_reset(struct run *run);
/* Gives a value; false when the evidence has one already. */
bool run_give(struct run *run, const struct value *value);
/* Takes a given value back (for what-if); fine when it was not given. */
void run_take_back(struct run *run, size_t evidence);
/* Derives, chains and ranks. False: no memory. Diagnostics: pattern limits, contradictions. */
bool run_chain(struct run *run, struct diags *diags);

/* The same with the readings of a chained run, borrowed as long as that one is not changed: for the
 * same evidence on a network with the same vocabulary and other rules. False: no memory. */
bool run_chain_like(struct run *run, const struct run *like);

/* The leading cause (standing leading), or NO_INDEX. */
size_t run_leading(const struct run *run);
/* The drill to do now, or NO_INDEX (none of value, or a red flag). */
size_t run_drill(const struct run *run);

/* ---- the belief algebra (run/belief.c); sources: buchanan-1984, heckerman-1986 ---- */
/* Belief that a normal variable lies in (low, high): 2p - 1. error 0: exact. */
double belief_between(double value, double error, double low, double high);
/* Parallel combination of two certainties in (-1, 1). */
double belief_combine(double a, double b);
/* The log of the likelihood ratio a certainty stands for, and back. */
double belief_to_log(double certainty);
double belief_from_log(double log_ratio);
const char *standing_word(enum standing standing);

#endif
