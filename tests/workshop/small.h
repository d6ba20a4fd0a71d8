/* A small knowledge base for tests of check: one finding and one cause, and nothing to find fault
 * with. Invented: its numbers teach nothing about golf. More entries are appended as text. */
#ifndef TESTS_WORKSHOP_SMALL_H
#define TESTS_WORKSHOP_SMALL_H

#define SMALL_NUMBER(name, unit, low, high, effort)                                                \
  "- evidence: " name "\n  title: x\n  about: x\n  kind: number\n  unit: " unit "\n  range: [" low \
  ", " high "]\n  error: 1\n  spread: 1\n  ask: x\n  effort: " effort "\n  source: practice\n"
#define SMALL_FINDING(name) "- finding: " name "\n  title: x\n  about: x\n"
#define SMALL_RULE(name, when, then)                                                               \
  "- rule: " name "\n  when: " when "\n  then: " then                                              \
  "\n  because: x\n  kind: geometry\n  source: practice\n"
#define SMALL_GROUPED(name, when, then) SMALL_RULE(name, when, then) "  group: g\n"

#define SMALL                                                                                               \
  SMALL_NUMBER("face", "deg", "-20", "20", "measure")                                                       \
  SMALL_NUMBER("path", "deg", "-20", "20", "measure")                                                       \
  SMALL_NUMBER("knuckles", "none", "0", "10", "look")                                                       \
  "- evidence: lie\n  title: x\n  about: x\n  kind: choice\n"                                               \
  "  values: {fairway: x, rough: x, sand: x}\n  ask: x\n  effort: know\n  source: practice\n"               \
  "- evidence: words\n  title: x\n  about: x\n  kind: text\n  ask: x\n  effort: know\n"                     \
  "  source: practice\n" SMALL_FINDING(                                                                     \
      "open") "- cause: weak\n  title: x\n  about: x\n  area: grip\n  source: practice\n"                   \
              "- drill: line\n  title: x\n  task: external\n  changes: {weak: 0.5}\n  aim: x\n  setup: x\n" \
              "  dose: x\n  works: {path: {below: 2}, hits: 3, of: 5}\n  drop: {shots: 10, when: x}\n"      \
              "  cautions: [mind out]\n  source: practice\n" SMALL_RULE(                                    \
                  "open-face", "{face: {above: 2}}", "{open: strong}")                                      \
                  SMALL_RULE("weak-open", "{open: believed}", "{weak: suggests}")                           \
                      SMALL_RULE("weak-hand", "{knuckles: {below: 4}}", "{weak: points}")                   \
                          SMALL_RULE("strong-hand", "{knuckles: {above: 6}}", "{weak: -strong}")            \
                              SMALL_RULE("says-so", "{words: {matches: \"weak (grip|hand)\"}}",             \
                                         "{weak: hint}")                                                    \
                                  SMALL_RULE("on-sand", "{lie: sand}", "{weak: -hint}")

#endif
