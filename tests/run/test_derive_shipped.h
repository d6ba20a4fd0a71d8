/* Cases on the shipped vocabulary, without its rules, for the programs that test derived readings.
 * Test code only; the program that includes it owns the one knowledge. */
#ifndef TESTS_RUN_TEST_DERIVE_SHIPPED_H
#define TESTS_RUN_TEST_DERIVE_SHIPPED_H

#include "support/cases.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "model/formula.h"
#include "model/value.h"
#include "support/knowledge.h"

static struct knowledge shipped;

static int load(void **state) {
  static const char *const vocabulary[] = {"kb/evidence", "kb/clubs.yaml", "kb/sources.yaml", NULL};
  (void)state;
  return knowledge_load(&shipped, vocabulary, 0) ? 0 : -1;
}

static int unload(void **state) {
  (void)state;
  knowledge_free(&shipped);
  return 0;
}

/* ---- cases ---- */

static void give(struct run *run, const char *text) {
  const char *sign = strchr(text, '=');
  const char *name = arena_copy(shipped.arena, text, (size_t)(sign - text));
  struct source *source = arena_new_object(shipped.arena, struct source);
  *source = (struct source){.name = "case", .bytes = sign + 1, .n = strlen(sign + 1)};
  struct span at = {.source = source, .line = 1, .column = 1, .end_line = 1, .end_column = 2};
  struct value value;
  size_t evidence = model_find_evidence(shipped.model, name);
  if (evidence == NO_INDEX) fail_msg("the shipped knowledge has no evidence '%s'", name);
  assert_true(
      value_read(shipped.arena, &shipped.diags, shipped.model, evidence, sign + 1, at, &value));
  assert_true(run_give(run, &value));
}

/* "name=value name=value ..." */
static struct run *run_of(const char *words, enum hand hand) {
  struct run *run = run_new(NULL, shipped.network);
  assert_non_null(run);
  run->hand = hand;
  while (*words) {
    size_t n = strcspn(words, " ");
    give(run, arena_copy(shipped.arena, words, n));
    words += n + (words[n] == ' ');
  }
  assert_true(run_chain(run, NULL));
  return run;
}

/* Readings with their usual errors unless said otherwise. Together they use every formula of every
 * evidence. */
static const char *const cases[] = {
    /* everything a device reads of club and strike */
    "club=7i club_speed=36 face=2 path=-4 delivered_loft=28 attack=-4 strike=8 strike_height=-3 aim_feet=-4 weekly_hours=14 age=13",
    "club=driver club_speed=45 face=-3 path=2.5 delivered_loft=14 attack=2 strike=-14 strike_height=5",
    "club=7i club_speed=36 face=2 path=-4 delivered_loft=28 attack=-4",
    /* the ball alone */
    "club=8i ball_speed=40 launch=22 backspin=6500 axis_tilt=9 start=-2 speed_ratio=1.25",
    "club=8i ball_speed=40 launch=22 backspin=6500 axis_tilt=9 start=-2 club_speed=33 strike=10",
    "club=8i axis_tilt=9 delivered_loft=29 attack=-4 strike=10 start=-2",
    "club=8i axis_tilt=9 delivered_loft=29 attack=-4 start=-2",
    "club=8i launch=22 attack=-4",
    /* words of a player without a device */
    "club=7i start=left curve=right",
    "club=driver start=left curve=right strike=toe",
    "club=8i club_speed=33 loft_gap=too_much spin_gap=too_much",
    "club=8i launch_gap=too_low low_point=ahead carry=120 start=left curve=fade",
    "club=8i carry=120 offline=20 start=-2",
    "club=8i carry=120 ball_speed=45",
    "club=8i carry=120 offline=20 curve=5",
    /* any two of a related three */
    "club=7i arc_direction=-6 attack=-4 face_to_path=3",
    "club=7i arc_direction=-6 path=-3 face=1 club_speed=36 speed_ratio=1.3 strike=9",
    "club=7i face=1 face_to_path=5",
    "club=7i start=-2 face=0.5",
    "club=7i start=-2 path=-5",
};

#endif
