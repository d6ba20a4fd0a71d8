/* A knowledge base written in the test itself, and a case on it: pieces of YAML in, certainties
 * out. Names are looked up by text and every failure ends the test, so that cases stay short. Test
 * code only; one thread. */
#ifndef TESTS_SUPPORT_TRIAL_H
#define TESTS_SUPPORT_TRIAL_H

#include "support/knowledge.h"

/* Entries with what is required. Keys may follow. */
#define NUMBER(name)                                                                               \
  "- evidence: " name "\n  title: the " name "\n  about: x\n  kind: number\n  unit: deg\n"         \
  "  range: [-90, 90]\n  error: 1\n  spread: 2\n  ask: x\n  effort: look\n  source: practice\n"
#define MIRRORED(name) NUMBER(name) "  sides: [left, right]\n"
#define YES_NO(name)                                                                               \
  "- evidence: " name "\n  title: the " name "\n  about: x\n  kind: yes_no\n  ask: x\n"            \
  "  effort: know\n  source: practice\n"
#define CHOICE(name, values)                                                                       \
  "- evidence: " name "\n  title: the " name "\n  about: x\n  kind: choice\n  values: {" values    \
  "}\n  ask: x\n  effort: know\n  source: practice\n"
#define WORDS(name)                                                                                \
  "- evidence: " name "\n  title: the " name "\n  about: x\n  kind: text\n  ask: x\n"              \
  "  effort: know\n  source: practice\n"
#define CLUB_EVIDENCE(name)                                                                        \
  "- evidence: " name "\n  title: the " name "\n  about: x\n  kind: club\n  ask: x\n"              \
  "  effort: know\n  source: practice\n"
#define SEVEN_IRON                                                                                 \
  "- club: 7i\n  title: 7 iron\n  also: [iron7]\n  family: iron\n  loft: 33 deg\n"                 \
  "  length: 37 in\n  lie: 62.5 deg\n  head_mass: 0.268 kg\n  source: practice\n"
#define FINDING(name) "- finding: " name "\n  title: the " name "\n  about: x\n"
#define CAUSE(name)                                                                                \
  "- cause: " name "\n  title: the " name "\n  about: x\n  area: grip\n  source: practice\n"
#define DRILL(name, task, changes)                                                                 \
  "- drill: " name "\n  title: the " name "\n  task: " task "\n  changes: {" changes "}\n"         \
  "  aim: x\n  setup: x\n  dose: x\n  works: {hits: 3, of: 5, seen: x}\n"                          \
  "  drop: {shots: 10, when: x}\n  cautions: [x]\n  source: practice\n"
#define RULE(name, when, then)                                                                     \
  "- rule: " name "\n  when: " when "\n  then: {" then "}\n  because: x\n  kind: convention\n"     \
  "  source: practice\n"

struct trial {
  struct knowledge knowledge;
  const struct model *model;
  const struct network *network;
  struct run *run;
};

/* Reads the pieces as one file and makes a run; a fault fails the test. */
#define TRIAL(trial, ...) trial_open((trial), (const char *const[]){__VA_ARGS__, NULL})
void trial_open(struct trial *trial, const char *const *pieces);
void trial_close(struct trial *trial);

/* The diagnostics that the pieces give, as printed; in the arena. Fails when they give none. */
#define FAULTS(arena, ...) trial_faults((arena), (const char *const[]){__VA_ARGS__, NULL})
const char *trial_faults(struct arena *arena, const char *const *pieces);

void trial_give(struct trial *trial, const char *evidence, const char *text);
/* Chains; diagnostics go to trial->knowledge.diags. */
void trial_chain(struct trial *trial);
/* Forgets the case and chains a new one: "a=1", "b=yes" ... */
#define TRY(trial, ...) trial_try((trial), (const char *const[]){__VA_ARGS__, NULL})
void trial_try(struct trial *trial, const char *const *evidence);

size_t trial_evidence(const struct trial *trial, const char *name);
size_t trial_claim(const struct trial *trial, const char *name);
size_t trial_rule(const struct trial *trial, const char *name);
const struct reading *trial_reading(const struct trial *trial, const char *name);
double trial_certainty(const struct trial *trial, const char *name);
/* Of the rule's whole premise. */
const struct judgement *trial_premise(const struct trial *trial, const char *rule);

/* Fails unless |got - wanted| <= tolerance. */
void assert_near(double got, double wanted, double tolerance);

#endif
