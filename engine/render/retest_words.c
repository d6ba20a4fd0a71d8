/* The sentences of a retest: reasons, looks, what the target is. */
#include <math.h>

#include "render/retest_parts.h"

const char *verdict_words(enum retest_verdict verdict) {
  static const char *const words[] = {[VERDICT_KEEP] = "keep",
                                      [VERDICT_PROGRESS] = "progress",
                                      [VERDICT_CHANGE_DRILL] = "change drill",
                                      [VERDICT_TOO_EARLY] = "too early to say"};
  return words[verdict];
}

static const struct evidence *evidence_of(const struct session *session, size_t evidence) {
  return &session->network->model->evidence[evidence];
}

void retest_quantity(struct text *out, const struct session *before, const struct block *block,
                     size_t evidence, double number) {
  const struct figure *figure = block_figure(block, evidence);
  if (figure) figure_quantity(out, before, figure, number);
}

/* "the mean club path", "shots in the goal", "misses" */
static void target_title(struct text *out, const struct session *before,
                         const struct target *target) {
  switch (target->plan.kind) {
  case TEST_MEAN:
    text_format(out, "the mean %s", evidence_of(before, target->evidence)->title);
    break;
  case TEST_HITS:
    text_format(out, "the count of shots with the %s as it should be",
                evidence_of(before, target->evidence)->title);
    break;
  case TEST_MISSES: text_add(out, "the count of misses"); break;
  case TEST_NONE: text_add(out, "the number"); break;
  }
}

/* ---- reasons ---- */

static void no_target(struct text *out, const struct retest *retest,
                      const struct club_retest *club) {
  if (retest->asked != NO_INDEX)
    text_format(out, "The shots before do not hold enough of the %s to plan a test.",
                evidence_of(retest->before, retest->asked)->title);
  else if (block_drill(club->before) == NO_INDEX)
    text_add(out, "The shots before led to no drill, so there is no number it should move; name "
                  "one with --number.");
  else
    text_add(out, "The table before does not hold the number that its drill should move; name "
                  "another with --number.");
}

static void with_title(struct text *out, const struct retest *retest,
                       const struct club_retest *club, const char *from, const char *to) {
  text_add(out, from);
  target_title(out, retest->before, &club->target);
  text_add(out, to);
}

/* "Because the club was 30 % slower after, ..." */
static void other_speed(struct text *out, const struct retest *retest,
                        const struct club_retest *club) {
  const struct change *speed = &club->figures[club->speed].change;
  text_add(out, "Because the club was ");
  add_percent(out, fabs(speed->difference / speed->before));
  text_format(out, " %s after (", speed->difference < 0 ? "slower" : "faster");
  retest_quantity(out, retest->before, club->before, club->figures[club->speed].before->evidence,
                  speed->before);
  text_add(out, " before, ");
  retest_quantity(out, retest->before, club->before, club->figures[club->speed].before->evidence,
                  speed->after);
  with_title(out, retest, club, " after), and ",
             " is not compared at one speed: hit the shots after as fast as those before.");
}

void verdict_reason_words(struct text *out, const struct retest *retest,
                          const struct club_retest *club) {
  const struct look *look = &club->look;
  size_t planned = club->target.plan.shots;
  switch (club->reason) {
  case REASON_REACHED:
    with_title(out, retest, club, "Because ",
               " moved by more than chance does and is where it should be, and nothing else got "
               "worse by more than noise.");
    break;
  case REASON_ON_THE_WAY:
    with_title(out, retest, club, "Because ",
               " moved the right way by more than chance does, but is not yet where it should "
               "be.");
    break;
  case REASON_AT_A_COST:
    with_title(out, retest, club, "Because ",
               " moved the right way by more than chance does, but something else got worse: see "
               "Worse.");
    break;
  case REASON_BACKWARDS:
    with_title(out, retest, club, "Because ", " moved the wrong way by more than noise.");
    break;
  case REASON_NOT_MOVED:
    with_title(out, retest, club, "Because ", " did not move by more than chance does");
    text_format(out, " in %zu shots, which were enough to show it.", look->shots);
    break;
  case REASON_GIVEN_UP:
    text_format(out, "Because after %zu shots ", look->shots);
    with_title(out, retest, club, "", "");
    text_format(out, " can hardly pass the test of %zu shots any more.", planned);
    break;
  case REASON_WEAK_TEST:
    with_title(out, retest, club, "Because ",
               " moved the right way, but so little and over so few shots that chance may have "
               "done it: hit more shots.");
    break;
  case REASON_FEW_SHOTS:
    text_format(out,
                "Because %zu of the %zu planned shots are there, and what they show may be "
                "chance.",
                look->shots, planned);
    break;
  case REASON_NO_TARGET: no_target(out, retest, club); break;
  case REASON_THERE_BEFORE:
    with_title(out, retest, club, "Because ", " was at its goal before.");
    break;
  case REASON_NOT_MEASURED:
    with_title(out, retest, club, "Because the table after does not hold what tells of ", ".");
    break;
  case REASON_OTHER_SPEED: other_speed(out, retest, club); break;
  case REASON_SAME_SHOTS:
    text_add(out, "Because the two tables are identical: no shot was hit in between. Name the "
                  "table of the shots after.");
    break;
  }
}

/* ---- looks ---- */

static void add_reading(struct text *out, const struct session *before, const struct block *block,
                        const struct target *target, double reading) {
  if (isnan(reading)) {
    text_add(out, "not known");
    return;
  }
  switch (target->plan.kind) {
  case TEST_MEAN: retest_quantity(out, before, block, target->evidence, reading); break;
  case TEST_HITS: text_add(out, reading > 0 ? "as it should be" : "not as it should be"); break;
  default: text_add(out, reading > 0 ? "a miss" : "no miss"); break;
  }
}

static void add_standing(struct text *out, const struct session *before, const struct block *block,
                         const struct target *target, const struct look *look) {
  const struct test_block *plan = &target->plan;
  if (plan->kind == TEST_MEAN) {
    text_format(out, "; mean of %zu: ", look->shots);
    retest_quantity(out, before, block, target->evidence, look->mean);
    return;
  }
  text_format(out, "; %zu of %zu%s", look->counted, look->shots,
              plan->kind == TEST_MISSES ? " missed" : "");
}

void look_words(struct text *out, const struct session *before, const struct block *block,
                const struct target *target, const struct look *look, double reading) {
  text_format(out, "Shot %zu of %zu: ", look->shots, target->plan.shots);
  add_reading(out, before, block, target, reading);
  if (look->shots > 0) add_standing(out, before, block, target, look);
  switch (look->answer) {
  case LOOK_GO_ON: text_add(out, ". Go on."); break;
  case LOOK_WORKED: text_add(out, ". Stop: it worked."); break;
  case LOOK_GIVE_UP: text_add(out, ". Stop: it will hardly pass."); break;
  case LOOK_END: text_add(out, ". Stop: it did not show."); break;
  }
}
