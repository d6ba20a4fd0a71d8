/* New rules: one condition that holds in the case, or two, and the least strength that sets it
 * right; for what should be concluded, or against what should not. */
#include "workshop/mend_parts.h"

/* What a new rule counts beside an edit of one that is there, and each condition of it. */
#define RULE_SIZE 6
#define CONDITION_SIZE 1
/* Conditions tried, alone and in pairs. */
#define CLAUSES_MAX 80

struct clauses {
  size_t at[CLAUSES_MAX];
  size_t n;
};

/* Findings first: a rule that reads findings says more than one that reads numbers. */
static void gather(const struct mender *mender, struct clauses *clauses) {
  const struct network *network = mender->network;
  for (int pass = 0; pass < 2; pass++)
    for (size_t test = 0; test < network->n_tests && clauses->n < CLAUSES_MAX; test++) {
      bool finding = network->tests[test].condition->kind == CONDITION_BELIEVED;
      if (finding == (pass == 0) && mend_is_clause(mender, test) &&
          mender->before->tests[test].belief > BELIEF_THRESHOLD)
        clauses->at[clauses->n++] = test;
    }
}

/* The least strength that does; the strongest is tried first, since when it does not, none does. */
static bool try_strengths(struct mender *mender, struct edit *edit, double sign) {
  double size = RULE_SIZE + CONDITION_SIZE * (double)edit->n_clauses;
  size_t kept = mender->right.n;
  edit->strength = sign * mend_strengths[MEND_STRENGTHS - 1];
  if (!mend_try(mender, edit, size)) return false;
  for (size_t i = 0; i < MEND_STRENGTHS - 1; i++) {
    edit->strength = sign * mend_strengths[i];
    if (!mend_try(mender, edit, size)) continue;
    mender->right.at[kept] = mender->right.at[kept + 1]; /* the weaker replaces the strongest */
    mender->right.n = kept + 1;
    break;
  }
  return true;
}

static void list_for(struct mender *mender, size_t claim, double sign) {
  struct clauses clauses = {.n = 0};
  struct edit edit = {.kind = EDIT_RULE, .rule = NO_INDEX, .claim = claim, .n_clauses = 1};
  bool any = false;
  gather(mender, &clauses);
  for (size_t i = 0; i < clauses.n; i++) {
    edit.clauses[0] = (struct edit_clause){clauses.at[i], false};
    any = try_strengths(mender, &edit, sign) || any;
  }
  edit.n_clauses = 2;
  for (size_t i = 0; any && i < clauses.n; i++)
    for (size_t k = i + 1; k < clauses.n; k++) {
      edit.clauses[0] = (struct edit_clause){clauses.at[i], false};
      edit.clauses[1] = (struct edit_clause){clauses.at[k], false};
      try_strengths(mender, &edit, sign);
    }
}

void mend_list_rules(struct mender *mender) {
  const struct worked_case *worked = mender->worked;
  size_t leading = run_leading(mender->before), drill = run_drill(mender->before);
  if (worked->expects_leading && worked->leading != leading) {
    if (worked->leading != NO_INDEX) list_for(mender, worked->leading, 1);
    if (leading != NO_INDEX) list_for(mender, leading, -1);
  }
  if (worked->expects_drill && worked->drill != drill) {
    if (worked->drill != NO_INDEX) list_for(mender, worked->drill, 1);
    if (drill != NO_INDEX) list_for(mender, drill, -1);
  }
  for (size_t i = 0; i < worked->n_believed; i++)
    if (mender->before->certainty[worked->believed[i]] <= BELIEF_THRESHOLD)
      list_for(mender, worked->believed[i], 1);
  for (size_t i = 0; i < worked->n_not_believed; i++)
    if (mender->before->certainty[worked->not_believed[i]] > BELIEF_THRESHOLD)
      list_for(mender, worked->not_believed[i], -1);
}
