/* A small invented knowledge base whose rules and cases a test can change one by one. Test code
 * only. */
#ifndef TESTS_WORKSHOP_SHOP_H
#define TESTS_WORKSHOP_SHOP_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/knowledge.h"

#define NUMBER_EVIDENCE(name, error)                                                               \
  "- evidence: " name "\n  title: " name "\n  about: a number\n  kind: number\n  unit: deg\n"      \
  "  range: [-20, 20]\n  error: " error "\n  spread: 2\n  sides: [left, right]\n"                  \
  "  ask: How much is it?\n  effort: measure\n  source: practice\n"
#define DRILL(name, changes, more)                                                                 \
  "- drill: " name "\n  title: " name "\n  task: external\n  changes: {" changes "}\n"             \
  "  aim: It moves.\n  setup: Lay a ball.\n  dose: Ten.\n"                                         \
  "  works: {path: {above: -2}, hits: 3, of: 5, seen: straight}\n"                                 \
  "  drop: {shots: 10, when: nothing moved}\n" more                                                \
  "  cautions: [Mind your head.]\n  source: practice\n"
#define CAUSE(name)                                                                                \
  "- cause: " name "\n  title: a cause\n  about: a cause\n  area: downswing\n  source: practice\n"
#define FINDING(name, more) "- finding: " name "\n  title: a finding\n  about: a finding\n" more

static const char *const shop_vocabulary[] = {
    NUMBER_EVIDENCE("path", "1"),
    NUMBER_EVIDENCE("face", "1"),
    "- evidence: face_to_path\n  title: face to path\n  about: the difference\n  kind: number\n"
    "  unit: deg\n  range: [-40, 40]\n  error: 1.5\n  spread: 2\n  sides: [left, right]\n"
    "  formula: face - path\n  source: practice\n",
    "- evidence: lie\n  title: lie\n  about: what the ball lies on\n  kind: choice\n"
    "  values: {fairway: fairway, rough: rough}\n  ask: What lie?\n  effort: know\n"
    "  source: practice\n",
    "- evidence: sticks\n  title: sticks\n  about: sticks at hand\n  kind: yes_no\n"
    "  ask: Are there sticks?\n  effort: know\n  source: practice\n",
    FINDING("path_left", ""),
    FINDING("open_face", ""),
    FINDING("hurts", "  red_flag: Stop.\n"),
    CAUSE("steep"),
    CAUSE("aims_left"),
    CAUSE("weak_hold"),
    DRILL("gate", "steep: 0.7", ""),
    DRILL("line", "aims_left: 0.8, steep: 0.1", "  needs:\n    sticks: yes\n"),
    DRILL("firm_hold", "weak_hold: 0.7", ""),
};

#define RULE(name, when, then)                                                                     \
  "- rule: " name "\n  when: {" when "}\n  " then "\n  because: So it is.\n"                       \
  "  kind: geometry\n  source: practice\n"

enum shop_rule { R_LEFT, R_OPEN, R_STEEP, R_AIM, R_WEAK, R_FORMULA, R_ROUGH, SHOP_RULES };
static const char *const shop_rules[SHOP_RULES] = {
    RULE("left", "path: {below: -2.5}", "then: {path_left: strong}"),
    RULE("open", "face_to_path: {above: 2}", "then: {open_face: strong}"),
    RULE("steep", "all: [path_left: believed, open_face: {believed: 0.4}]",
         "then: {steep: strong}"),
    RULE("aim", "all: [path_left: believed, none: [lie: rough]]",
         "then: {aims_left: 0.5, steep: -hint}"),
    RULE("weak", "all: [open_face: believed, any: [face: {between: [3, 9]}, lie: rough]]",
         "then: {weak_hold: points}"),
    RULE("far-open", "formula: \"face > path + 6\"", "then: {weak_hold: suggests}"),
    RULE("rough", "lie: rough", "removes: [gate]"),
};

#define CASE(name, evidence, expect)                                                               \
  "- case: " name "\n  evidence: {" evidence "}\n  expect: {" expect "}\n"
static const char shop_cases[] =
    CASE("cut", "path: -6, face: 1, lie: fairway", "leading: steep, drill: gate")
        CASE("held-open", "path: 0, face: 6", "leading: weak_hold, drill: firm_hold")
            CASE("straight", "path: 0, face: 0",
                 "leading: none, drill: none, not_believed: [path_left]");

/* Loads the vocabulary, the rules, one of them replaced (or none: SHOP_RULES), `more` and the
 * cases. Aborts on faulty knowledge. */
static inline void shop_load_with(struct knowledge *knowledge, enum shop_rule replaced,
                                  const char *rule, const char *more, const char *cases) {
  static char yaml[32768];
  size_t n = 0;
  for (size_t i = 0; i < sizeof shop_vocabulary / sizeof shop_vocabulary[0]; i++)
    n += (size_t)snprintf(yaml + n, sizeof yaml - n, "%s", shop_vocabulary[i]);
  for (size_t i = 0; i < SHOP_RULES; i++)
    n += (size_t)snprintf(yaml + n, sizeof yaml - n, "%s", i == replaced ? rule : shop_rules[i]);
  snprintf(yaml + n, sizeof yaml - n, "%s%s", more, cases);
  if (knowledge_load_text(knowledge, yaml)) return;
  knowledge_print(knowledge);
  abort();
}

static inline void shop_load(struct knowledge *knowledge, const char *cases) {
  shop_load_with(knowledge, SHOP_RULES, "", "", cases);
}

static inline size_t shop_claim(const struct knowledge *knowledge, const char *name) {
  size_t claim = model_find_claim(knowledge->model, name);
  if (claim == NO_INDEX) abort();
  return claim;
}

static inline const struct worked_case *shop_case(const struct knowledge *knowledge,
                                                  const char *name) {
  for (size_t i = 0; i < knowledge->model->n_cases; i++)
    if (strcmp(knowledge->model->cases[i].name, name) == 0) return &knowledge->model->cases[i];
  abort();
}

#endif
