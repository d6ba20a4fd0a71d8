/* A small knowledge base for the tests of session/, and a table fed from memory. Invented: its
 * numbers teach nothing about golf. Test code only. */
#ifndef TESTS_SESSION_SMALL_H
#define TESTS_SESSION_SMALL_H

#include <string.h>

#include "session/session.h"
#include "support/cases.h"
#include "support/knowledge.h"

#define SMALL_CLUB(name, also)                                                                     \
  "- club: " name "\n  title: " name " club\n  also: [" also                                       \
  "]\n  family: iron\n  loft: 33 deg\n  length: 0.94 m\n  lie: 62 deg\n  head_mass: 268 g\n"       \
  "  source: practice\n"
#define SMALL_NUMBER(name, title, rest)                                                            \
  "- evidence: " name "\n  title: " title "\n  about: invented\n  kind: number\n  " rest           \
  "\n  ask: How?\n  effort: measure\n  source: practice\n"
#define SMALL_RULE(name, when, then)                                                               \
  "- rule: " name "\n  when: " when "\n  then: " then                                              \
  "\n  because: invented\n  kind: geometry\n  source: practice\n"
#define SMALL_CAUSE(name)                                                                          \
  "- cause: " name "\n  title: " name "\n  about: invented\n  area: aim\n  source: practice\n"
#define SMALL_DRILL(name, rest)                                                                    \
  "- drill: " name "\n  title: " name "\n  task: external\n  aim: moves\n  setup: Lay it out.\n"   \
  "  dose: Ten.\n  drop: {shots: 10, when: nothing moved}\n  cautions: [Mind your head.]\n"        \
  "  source: practice\n  " rest "\n"

static const char small_knowledge[] =
    "- evidence: club\n  title: club\n  about: invented\n  kind: club\n  ask: Which?\n"
    "  effort: know\n  source: practice\n"
    "- evidence: contact\n  title: contact\n  about: invented\n  kind: choice\n"
    "  values: {clean: clean, fat: fat, fat_and_thin: both}\n  ask: How?\n  effort: know\n"
    "  source: practice\n"
    "- evidence: pain\n  title: pain\n  about: invented\n  kind: yes_no\n  ask: Pain?\n"
    "  effort: know\n  source: practice\n"
    "- evidence: both_ways\n  title: both ways\n  about: invented\n  kind: yes_no\n  ask: Both?\n"
    "  effort: know\n  source: practice\n" SMALL_CLUB("7i", "7iron") SMALL_CLUB(
        "pw",
        "pitching_wedge") SMALL_NUMBER("path", "club path",
                                       "unit: deg\n  range: [-20, 20]\n  error: 0.5\n  spread: 2\n"
                                       "  sides: [left, right]\n  words: {left: -4 +/- 2, right: 4 +/- 2}")
        SMALL_NUMBER("face", "face angle",
                     "unit: deg\n  range: [-20, 20]\n  error: 0.5\n  spread: 2\n"
                     "  sides: [left, right]\n  words: {open: 4 +/- 2, closed: -4 +/- 2}")
            SMALL_NUMBER("start", "start direction",
                         "unit: deg\n  range: [-40, 40]\n  error: 0.5\n  spread: 2\n"
                         "  sides: [left, right]\n  formula: 0.7 * face + 0.3 * path")
                SMALL_NUMBER(
                    "curve", "curve",
                    "unit: deg\n  range: [-40, 40]\n  error: 0.5\n  spread: 2\n"
                    "  sides: [left, right]\n  formula: face - path") SMALL_NUMBER("attack",
                                                                                   "attack angle",
                                                                                   "unit: deg\n  range: [-15, 15]\n  error: 1\n  spread: 1\n"
                                                                                   "  sides: [down, up]")
                    SMALL_NUMBER("ball_speed", "ball speed", "unit: m/s\n  range: [5, 95]\n  error: 0.3\n  spread: 1") SMALL_NUMBER(
                        "strike", "strike",
                        "unit: mm\n  range: [-40, 40]\n  error: 3\n"
                        "  spread: 6\n  sides: [heel side, toe side]\n"
                        "  words: {toe: 15 +/- 6, heel: -15 +/- 6}")
                        SMALL_NUMBER(
                            "path_scatter", "scatter of the path",
                            "unit: deg\n  range: [0, 15]\n  error: 0.5\n"
                            "  spread: 0") "- finding: hurts\n  title: it hurts\n  about: invented\n  red_flag: Stop.\n" SMALL_CAUSE("steep")
                            SMALL_CAUSE("aims_off") SMALL_CAUSE("scattered") SMALL_DRILL(
                                "gate",
                                "changes: {steep: 0.7}\n  works: {path: {above: -2.5}, hits: 3, of: 5}")
                                SMALL_DRILL("line",
                                            "changes: {aims_off: 0.6}\n"
                                            "  works: {start: {between: [-2, 2]}, hits: 3, of: 5}")
                                    SMALL_RULE("hurts", "{pain: yes}", "{hurts: 0.9}") SMALL_RULE(
                                        "steep", "{path: {below: -3}}",
                                        "{steep: 0.9}") SMALL_RULE("aims_off",
                                                                   "{start: {above: 3}}",
                                                                   "{aims_off: 0.8}")
                                        SMALL_RULE(
                                            "scattered", "{path_scatter: {above: 4}}",
                                            "{scattered: 0.5}") "- rule: gate-spoils\n  when: {path: {above: 3}}\n  removes: [gate]\n  because: invented\n"
                                                                "  kind: geometry\n  source: practice\n"
                                                                "- column: club\n  header: club\n  means: club\n"
                                                                "- column: shot\n  header: 'shot|no|#'\n  means: shot\n"
                                                                "- column: side\n  header: l r\n  means: side\n"
                                                                "- column: note\n  header: notes?\n  means: ignore\n"
                                                                "- column: summary\n  rows: 'mean|average'\n"
                                                                "- column: path\n  header: '(club )?path'\n  means: path\n  unit: deg\n"
                                                                "- column: face\n  header: 'face( angle)?'\n  means: face\n  unit: deg\n"
                                                                "- column: start\n  header: start\n  means: start\n  unit: deg\n"
                                                                "- column: curve\n  header: curve\n  means: curve\n  unit: deg\n"
                                                                "- column: attack\n  header: attack\n  means: attack\n  unit: deg\n"
                                                                "- column: ball_speed\n  header: ball speed\n  means: ball_speed\n"
                                                                "- column: strike\n  header: 'strike|toe heel'\n  means: strike\n"
                                                                "- column: contact\n  header: contact\n  means: contact\n"
                                                                "- column: double_a\n  header: both\n  means: path\n  unit: deg\n"
                                                                "- column: double_b\n  header: both\n  means: face\n  unit: deg\n"
                                                                "- window: usual\n  title: usual\n  start: {of: start, within: 2}\n"
                                                                "  curve: {of: curve, within: 2}\n  finish: {of: [start + curve, start], within: 4}\n"
                                                                "  flights: {left_left: a, left_straight: b, left_right: '{left} then {right}',\n"
                                                                "    straight_left: d, straight_straight: e, straight_right: f, right_left: g,\n"
                                                                "    right_straight: 'push {right}', right_right: i}\n"
                                                                "  ellipses: [[start, curve]]\n  scatter: {path_scatter: path}\n  both_ways: both_ways\n"
                                                                "  source: practice\n";

struct small_feed {
  const char *at;
};

/* Seven bytes a time, so that pieces never match rows. */
static inline long small_fetch(void *context, char *bytes, size_t room) {
  struct small_feed *feed = context;
  size_t n = strlen(feed->at);
  if (n > 7) n = 7;
  if (n > room) n = room;
  memcpy(bytes, feed->at, n);
  feed->at += n;
  return (long)n;
}

#endif
