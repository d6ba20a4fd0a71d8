#include "render/session_parts.h"

#include <math.h>
#include <stddef.h>

#include "render/wording_parts.h"

const char *block_title(const struct session *session, const struct block *block) {
  return block->club == NO_INDEX ? "no club named"
                                 : session->network->model->clubs[block->club].title;
}

const struct run *block_run(const struct session *session, const struct block *block) {
  if (block->on_whole) return block->whole.run;
  for (size_t i = 0; i < block->n_groups; i++)
    if (block->groups[i].run) return block->groups[i].run;
  return session->player;
}

void add_percent(struct text *out, double share) {
  text_fixed(out, 100 * share, 0);
  text_add(out, " %");
}

/* ---- groups ---- */

static const char *seen_side(const struct session *session, enum side_class side) {
  bool mirror = session->player->hand == HAND_LEFT;
  if (side == SIDE_STRAIGHT) return "straight";
  return (side == SIDE_LEFT) == mirror ? "right" : "left";
}

void group_words(struct text *out, const struct session *session, const struct block *block,
                 const struct miss_group *group) {
  if (group == &block->in_window) {
    text_add(out, "in the window");
  } else if (group == &block->whole) {
    text_add(out, "all shots");
  } else if (group->start != SIDE_UNKNOWN && group->curve != SIDE_UNKNOWN) {
    const struct wording *flight =
        &session->window->flights[(size_t)group->start * 3 + (size_t)group->curve];
    wording_add_plain(out, session->network->model, flight, session->player->hand);
  } else if (group->start != SIDE_UNKNOWN) {
    text_format(out, "starts %s, curve not known", seen_side(session, group->start));
  } else if (group->curve != SIDE_UNKNOWN) {
    text_format(out, "curves %s, start not known", seen_side(session, group->curve));
  } else {
    text_format(out, "finishes %s, start and curve not known", seen_side(session, group->finish));
  }
}

char group_letter(const struct block *block, size_t group) {
  char letter = 'A';
  if (!block->groups[group].run) return '-';
  for (size_t i = 0; i < group; i++) letter = (char)(letter + (block->groups[i].run != NULL));
  return letter <= 'Z' ? letter : '+';
}

/* ---- figures ---- */

static double right_handed(const struct session *session, size_t evidence, double number) {
  bool mirror =
      session->player->hand == HAND_LEFT && session->network->model->evidence[evidence].mirrored;
  return mirror ? 0 - number : number;
}

void figure_quantity(struct text *out, const struct session *session, const struct figure *figure,
                     double number) {
  wording_quantity(out, &session->network->model->evidence[figure->evidence], figure->unit,
                   right_handed(session, figure->evidence, number), session->player->hand);
}

/* ---- the test block ---- */

static const char *beyond(const struct session *session, const struct figure *figure,
                          int direction) {
  const struct evidence *evidence = &session->network->model->evidence[figure->evidence];
  const char *side = direction > 0 ? evidence->plus : evidence->minus;
  return side ? side : direction > 0 ? "more" : "less";
}

static void mean_words(struct text *out, const struct session *session, const struct block *block) {
  const struct test_block *test = &block->test;
  const struct figure *figure = &block->figures[block->test_figure];
  const struct evidence *evidence = &session->network->model->evidence[figure->evidence];
  text_format(out, "It worked when the mean %s of these %zu shots is ", evidence->title,
              test->shots);
  figure_quantity(out, session, figure, test->reach);
  text_format(out, " or further %s: ", beyond(session, figure, test->direction));
  wording_size(out, evidence, figure->unit, test->change);
  text_add(out, " from the ");
  figure_quantity(out, session, figure, test->before);
  text_format(out, " of the %zu shots before.", test->shots_before);
}

/* What chance does, and how likely the block is to show what there is. */
static void luck_words(struct text *out, const char *when, double power) {
  int cases = (int)lround(10 * power);
  text_format(
      out,
      " By chance alone that comes in fewer than 1 case in 10. If %s, so many shots show it in ",
      when);
  if (cases >= 10) text_add(out, "more than 9 cases of 10.");
  else if (cases < 1) text_add(out, "hardly any case.");
  else text_format(out, "about %d %s of 10.", cases, cases == 1 ? "case" : "cases");
}

static void mean_luck(struct text *out, const struct session *session, const struct block *block) {
  const struct test_block *test = &block->test;
  const struct figure *figure = &block->figures[block->test_figure];
  struct text when = wording_beside(out);
  text_add(&when, "the drill brings the mean just to its goal, ");
  figure_quantity(&when, session, figure, test->direction > 0 ? test->low : test->high);
  const char *words = text_done(&when);
  luck_words(out, words ? words : "", test->power);
}

static void hits_words(struct text *out, const struct session *session, const struct block *block) {
  const struct test_block *test = &block->test;
  const struct drill *drill = session->network->model->claims[block_drill(block)].drill;
  struct text when = wording_beside(out);
  text_format(out, "It worked when at least %zu of these %zu shots have ", test->needed,
              test->shots);
  wording_condition(out, session->network->model, drill->works, session->player->hand);
  text_format(out, "; before it were %zu of %zu.", test->counted_before, test->shots_before);
  text_format(&when, "the drill brings %u of %u so far", drill->of ? drill->hits : 3,
              drill->of ? drill->of : 5);
  const char *words = text_done(&when);
  luck_words(out, words ? words : "", test->power);
}

static void misses_words(struct text *out, const struct block *block) {
  const struct test_block *test = &block->test;
  text_format(out,
              "It worked when at most %zu of these %zu shots miss the window; before it were %zu "
              "of %zu.",
              test->needed, test->shots, test->counted_before, test->shots_before);
  luck_words(out, "half the misses go", test->power);
}

void test_words(struct text *out, const struct session *session, const struct block *block) {
  if (block->test.kind == TEST_NONE) {
    text_add(out, "These shots are too few, or the table does not hold the number that the drill "
                  "should move: watch the ball as told above.");
    return;
  }
  text_format(out, "Then hit %zu shots with the same club as always, without anything laid out. ",
              block->test.shots);
  switch (block->test.kind) {
  case TEST_MEAN:
    mean_words(out, session, block);
    mean_luck(out, session, block);
    break;
  case TEST_HITS: hits_words(out, session, block); break;
  case TEST_MISSES: misses_words(out, block); break;
  case TEST_NONE: break;
  }
  if (block->test.power < 0.5)
    text_add(out, " That is little: the more shots before and after, the surer.");
}
