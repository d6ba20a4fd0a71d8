/* What the parts of check share: the findings gathered, and the kinds of search for a witness.
 * Internal to check_*.c. Memory that runs out is remembered by the arenas; what is returned is then
 * empty but safe. */
#ifndef WM_WORKSHOP_CHECK_PARTS_H
#define WM_WORKSHOP_CHECK_PARTS_H

#include "workshop/check.h"
#include "workshop/check_solve.h"

struct checker {
  struct arena *arena; /* of the report */
  const struct network *network;
  const struct model *model;
  struct check_options options;
  struct run *run;
  struct solver *solver;
  struct diags diags;                /* the findings, in the order found */
  ARRAY(struct check_finding) found; /* what goes with each of them; diag is filled at the end */
  const bool *roots;                 /* network_roots */
  const double *most, *least;        /* by claim: bounds of its certainty over all cases */
  const bool *dead;                  /* by rule: it can never fire */
  size_t n_impacts;
};

/* Adds a finding at a place, about the entry at `entry`; NULL: no memory. Notes are added with
 * check_note, and belong to the latest finding. */
struct check_finding *check_add(struct checker *checker, enum diag_code code, struct span at,
                                struct span entry, const char *const words[]);
#define FIND(checker, code, at, entry, ...)                                                        \
  check_add((checker), DIAG_##code, (at), (entry), (const char *const[]){__VA_ARGS__, NULL})
void check_note(struct checker *checker, struct span at, const char *text);
/* The finding is about this entry too. */
void check_about(struct checker *checker, struct check_finding *finding, struct span entry);
/* "0.38" */
const char *check_number(struct checker *checker, double number);

/* ---- witnesses (check_witness.c) ---- */

/* Whether the chained run shows what is to be shown. */
typedef bool check_shows(const struct run *run, const void *context);
/* Looks for a case in which all goals hold and that shows it, by running candidates; then takes
 * away what it does not need. */
struct witness check_search(struct checker *checker, const struct solve_goal *goals, size_t n,
                            check_shows *shows, const void *context);
/* The case as it is, with what it does not need taken away; the run is left with the outcome. */
struct witness check_shrink(struct checker *checker, struct witness witness, check_shows *shows,
                            const void *context);
bool check_chain(struct checker *checker, struct witness witness);
/* The usual value for a domain: what a witness gives. */
struct value check_value(struct checker *checker, size_t evidence, const struct domain *domain);
/* Two rules that fire. */
struct check_pair {
  size_t a, b;
};
struct witness check_search_pair(struct checker *checker, size_t a, size_t b);
struct witness check_search_rule(struct checker *checker, size_t rule);
/* The condition "this claim is believed". */
struct condition check_believed(size_t claim, double above);

/* ---- implication (check_implies.c) ---- */

/* A factor f in (0, 1]: wherever a's belief is above 0.2, b's is at least f times it. 0: not so, or
 * not seen to be so. Looks through findings into the rules that conclude them. */
double check_implies(struct checker *checker, const struct condition *a, const struct condition *b);

/* ---- patterns (check_pattern.c) ---- */

/* A text that the pattern, as written, matches; NULL when none was made. */
const char *check_example_text(struct arena *arena, const char *pattern);
/* The pattern of a condition `matches`, as written. */
const char *check_pattern_text(struct arena *arena, const struct condition *condition);

/* ---- the parts, each adding its findings ---- */
void check_bounds(struct checker *checker); /* fills most, least, dead; first of all */
void check_rules(struct checker *checker);
void check_pairs(struct checker *checker);
void check_claims(struct checker *checker);
void check_uses(struct checker *checker);
void check_phrases(struct checker *checker);
void check_texts(struct checker *checker);
void check_patterns(struct checker *checker);
void check_impacts(struct checker *checker);
void check_reached(struct checker *checker); /* thorough */

#endif
