#include "session/retest.h"

#include <math.h>
#include <string.h>

/* ---- which figures, and which way they are better ---- */

/* Evidence of which that is known; a knowledge base without them goes without. */
static enum sense sense_of(const char *name) {
  static const char *const more[] = {"ball_speed", "speed_ratio", "carry", "club_speed"};
  static const char *const near_zero[] = {"start", "curve", "offline"};
  for (size_t i = 0; i < sizeof more / sizeof more[0]; i++)
    if (strcmp(more[i], name) == 0) return SENSE_MORE;
  for (size_t i = 0; i < sizeof near_zero / sizeof near_zero[0]; i++)
    if (strcmp(near_zero[i], name) == 0) return SENSE_NEAR_ZERO;
  return SENSE_NONE;
}

/* The power of the club speed that the figure goes with, 0: not adjusted. */
static double speed_power(const char *name, double *error) {
  bool carry = strcmp(name, "carry") == 0;
  *error = carry ? CARRY_POWER_ERROR : 0;
  return carry ? CARRY_POWER : strcmp(name, "ball_speed") == 0 ? 1 : 0;
}

static const char *name_of(const struct retest *retest, const struct figure *figure) {
  return retest->before->network->model->evidence[figure->evidence].name;
}

/* ---- at the same club speed ---- */

/* Readings as they would be at `speed`; NULL: no memory. */
static double *scaled(struct arena *arena, const struct figure *figure,
                      const struct figure *club_speed, size_t n, double speed, double power) {
  double *readings = arena_new_array(arena, double, n + 1);
  for (size_t i = 0; readings && i < n; i++) {
    double own = club_speed->readings[i];
    readings[i] = own > 0 ? figure->readings[i] * pow(speed / own, power) : NAN;
  }
  return readings;
}

/* Widens a change by an error that all shots share. */
static void widen(struct change *change, double error) {
  double factor = change->error > 0 ? hypot(change->error, error) / change->error : 1;
  change->low = change->difference - (change->difference - change->low) * factor;
  change->high = change->difference + (change->high - change->difference) * factor;
  change->error *= factor;
  change->detectable *= factor;
}

static bool adjust(const struct retest *retest, const struct club_retest *club,
                   struct compared *of) {
  double power_error, power = speed_power(name_of(retest, of->before), &power_error);
  of->at_speed = of->change;
  if (club->speed == NO_INDEX || power == 0) return true;
  const struct compared *speed = &club->figures[club->speed];
  double from = speed->change.before;
  size_t n = club->before->n, m = club->after->n;
  const double *before = scaled(retest->arena, of->before, speed->before, n, from, power);
  const double *after = scaled(retest->arena, of->after, speed->after, m, from, power);
  if (!before || !after || !rows_compare(retest->arena, before, n, after, m, &of->at_speed))
    return false;
  of->adjusted = !isnan(of->at_speed.difference);
  if (!of->adjusted) of->at_speed = of->change;
  else widen(&of->at_speed, of->change.after * power_error * fabs(log(speed->change.after / from)));
  return true;
}

/* A swing at another speed is another swing: what it does to path or start says nothing of a drill.
 */
static void compare_speed(struct club_retest *club) {
  if (club->speed == NO_INDEX) return;
  const struct change *change = &club->figures[club->speed].change;
  club->speed_apart = change->chance < CHANGE_LEVEL &&
                      fabs(change->difference) > SPEED_APART * fabs(change->before);
}

/* ---- comparing figures ---- */

static bool compare_figure(const struct retest *retest, const struct club_retest *club,
                           struct compared *of) {
  const struct figure *before = of->before, *after = of->after;
  size_t n = club->before->n, m = club->after->n;
  of->sense = sense_of(name_of(retest, before));
  if (!rows_compare(retest->arena, before->readings, n, after->readings, m, &of->change) ||
      !change_of_spread(retest->arena, before->readings, n, after->readings, m, &of->spread))
    return false;
  of->ratio = after->summary.sd / before->summary.sd;
  of->ratio_error = of->ratio * sqrt(0.5 / ((double)before->summary.n - 1) +
                                     0.5 / ((double)after->summary.n - 1));
  return true;
}

static bool compare_figures(const struct retest *retest, struct club_retest *club) {
  club->figures = arena_new_array(retest->arena, struct compared, club->before->n_figures + 1);
  club->speed = NO_INDEX;
  for (size_t i = 0; club->figures && i < club->before->n_figures; i++) {
    struct compared *of = &club->figures[club->n_figures];
    of->before = &club->before->figures[i];
    of->after = block_figure(club->after, of->before->evidence);
    if (!of->after) continue;
    if (!compare_figure(retest, club, of)) return false;
    bool speed = strcmp(name_of(retest, of->before), "club_speed") == 0;
    if (speed && !isnan(of->change.p)) club->speed = club->n_figures;
    club->n_figures++;
  }
  for (size_t i = 0; i < club->n_figures; i++)
    if (!adjust(retest, club, &club->figures[i])) return false;
  compare_speed(club);
  return club->figures != NULL;
}

/* ---- what got worse ---- */

static bool is_worse(const struct compared *of) {
  if (of->sense == SENSE_MORE) return of->moved && of->at_speed.difference < 0;
  return of->sense == SENSE_NEAR_ZERO && of->moved &&
         fabs(of->change.after) > fabs(of->change.before);
}

static bool find_moves(const struct retest *retest, struct club_retest *club) {
  size_t n = club->n_figures;
  double *chances = arena_new_array(retest->arena, double, 2 * n + 1);
  bool *below = arena_new_array(retest->arena, bool, 2 * n + 1);
  if (!chances || !below) return false;
  for (size_t i = 0; i < n; i++) {
    chances[i] = club->figures[i].at_speed.chance;
    chances[n + i] = club->figures[i].spread.chance;
  }
  hold_together(chances, 2 * n, below);
  for (size_t i = 0; i < n; i++) {
    struct compared *of = &club->figures[i];
    bool target = of->before->evidence == club->target.evidence;
    of->moved = below[i];
    of->spread_moved = below[n + i];
    of->worse = !target && is_worse(of);
    of->wilder = of->sense != SENSE_NONE && of->spread_moved && of->ratio > 1;
    club->n_worse += of->worse + of->wilder;
  }
  return true;
}

/* Against luck like that of the plan, whatever number the plan is about. */
static void count_misses(struct club_retest *club) {
  const struct block *before = club->before, *after = club->after;
  if (before->n_sorted < 3 || after->n_sorted == 0 || after->n_missed == 0) return;
  double fewer =
      further_hits_share(after->n_missed - 1, after->n_sorted, before->n_missed, before->n_sorted);
  club->more_misses = 1 - fewer < TEST_LUCK;
  club->n_worse += club->more_misses;
}

/* ---- the target ---- */

static const struct compared *figure_of(const struct club_retest *club, size_t evidence) {
  for (size_t i = 0; i < club->n_figures; i++)
    if (club->figures[i].before->evidence == evidence) return &club->figures[i];
  return NULL;
}

/* Of a number that goes with club speed, what it would be at the speed before. */
static double *target_readings(const struct retest *retest, const struct club_retest *club) {
  const struct block *after = club->after;
  double *readings = arena_new_array(retest->arena, double, after->n + 1);
  const struct compared *of = figure_of(club, club->target.evidence);
  double error, power = of ? speed_power(name_of(retest, of->before), &error) : 0;
  bool scale = of && of->adjusted && club->target.plan.kind == TEST_MEAN;
  for (size_t i = 0; readings && i < after->n; i++) {
    readings[i] = target_reading(&club->target, retest->after, after->shots[i]);
    if (!scale) continue;
    const struct compared *speed = &club->figures[club->speed];
    readings[i] *= pow(speed->change.before / speed->after->readings[i], power);
  }
  return readings;
}

static bool is_reached(const struct target *target, const struct look *look) {
  const struct test_block *plan = &target->plan;
  switch (plan->kind) {
  case TEST_MEAN: return look->mean >= plan->low && look->mean <= plan->high;
  case TEST_HITS: return 2 * look->counted >= look->shots;
  case TEST_MISSES: return 4 * look->counted <= look->shots;
  case TEST_NONE: break;
  }
  return false;
}

/* As likely as the plan's "it worked", on the other side. */
static bool is_backwards(const struct target *target, const struct look *look) {
  const struct test_block *plan = &target->plan;
  if (look->shots < LOOK_SHOTS_MIN) return false;
  if (plan->kind == TEST_MEAN) return look->chance > 1 - TEST_LUCK;
  size_t k = look->counted, n = plan->shots_before, hits = plan->counted_before;
  if (plan->kind == TEST_HITS) return further_hits_share(k, look->shots, hits, n) < TEST_LUCK;
  return k > 0 && 1 - further_hits_share(k - 1, look->shots, hits, n) < TEST_LUCK;
}

static bool right_way(const struct target *target, const struct look *look) {
  const struct test_block *plan = &target->plan;
  if (plan->kind == TEST_MEAN) return plan->direction * (look->mean - plan->before) > 0;
  double share = (double)plan->counted_before / (double)plan->shots_before;
  return plan->kind == TEST_HITS ? look->mean > share : look->mean < share;
}

static bool look_at_target(const struct retest *retest, struct club_retest *club) {
  bool asked = retest->asked != NO_INDEX;
  club->target = asked ? target_of_goal(retest->before, club->before, retest->asked, retest->goal)
                       : target_of_plan(club->before);
  const double *readings = target_readings(retest, club);
  if (!readings) return false;
  club->look = target_look(&club->target, readings, club->after->n);
  if (retest->stopped) club->look = *retest->stopped;
  club->moved = club->look.answer == LOOK_WORKED;
  club->reached = club->moved && is_reached(&club->target, &club->look);
  club->backwards = is_backwards(&club->target, &club->look);
  return true;
}

/* ---- the verdict ---- */

static enum verdict_reason reason_without_test(const struct retest *retest,
                                               const struct club_retest *club) {
  const struct figure *figure = block_figure(club->before, club->target.evidence);
  bool there = club->target.asked && figure && figure->summary.n >= LOOK_SHOTS_MIN &&
               figure->summary.mean == retest->goal;
  return there ? REASON_THERE_BEFORE : REASON_NO_TARGET;
}

/* Whether the target is compared at one club speed, or is the club speed. */
static bool bears_speed(const struct retest *retest, const struct club_retest *club) {
  const struct compared *of = figure_of(club, club->target.evidence);
  bool adjusted = of && of->adjusted && club->target.plan.kind == TEST_MEAN;
  return adjusted || (of && strcmp(name_of(retest, of->before), "club_speed") == 0);
}

static enum verdict_reason reason_of(const struct retest *retest, const struct club_retest *club) {
  const struct test_block *plan = &club->target.plan;
  if (plan->kind == TEST_NONE) return reason_without_test(retest, club);
  if (club->look.shots == 0) return REASON_NOT_MEASURED;
  if (retest->identical) return REASON_SAME_SHOTS;
  if (club->speed_apart && !bears_speed(retest, club)) return REASON_OTHER_SPEED;
  if (club->moved)
    return club->n_worse > 0 ? REASON_AT_A_COST
           : club->reached   ? REASON_REACHED
                             : REASON_ON_THE_WAY;
  if (club->backwards) return REASON_BACKWARDS;
  if (club->look.answer == LOOK_GIVE_UP) return REASON_GIVEN_UP;
  if (club->look.shots < plan->shots) return REASON_FEW_SHOTS;
  return plan->power < 0.5 && right_way(&club->target, &club->look) ? REASON_WEAK_TEST
                                                                    : REASON_NOT_MOVED;
}

static enum retest_verdict verdict_of(enum verdict_reason reason) {
  switch (reason) {
  case REASON_REACHED: return VERDICT_KEEP;
  case REASON_ON_THE_WAY:
  case REASON_AT_A_COST: return VERDICT_PROGRESS;
  case REASON_BACKWARDS:
  case REASON_NOT_MOVED:
  case REASON_GIVEN_UP: return VERDICT_CHANGE_DRILL;
  default: return VERDICT_TOO_EARLY;
  }
}

/* ---- all clubs ---- */

const struct block *retest_partner(const struct session *before, const struct session *after,
                                   const struct block *block) {
  for (size_t i = 0; i < after->n_blocks; i++)
    if (after->blocks[i].club == block->club) return &after->blocks[i];
  bool alone = before->n_blocks == 1 && after->n_blocks == 1;
  return alone && (block->club == NO_INDEX || after->blocks[0].club == NO_INDEX) ? &after->blocks[0]
                                                                                 : NULL;
}

const struct alarm *retest_alarm(const struct session *before, const struct session *after) {
  if (before->alarm.claim != NO_INDEX) return &before->alarm;
  return after->alarm.claim != NO_INDEX ? &after->alarm : NULL;
}

static bool same_reading(double a, double b) {
  return a == b || (isnan(a) && isnan(b));
}

static bool same_shots(const struct shots *a, const struct shots *b) {
  size_t n = shots_count(a);
  bool same = n > 0 && n == shots_count(b) && a->n_columns == b->n_columns;
  for (size_t i = 0; same && i < n; i++) same = a->clubs.at[i] == b->clubs.at[i];
  for (size_t i = 0; same && i < a->n_columns; i++) {
    same = a->columns[i].evidence == b->columns[i].evidence;
    for (size_t k = 0; same && k < n; k++)
      same = same_reading(shots_reading(a, i, k), shots_reading(b, i, k));
  }
  return same;
}

bool retest_make(struct retest *retest) {
  const struct session *before = retest->before;
  retest->alarm = retest_alarm(before, retest->after);
  if (retest->alarm) return true;
  retest->identical = same_shots(&before->shots, &retest->after->shots);
  retest->clubs = arena_new_array(retest->arena, struct club_retest, before->n_blocks + 1);
  for (size_t i = 0; retest->clubs && i < before->n_blocks; i++) {
    struct club_retest *club = &retest->clubs[retest->n_clubs];
    *club = (struct club_retest){.before = &before->blocks[i]};
    club->after = retest_partner(before, retest->after, club->before);
    if (!club->after) continue;
    if (!compare_figures(retest, club) || !look_at_target(retest, club) ||
        !find_moves(retest, club))
      return false;
    count_misses(club);
    club->reason = reason_of(retest, club);
    club->verdict = verdict_of(club->reason);
    retest->n_clubs++;
  }
  return retest->clubs != NULL;
}
