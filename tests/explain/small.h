/* A small invented knowledge base and cases on it, for the tests of explain/ and render/. Test code
 * only. */
#ifndef TESTS_EXPLAIN_SMALL_H
#define TESTS_EXPLAIN_SMALL_H

#include <stdlib.h>
#include <string.h>

#include "explain/explain.h"
#include "support/knowledge.h"

/* One club, nine evidences, three findings, two causes, three drills, twelve rules in two layers.
 */
static const char small_vocabulary[] =
    "- source: invented-2000\n"
    "  title: \"An invented source for tests: nobody, 2000\"\n"
    "  status: memory\n"
    "  about: nothing\n"
    "- evidence: club\n"
    "  title: club\n"
    "  about: the club in hand\n"
    "  kind: club\n"
    "  ask: Which club?\n"
    "  effort: know\n"
    "  source: practice\n"
    "- evidence: loft\n"
    "  title: club loft\n"
    "  about: the loft of the club\n"
    "  kind: number\n"
    "  unit: deg\n"
    "  range: [0, 70]\n"
    "  error: 0.5\n"
    "  spread: 1\n"
    "  from_club: loft\n"
    "  source: practice\n"
    "- evidence: path\n"
    "  title: club path\n"
    "  about: where the club travels\n"
    "  kind: number\n"
    "  unit: deg\n"
    "  range: [-20, 20]\n"
    "  error: 1\n"
    "  spread: 2\n"
    "  sides: [left, right]\n"
    "  words:\n"
    "    left: -4 +/- 2\n"
    "    straight: 0 +/- 1.5\n"
    "    right: 4 +/- 2\n"
    "  ask: Which way does the club travel?\n"
    "  effort: measure\n"
    "  source: practice\n"
    "- evidence: face\n"
    "  title: face direction\n"
    "  about: where the face looks\n"
    "  kind: number\n"
    "  unit: deg\n"
    "  range: [-20, 20]\n"
    "  error: 1\n"
    "  spread: 2\n"
    "  sides: [left, right]\n"
    "  ask: Where does the face look?\n"
    "  effort: measure\n"
    "  source: practice\n"
    "- evidence: face_to_path\n"
    "  title: face to path\n"
    "  about: where the face looks as seen from the path\n"
    "  kind: number\n"
    "  unit: deg\n"
    "  range: [-40, 40]\n"
    "  error: 1.5\n"
    "  spread: 2\n"
    "  sides: [left, right]\n"
    "  formula: face - path\n"
    "  source: practice\n"
    "- evidence: ball_speed\n"
    "  title: ball speed\n"
    "  about: how fast the ball leaves\n"
    "  kind: number\n"
    "  unit: m/s\n"
    "  range: [5, 100]\n"
    "  error: 0.5\n"
    "  spread: 1\n"
    "  ask: How fast does the ball leave?\n"
    "  effort: measure\n"
    "  source: practice\n"
    "- evidence: feet\n"
    "  title: line of the feet\n"
    "  about: where the feet point\n"
    "  kind: choice\n"
    "  values:\n"
    "    points_left: to the {left}\n"
    "    square: square\n"
    "    points_right: to the {right}\n"
    "  ask: Where does the line of the feet point?\n"
    "  effort: look\n"
    "  source: practice\n"
    "- evidence: pain\n"
    "  title: pain\n"
    "  about: something hurts\n"
    "  kind: yes_no\n"
    "  ask: Does it hurt?\n"
    "  effort: know\n"
    "  source: practice\n"
    "- evidence: said\n"
    "  title: the player's words\n"
    "  about: what the player says\n"
    "  kind: text\n"
    "  ask: What does the player say?\n"
    "  effort: know\n"
    "  source: practice\n"
    "- finding: cuts_across\n"
    "  title: the club cuts across the ball toward the {left}\n"
    "  about: the path is {left} of where the face looks\n"
    "- finding: aimed_aside\n"
    "  title: the body is aimed to the {left}\n"
    "  about: the feet point {left} of the target\n"
    "- finding: hurts\n"
    "  title: something hurts\n"
    "  about: pain is no matter for a drill\n"
    "  red_flag: Stop, and see a licensed medical practitioner.\n"
    "- cause: steep\n"
    "  title: the shaft steepens on the way down\n"
    "  about: the clubhead comes from outside\n"
    "  area: downswing\n"
    "  tell_apart: Poor aim gives the same path together with the feet.\n"
    "  source: practice\n"
    "- cause: poor_aim\n"
    "  title: aim to the {left}\n"
    "  about: the whole body aims {left}\n"
    "  area: aim\n"
    "  source: practice\n";

static const char small_drills_and_rules[] =
    "- drill: gate\n"
    "  title: gate of two balls\n"
    "  task: external\n"
    "  changes: {steep: 0.7, poor_aim: 0.1}\n"
    "  aim: The path moves to the {right}.\n"
    "  setup: Lay two balls.\n"
    "  objects:\n"
    "    - {object: ball, ahead: -20 cm, out: 12 cm}\n"
    "  dose: Five swings.\n"
    "  works: {path: {above: -2.5}, hits: 3, of: 5, seen: \"the ball starts {right}\"}\n"
    "  drop: {shots: 10, when: nothing moves}\n"
    "  cautions:\n"
    "    - Clear swing space all round.\n"
    "  source: practice\n"
    "- drill: line_on_ground\n"
    "  title: line on the ground\n"
    "  task: external\n"
    "  changes: {poor_aim: 0.8}\n"
    "  aim: The feet point at the target.\n"
    "  setup: Lay a stick.\n"
    "  dose: Five swings.\n"
    "  works: {path: {above: -2.5}, hits: 3, of: 5, seen: \"the ball starts {right}\"}\n"
    "  drop: {shots: 10, when: nothing moves}\n"
    "  needs:\n"
    "    all:\n"
    "      - feet: {known: yes}\n"
    "      - ball_speed: {above: 25 m/s}\n"
    "  cautions:\n"
    "    - Clear swing space all round.\n"
    "  source: practice\n"
    "- drill: feel_flat\n"
    "  title: a feel of a flat shaft\n"
    "  task: body\n"
    "  changes: {steep: 0.6}\n"
    "  aim: The shaft flattens.\n"
    "  setup: Swing slowly.\n"
    "  dose: Five swings.\n"
    "  works: {path: {above: -2.5}, hits: 3, of: 5, seen: \"the ball starts {right}\"}\n"
    "  drop: {shots: 10, when: nothing moves}\n"
    "  cautions:\n"
    "    - Clear swing space all round.\n"
    "  source: practice\n"
    "- club: 7i\n"
    "  title: 7 iron\n"
    "  family: iron\n"
    "  loft: 33 deg\n"
    "  length: 0.94 m\n"
    "  lie: 62.5 deg\n"
    "  head_mass: 268 g\n"
    "  source: practice\n"
    "- rule: path-left-under-open-face\n"
    "  when:\n"
    "    all:\n"
    "      - path: {below: -2.5}\n"
    "      - face_to_path: {above: 1.5}\n"
    "  then: {cuts_across: strong}\n"
    "  because: The club travels {path} while the face looks to the {right} of it.\n"
    "  kind: geometry\n"
    "  source: invented-2000\n"
    "  group: path-reading\n"
    "- rule: path-far-left\n"
    "  when: {path: {below: -4}}\n"
    "  then: {cuts_across: points}\n"
    "  because: The club travels far to the {left}.\n"
    "  kind: geometry\n"
    "  source: invented-2000\n"
    "  group: path-reading\n"
    "- rule: face-right-of-path\n"
    "  when: {formula: \"face > path + 1\"}\n"
    "  then: {cuts_across: suggests}\n"
    "  because: The face looks {right} of the path.\n"
    "  kind: geometry\n"
    "  source: practice\n"
    "- rule: feet-point-aside\n"
    "  when: {feet: points_left}\n"
    "  then: {aimed_aside: near_certain}\n"
    "  because: The feet point {feet}.\n"
    "  kind: geometry\n"
    "  source: practice\n"
    "- rule: pain-is-told\n"
    "  when:\n"
    "    any:\n"
    "      - pain: yes\n"
    "      - said: {matches: \"hurt|pain\"}\n"
    "  then: {hurts: near_certain}\n"
    "  because: The player says that it hurts.\n"
    "  kind: convention\n"
    "  source: practice\n"
    "- rule: cut-means-steep\n"
    "  when:\n"
    "    all:\n"
    "      - cuts_across: believed\n"
    "      - none:\n"
    "          - feet: points_left\n"
    "          - feet: points_right\n"
    "  then: {steep: strong}\n"
    "  because: A cut without poor aim comes from a shaft that steepens.\n"
    "  learner: The longer wording.\n"
    "  kind: cause_effect\n"
    "  source: practice\n"
    "- rule: cut-with-aim\n"
    "  when:\n"
    "    all:\n"
    "      - cuts_across: {believed: 0.4}\n"
    "      - aimed_aside: believed\n"
    "  then: {poor_aim: strong, steep: -suggests}\n"
    "  because: The path goes where the feet point.\n"
    "  kind: cause_effect\n"
    "  source: practice\n"
    "- rule: soft-ball\n"
    "  when: {ball_speed: {below: 35}}\n"
    "  then: {steep: hint}\n"
    "  because: A glancing blow leaves little ball speed, {ball_speed}.\n"
    "  kind: experience\n"
    "  source: memory\n"
    "- rule: straight-path\n"
    "  when: {path: {near: 0, within: 1.5}}\n"
    "  then: {steep: -points}\n"
    "  because: A straight path is not what a steep shaft gives.\n"
    "  kind: experience\n"
    "  source: practice\n"
    "- rule: gate-spoils\n"
    "  when: {path: {above: 3}}\n"
    "  then: {gate: -strong}\n"
    "  because: The gate moves the path further to the {right}.\n"
    "  kind: experience\n"
    "  source: practice\n"
    "- rule: no-gate-in-pain\n"
    "  when: {pain: yes}\n"
    "  removes: [gate]\n"
    "  because: No gate while it hurts.\n"
    "  kind: convention\n"
    "  source: practice\n"
    "- rule: gate-for-cut\n"
    "  when: {cuts_across: believed}\n"
    "  then: {gate: suggests}\n"
    "  because: The gate shows the way.\n"
    "  kind: experience\n"
    "  source: practice\n"
    "- case: cut\n"
    "  evidence:\n"
    "    club: 7i\n"
    "    face: 1\n"
    "    path: -5\n"
    "    feet: square\n"
    "    pain: no\n"
    "  expect:\n"
    "    leading: steep\n"
    "    drill: gate\n"
    "  because: A plain cut.\n";

struct small {
  struct knowledge knowledge;
  const struct model *model;
  struct run *run;
  struct arena *arena; /* for views */
};

/* Gives "name=value" texts, NULL-ended, as a player of the hand. */
static inline void small_give(struct small *small, struct run *run, const char *const *evidence) {
  for (; *evidence != NULL; evidence++) {
    const char *equals = strchr(*evidence, '=');
    char *name = arena_copy(small->arena, *evidence, (size_t)(equals - *evidence));
    struct value value;
    size_t index = model_find_evidence(small->model, name);
    struct span nowhere = {0};
    if (index == NO_INDEX ||
        !value_read(small->arena, &small->knowledge.diags, small->model, index,
                    arena_copy_string(small->arena, equals + 1), nowhere, &value))
      abort();
    run_give(run, &value);
  }
}

/* A chained run on the small knowledge. */
static inline void small_start(struct small *small, enum hand hand, const char *const *evidence) {
  /* One text: C promises no longer string than 4095 bytes. */
  char yaml[sizeof small_vocabulary + sizeof small_drills_and_rules];
  strcpy(yaml, small_vocabulary);
  strcat(yaml, small_drills_and_rules);
  if (!knowledge_load_text(&small->knowledge, yaml)) {
    knowledge_print(&small->knowledge);
    abort();
  }
  small->model = small->knowledge.model;
  small->arena = arena_new(NULL);
  small->run = run_new(NULL, small->knowledge.network);
  small->run->hand = hand;
  small_give(small, small->run, evidence);
  if (!run_chain(small->run, &small->knowledge.diags)) abort();
}

static inline void small_end(struct small *small) {
  run_free(small->run);
  arena_free(small->arena);
  knowledge_free(&small->knowledge);
}

static inline struct subject small_subject(const struct small *small, const char *name) {
  struct subject subject = {0};
  struct diags diags;
  struct span nowhere = {0};
  diags_init(&diags, small->arena);
  if (!subject_find(small->model, &diags, nowhere, name, false, &subject)) abort();
  return subject;
}

static inline size_t small_claim(const struct small *small, const char *name) {
  return model_find_claim(small->model, name);
}

static inline size_t small_rule(const struct small *small, const char *name) {
  return model_find_rule(small->model, name);
}

/* A plain cut: path 5 left under a face 1 right, feet square. */
static const char *const small_cut[] = {"club=7i",     "face=1",  "path=-5",
                                        "feet=square", "pain=no", NULL};

#endif
