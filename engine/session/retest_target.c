/* The test that the shots after have to pass, and looks at it while they come. */
#include <math.h>

#include "model/formula.h"
#include "session/distribution.h"
#include "session/retest.h"

/* ---- the target ---- */

static double quantile_of(const struct target *target, double luck) {
  return student_quantile(1 - luck, (double)target->plan.shots_before - 1);
}

/* By how much a mean of so many shots has to move. */
static double needed_change(const struct target *target, size_t shots, double luck) {
  return quantile_of(target, luck) * target->spread *
         sqrt(1 / (double)target->plan.shots_before + 1 / (double)shots);
}

struct target target_of_test(struct test_block plan) {
  struct target target = {.plan = plan, .evidence = NO_INDEX, .spread = 1};
  if (plan.kind == TEST_MEAN)
    target.spread = plan.change / needed_change(&target, plan.shots, TEST_LUCK);
  return target;
}

struct target target_of_plan(const struct block *block) {
  struct target target = target_of_test(block->test);
  if (block->test_figure != NO_INDEX) target.evidence = block->figures[block->test_figure].evidence;
  return target;
}

struct target target_of_goal(const struct session *session, const struct block *block,
                             size_t evidence, double goal) {
  const struct figure *figure = block_figure(block, evidence);
  struct test_block plan = {.kind = TEST_NONE};
  if (figure) {
    double usual = session->network->model->evidence[evidence].spread;
    bool rises = figure->summary.mean < goal;
    plan = test_of_mean(&figure->summary, usual, rises ? goal : -INFINITY, rises ? INFINITY : goal);
  }
  struct target target = target_of_test(plan);
  target.asked = true;
  target.evidence = evidence;
  return target;
}

/* ---- readings ---- */

static double number_of(const struct session *session, size_t evidence, size_t shot) {
  const struct shots *shots = &session->shots;
  for (size_t i = 0; i < shots->n_columns; i++)
    if (shots->columns[i].evidence == evidence) return shots_reading(shots, i, shot);
  return NAN;
}

/* Whether the first choice of a sorting is the evidence itself. */
static bool is_plainly(const struct sorting *sorting, size_t evidence) {
  double two = 2;
  return sorting->n_of > 0 && sorting->of[0]->n_inputs == 1 &&
         sorting->of[0]->inputs[0] == evidence && formula_value(sorting->of[0], &two) == 2;
}

/* Start and curve are worked out with the flights, in the right-handed frame. */
static double worked_out(const struct session *session, size_t evidence, size_t shot) {
  const struct flight *flight = &session->flights.at[shot];
  double number = is_plainly(&session->window->start, evidence)   ? flight->start
                  : is_plainly(&session->window->curve, evidence) ? flight->curve
                                                                  : NAN;
  bool mirror =
      session->player->hand == HAND_LEFT && session->network->model->evidence[evidence].mirrored;
  return mirror ? 0 - number : number;
}

double target_reading(const struct target *target, const struct session *session, size_t shot) {
  const struct test_block *plan = &target->plan;
  if (plan->kind == TEST_NONE) return NAN;
  if (target->evidence == NO_INDEX) {
    if (!session->window) return NAN;
    enum side_class finish = flight_finish(&session->flights, shot);
    return finish == SIDE_UNKNOWN ? NAN : finish != SIDE_STRAIGHT;
  }
  double number = number_of(session, target->evidence, shot);
  if (isnan(number) && session->window) number = worked_out(session, target->evidence, shot);
  if (plan->kind == TEST_MEAN || isnan(number)) return number;
  return number > plan->low && number < plan->high;
}

/* ---- looks ---- */

static double goal_of(const struct test_block *plan) {
  return plan->direction > 0 ? plan->low : plan->high;
}

/* The mean of what is still to come is taken to lie at the goal. */
static double hope_of_mean(const struct target *target, const struct look *look) {
  const struct test_block *plan = &target->plan;
  double done = (double)look->shots, all = (double)plan->shots, left = all - done;
  double end = (done * look->mean + left * goal_of(plan)) / all;
  double ahead = plan->direction * (end - plan->reach);
  if (left <= 0) return ahead >= 0;
  return normal_share(ahead / (sqrt(left) * target->spread / all));
}

static void look_at_mean(const struct target *target, struct look *look) {
  const struct test_block *plan = &target->plan;
  bool over = look->shots >= plan->shots;
  double moved = plan->direction * (look->mean - plan->before);
  double error = target->spread * sqrt(1 / (double)plan->shots_before + 1 / (double)look->shots);
  double luck = over ? TEST_LUCK : LOOK_LUCK;
  look->reach = plan->before + plan->direction * needed_change(target, look->shots, luck);
  look->chance = 1 - student_share(moved / error, (double)plan->shots_before - 1);
  look->hope = hope_of_mean(target, look);
  /* At the planned count the plan's own figure decides, to the last bit. */
  double needed =
      look->shots == plan->shots ? plan->change : needed_change(target, look->shots, luck);
  if (look->shots < LOOK_SHOTS_MIN) look->answer = LOOK_GO_ON;
  else if (moved >= needed) look->answer = LOOK_WORKED;
  else if (over) look->answer = LOOK_END;
  else if (2 * look->shots >= plan->shots && look->hope < LOOK_HOPE) look->answer = LOOK_GIVE_UP;
}

/* Hits are to be many, misses few. More shots than planned are judged by their own count. */
static bool count_passes(const struct test_block *plan, const struct look *look) {
  if (look->shots <= plan->shots)
    return plan->kind == TEST_HITS ? look->counted >= plan->needed : look->counted <= plan->needed;
  return look->chance < TEST_LUCK;
}

static void look_at_count(const struct target *target, struct look *look) {
  const struct test_block *plan = &target->plan;
  bool hits = plan->kind == TEST_HITS, over = look->shots >= plan->shots;
  size_t left = over ? 0 : plan->shots - look->shots, k = look->counted;
  double fewer =
      k > 0 ? further_hits_share(k - 1, look->shots, plan->counted_before, plan->shots_before) : 0;
  double up_to = further_hits_share(k, look->shots, plan->counted_before, plan->shots_before);
  look->chance = hits ? 1 - fewer : up_to;
  bool sure = hits || over || k + left <= plan->needed; /* later misses can still be too many */
  bool lost = hits ? k + left < plan->needed : k > plan->needed;
  look->hope = !lost;
  if (sure && count_passes(plan, look)) look->answer = LOOK_WORKED;
  else if (over) look->answer = LOOK_END;
  else if (lost) look->answer = LOOK_GIVE_UP;
}

struct look target_look(const struct target *target, const double *readings, size_t n) {
  struct look look = {.mean = NAN, .reach = NAN, .chance = NAN, .hope = NAN, .answer = LOOK_GO_ON};
  double sum = 0;
  for (size_t i = 0; i < n; i++) {
    if (!isfinite(readings[i])) continue;
    look.shots++;
    sum += readings[i];
  }
  if (look.shots == 0 || target->plan.kind == TEST_NONE) return look;
  look.mean = sum / (double)look.shots;
  if (target->plan.kind == TEST_MEAN) {
    look_at_mean(target, &look);
    return look;
  }
  look.counted = (size_t)lround(sum);
  look_at_count(target, &look);
  return look;
}
