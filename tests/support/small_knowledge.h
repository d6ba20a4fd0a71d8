/* The smallest knowledge from a reading to a drill: a path to the left, a steep cause, one gate.
 * Test code only. */
#ifndef TESTS_SUPPORT_SMALL_KNOWLEDGE_H
#define TESTS_SUPPORT_SMALL_KNOWLEDGE_H

#define SMALL_KNOWLEDGE                                                                                \
  "- evidence: path\n  title: club path\n  about: where the club goes\n  kind: number\n  unit: deg\n"  \
  "  range: [-20, 20]\n  error: 1\n  spread: 2\n  sides: [left, right]\n  ask: Where does it go?\n"    \
  "  effort: measure\n  source: practice\n"                                                            \
  "- finding: path_left\n  title: it goes {left}\n  about: it goes {left}\n"                           \
  "- cause: steep\n  title: steep\n  about: steep\n  area: downswing\n  source: practice\n"            \
  "- drill: gate\n  title: gate\n  task: external\n  changes: {steep: 0.7}\n  aim: to the {right}\n"   \
  "  setup: Lay a ball.\n  dose: Ten.\n  works: {path: {above: -2}, hits: 3, of: 5, seen: straight}\n" \
  "  drop: {shots: 10, when: nothing moved}\n  cautions: [Mind your head.]\n  source: practice\n"      \
  "- rule: left\n  when: {path: {below: -2}}\n  then: {path_left: 0.8}\n  because: It goes {path}.\n"  \
  "  kind: geometry\n  source: practice\n"                                                             \
  "- rule: steep\n  when: {path_left: believed}\n  then: {steep: 0.8}\n  because: It is steep.\n"      \
  "  kind: geometry\n  source: practice\n"

#endif
