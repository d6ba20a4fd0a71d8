/* One walk over what a case expects serves the verdict and the plain yes or no, so the two cannot
 * disagree. */
#include "workshop/cases.h"

bool case_chain(struct run *run, const struct worked_case *worked) {
  run_reset(run);
  run->hand = worked->hand;
  for (size_t i = 0; i < worked->n_values; i++) run_give(run, &worked->values[i]);
  return run_chain(run, NULL);
}

static bool is_believed(const struct run *run, size_t claim) {
  return run->certainty[claim] > BELIEF_THRESHOLD;
}

static struct expectation compared(const struct run *run, enum expected kind, size_t claim,
                                   size_t got) {
  return (struct expectation){.kind = kind,
                              .claim = claim,
                              .got = got,
                              .certainty = claim == NO_INDEX ? 0 : run->certainty[claim],
                              .holds = claim == got};
}

static struct expectation weighed(const struct run *run, enum expected kind, size_t claim) {
  bool wanted = kind == EXPECTED_BELIEVED;
  return (struct expectation){.kind = kind,
                              .claim = claim,
                              .got = NO_INDEX,
                              .certainty = run->certainty[claim],
                              .holds = is_believed(run, claim) == wanted};
}

static size_t expectation_count(const struct worked_case *worked) {
  return (size_t)worked->expects_leading + worked->expects_drill + worked->n_believed +
         worked->n_not_believed;
}

/* The i-th of what the case expects: leading, drill, then believed, then not believed. */
static struct expectation expectation_at(const struct run *run, const struct worked_case *worked,
                                         size_t i) {
  if (worked->expects_leading && i-- == 0)
    return compared(run, EXPECTED_LEADING, worked->leading, run_leading(run));
  if (worked->expects_drill && i-- == 0)
    return compared(run, EXPECTED_DRILL, worked->drill, run_drill(run));
  if (i < worked->n_believed) return weighed(run, EXPECTED_BELIEVED, worked->believed[i]);
  return weighed(run, EXPECTED_NOT_BELIEVED, worked->not_believed[i - worked->n_believed]);
}

struct verdict case_verdict(struct arena *arena, const struct run *run,
                            const struct worked_case *worked) {
  struct verdict verdict = {.worked = worked};
  size_t n = expectation_count(worked);
  struct expectation *list = arena_new_array(arena, struct expectation, n + 1);
  if (!list) return verdict;
  for (size_t i = 0; i < n; i++) {
    list[i] = expectation_at(run, worked, i);
    verdict.n_failed += !list[i].holds;
  }
  verdict.expectations = list;
  verdict.n = n;
  return verdict;
}

bool verdict_fails(const struct verdict *verdict) {
  return verdict->n_failed > 0 || verdict->answer;
}

bool case_holds(const struct run *run, const struct worked_case *worked) {
  size_t n = expectation_count(worked);
  for (size_t i = 0; i < n; i++)
    if (!expectation_at(run, worked, i).holds) return false;
  return true;
}

const char *expected_word(enum expected kind) {
  static const char *const words[] = {"leading", "drill", "believed", "not_believed"};
  return words[kind];
}
