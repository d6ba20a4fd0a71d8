/* What the fuzzed bytes are read against: a small knowledge base that lives as long as the program.
 * Each fuzzing program includes this once; one thread. */
#ifndef TESTS_FUZZ_FIXTURE_H
#define TESTS_FUZZ_FIXTURE_H

#include <stdlib.h>
#include <string.h>

#include "run/run.h"

static const char fixture_yaml[] =
    "- club: 7i\n  title: 7 iron\n  also: [iron7]\n  family: iron\n  loft: 33 deg\n"
    "  length: 37 in\n  lie: 62.5 deg\n  head_mass: 268 g\n  source: practice\n"
    "- evidence: club\n  title: club\n  about: x\n  kind: club\n  ask: x\n  effort: know\n"
    "- evidence: path\n  title: club path\n  about: to the {left}\n  kind: number\n  unit: deg\n"
    "  range: [-20, 20]\n  error: 1\n  spread: 2\n  sides: [left, right]\n"
    "  words: {left: -4 +/- 2, slice: 5}\n  also: [club_path]\n  formula: face - face_to_path\n"
    "  ask: x\n  effort: measure\n"
    "- evidence: face\n  title: face\n  about: x\n  kind: number\n  unit: deg\n"
    "  range: [-20, 20]\n  error: 1\n  spread: 2\n  sides: [left, right]\n  ask: x\n"
    "  effort: measure\n"
    "- evidence: face_to_path\n  title: face to path\n  about: x\n  kind: number\n  unit: deg\n"
    "  range: [-40, 40]\n  error: 1\n  spread: 2\n  formula: face - path\n"
    "- evidence: ball_speed\n  title: ball speed\n  about: x\n  kind: number\n  unit: m/s\n"
    "  range: [5, 100]\n  error: 0.5\n  spread: 1\n  ask: x\n  effort: measure\n"
    "- evidence: air\n  title: air\n  about: x\n  kind: number\n  unit: C\n  range: [-40, 60]\n"
    "  error: 1\n  spread: 1\n  ask: x\n  effort: know\n"
    "- evidence: lie\n  title: lie\n  about: x\n  kind: choice\n"
    "  values: {fairway: a, slope_left: b, slope_right: c}\n  ask: x\n  effort: know\n"
    "- evidence: pain\n  title: pain\n  about: x\n  kind: yes_no\n  ask: x\n  effort: know\n"
    "- evidence: words\n  title: words\n  about: x\n  kind: text\n  ask: x\n  effort: know\n";
static const char fixture_claims[] =
    "- finding: cuts_across\n  title: x\n  about: x\n"
    "- finding: hurts\n  title: x\n  about: x\n  red_flag: Stop.\n"
    "- cause: steep_shaft\n  title: x\n  about: x\n  area: downswing\n"
    "- drill: gate\n  title: x\n  task: external\n  changes: {steep_shaft: 0.7}\n  aim: x\n"
    "  setup: x\n  dose: x\n  works: {path: {above: -2}, hits: 3, of: 5}\n"
    "  drop: {shots: 10, when: x}\n  cautions: [x]\n"
    "- rule: cut\n  when: {path: {below: -2}}\n  then: {cuts_across: 0.8}\n  because: it is {path}\n"
    "  kind: geometry\n"
    "- rule: steep\n  when: {cuts_across: believed}\n  then: {steep_shaft: 0.6}\n  because: x\n"
    "  kind: experience\n"
    "- rule: hurts\n  when: {pain: yes}\n  then: {hurts: 0.95}\n  because: x\n"
    "  kind: convention\n";

static void require(bool holds) {
  if (!holds) abort();
}

static const struct source fixture_sources[] = {
    {.name = "vocabulary.yaml", .bytes = fixture_yaml, .n = sizeof fixture_yaml - 1},
    {.name = "claims.yaml", .bytes = fixture_claims, .n = sizeof fixture_claims - 1},
};

/* The model of the fixture with one more file laid over it; NULL after errors, told in diags. */
static inline const struct model *fixture_read(struct arena *arena, struct source *over,
                                               struct diags *diags) {
  struct source sources[2] = {fixture_sources[0], fixture_sources[1]};
  struct model_file files[3] = {{&sources[0], 0}, {&sources[1], 0}, {over, 1}};
  struct source *kept = arena_take(arena, sizeof sources);
  memcpy(kept, sources, sizeof sources);
  files[0].source = &kept[0];
  files[1].source = &kept[1];
  diags_init(diags, arena);
  return model_read(arena, files, over ? 3 : 2, diags);
}

/* What is printed of faults is whole lines of printable text. */
static inline void fixture_check_printed(struct arena *arena, struct diags *diags) {
  struct text text;
  text_init(&text, arena);
  diags_finish(diags);
  diags_print(&text, diags);
  const char *printed = text_done(&text);
  require(printed != NULL && strstr(printed, ": ") != NULL);
  for (; *printed != '\0'; printed++) require((unsigned char)*printed >= 0x20 || *printed == '\n');
}

#endif
