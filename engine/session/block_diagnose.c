/* A group of misses as a case: its means are given to a run as the mean of so many shots, so that
 * the standard error is sqrt(error^2 + spread^2 / n): the error of the device does not shrink by
 * repeating, what varies from shot to shot does. */
#include <math.h>
#include <string.h>

#include "model/formula.h"
#include "session/alarm.h"
#include "session/block_parts.h"

#define AGREEMENT 0.5        /* a choice that at most this share of the shots has says nothing */
#define BOTH_WAYS_MISSES 6   /* so many misses tell whether they go both ways, */
#define BOTH_WAYS_SHARE 0.25 /* and each way so much of them */

/* ---- numbers ---- */

/* The spread of the group, with the usual one counted as so many further shots. */
static double spread_of(const struct summary *summary, double usual) {
  if (!(usual > 0) && !(summary->sd > 0)) return 0;
  double seen = summary->n > 1 ? (double)(summary->n - 1) * summary->sd * summary->sd : 0;
  double freedom = summary->n > 1 ? (double)(summary->n - 1) : 0;
  return sqrt((GROUP_SPREAD_SHOTS * usual * usual + seen) / (GROUP_SPREAD_SHOTS + freedom));
}

/* The number in the unit of the table, so that answers show it in that. */
static const char *type_number(struct arena *arena, double number, const struct evidence *evidence,
                               const struct golf_unit *unit) {
  struct text text;
  text_init(&text, arena);
  text_fixed(&text, golf_unit_convert(number, evidence->unit, unit), evidence->decimals + 1);
  if (unit->dimension != GOLF_DIMENSION_NONE) text_format(&text, " %s", unit->name);
  return text_done(&text);
}

static bool give(struct run *run, const struct value *value) {
  run_give(run, value); /* what was given by the player stays */
  return true;
}

static bool give_number(struct run *run, const struct block_maker *maker,
                        const struct miss_group *group, size_t column) {
  struct arena *arena = maker->shots->arena;
  const struct shot_column *of = &maker->shots->columns[column];
  const struct evidence *evidence = &maker->shots->model->evidence[of->evidence];
  struct summary summary;
  double *readings = arena_new_array(arena, double, group->n + 1);
  if (!readings) return false;
  for (size_t i = 0; i < group->n; i++) readings[i] = of->readings.at[group->shots[i]];
  if (!summarise(arena, readings, group->n, &summary)) return false;
  if (summary.n == 0) return true;
  struct value value = {.evidence = of->evidence,
                        .number = summary.mean,
                        .error = evidence->error,
                        .shots = (unsigned)(summary.n < 10000 ? summary.n : 10000),
                        .spread = spread_of(&summary, evidence->spread),
                        .choice = NO_INDEX,
                        .sure = 1};
  value.typed = type_number(arena, summary.mean, evidence, of->unit ? of->unit : evidence->unit);
  return value.typed && give(run, &value);
}

/* ---- choices ---- */

static bool give_choice(struct run *run, const struct block_maker *maker,
                        const struct miss_group *group, size_t column) {
  const struct shot_column *of = &maker->shots->columns[column];
  const struct evidence *evidence = &maker->shots->model->evidence[of->evidence];
  size_t *counts = arena_new_array(maker->shots->arena, size_t, evidence->n_choices + 1);
  size_t best = 0, known = 0;
  if (!counts) return false;
  for (size_t i = 0; i < group->n; i++) {
    double choice = of->readings.at[group->shots[i]];
    if (isnan(choice)) continue;
    known++;
    if (++counts[(size_t)choice] > counts[best]) best = (size_t)choice;
  }
  if (known == 0 || (double)counts[best] <= AGREEMENT * (double)known) return true;
  struct value value = {.evidence = of->evidence,
                        .choice = best,
                        .sure = (double)counts[best] / (double)known,
                        .typed = evidence->choices[best].name};
  return give(run, &value);
}

/* ---- what the whole block says ---- */

/* The standard error of a standard deviation is sd / sqrt(2 (n - 1)) (derived, for normal shots).
 */
static void give_scatter(struct run *run, const struct block *block,
                         const struct block_maker *maker) {
  const struct window *window = maker->flights ? maker->flights->window : NULL;
  for (size_t i = 0; window && i < window->n_scatters; i++) {
    const struct figure *figure = block_figure(block, window->scatters[i].of);
    const struct evidence *evidence = &maker->shots->model->evidence[window->scatters[i].evidence];
    if (!figure || figure->derived || figure->summary.n < GROUP_SHOTS_FEW) continue;
    double sd = figure->summary.sd;
    if (!(sd >= evidence->low && sd <= evidence->high)) continue;
    struct value value = {.evidence = window->scatters[i].evidence,
                          .number = sd,
                          .error = sd / sqrt(2 * (double)(figure->summary.n - 1)),
                          .shots = 1,
                          .choice = NO_INDEX,
                          .sure = 1};
    value.typed = type_number(maker->shots->arena, sd, evidence, evidence->unit);
    if (value.typed) give(run, &value);
  }
}

/* Yes when each side has its share of the misses, no when all go one way, else not known. */
static void give_both_ways(struct run *run, const struct block *block,
                           const struct block_maker *maker) {
  size_t evidence = maker->flights ? maker->flights->window->both_ways : NO_INDEX;
  size_t left = block->n_left;
  if (evidence == NO_INDEX || block->n_missed < BOTH_WAYS_MISSES) return;
  size_t fewer = left < block->n_missed - left ? left : block->n_missed - left;
  bool both = (double)fewer >= BOTH_WAYS_SHARE * (double)block->n_missed;
  if (!both && fewer > 0) return;
  struct value value = {
      .evidence = evidence, .choice = both ? 1 : 0, .sure = 1, .typed = both ? "yes" : "no"};
  give(run, &value);
}

/* ---- runs ---- */

static void give_club(struct run *run, const struct block *block, const struct block_maker *maker) {
  const struct model *model = maker->shots->model;
  if (block->club == NO_INDEX || model->club_evidence == NO_INDEX) return;
  struct value value = {.evidence = model->club_evidence,
                        .choice = block->club,
                        .sure = 1,
                        .typed = model->clubs[block->club].name};
  give(run, &value);
}

bool group_give(struct run *run, const struct block *block, const struct block_maker *maker,
                const struct miss_group *group) {
  const struct shots *shots = maker->shots;
  run->hand = maker->hand;
  run->shots = 1; /* each number says itself how many shots it stands for */
  player_give(run, maker->player);
  give_club(run, block, maker);
  give_scatter(run, block, maker);
  give_both_ways(run, block, maker);
  for (size_t i = 0; i < shots->n_columns; i++) {
    bool number = shots->model->evidence[shots->columns[i].evidence].kind == EVIDENCE_NUMBER;
    if (number && block->apart) continue;
    if (!(number ? give_number(run, maker, group, i) : give_choice(run, maker, group, i)))
      return false;
  }
  return true;
}

static bool diagnose(struct block *block, const struct block_maker *maker,
                     struct miss_group *group) {
  group->run = run_new(maker->allocator, maker->network);
  return group->run && group_give(group->run, block, maker, group) && run_chain(group->run, NULL);
}

/* ---- doubts ---- */

static bool is_known(const struct block *block, const struct contradiction *odd) {
  for (size_t i = 0; i < block->n_doubts; i++)
    if (strcmp(block->doubts[i].formula, odd->formula->text) == 0) return true;
  return false;
}

static bool add_doubts(struct block *block, const struct block_maker *maker,
                       const struct run *run) {
  struct arena *arena = maker->shots->arena;
  struct doubt *doubts =
      arena_new_array(arena, struct doubt, block->n_doubts + run->n_contradictions + 1);
  if (!doubts) return false;
  if (block->n_doubts > 0) memcpy(doubts, block->doubts, block->n_doubts * sizeof *doubts);
  block->doubts = doubts;
  for (size_t i = 0; i < run->n_contradictions; i++) {
    const struct contradiction *odd = &run->contradictions[i];
    if (is_known(block, odd)) continue;
    const char *told = arena_copy_string(arena, odd->told);
    if (!told) return false;
    doubts[block->n_doubts++] = (struct doubt){told, odd->formula->text};
  }
  return true;
}

static size_t take_back_doubtful(struct run *run) {
  size_t n = run->n_contradictions;
  for (size_t i = 0; i < n; i++) run_take_back(run, run->contradictions[i].evidence);
  return n;
}

/* A run tells one contradiction of readings that share most; what is still wrong among the others
 * shows when the doubtful reading is taken back. */
static bool find_doubts(struct block *block, const struct block_maker *maker,
                        const struct miss_group *group) {
  if (!group->run || group->run->n_contradictions == 0) return true;
  struct run *run = run_new(maker->allocator, maker->network);
  bool good = run && group_give(run, block, maker, group);
  do good = good && run_chain(run, NULL) && add_doubts(block, maker, run);
  while (good && take_back_doubtful(run) > 0);
  run_free(run);
  return good;
}

static bool find_all_doubts(struct block *block, const struct block_maker *maker) {
  for (size_t i = 0; i < block->n_groups; i++)
    if (!find_doubts(block, maker, &block->groups[i])) return false;
  return find_doubts(block, maker, &block->whole) && find_doubts(block, maker, &block->in_window);
}

/* ---- all of it ---- */

static bool diagnose_all(struct block *block, const struct block_maker *maker) {
  block->on_whole = true;
  for (size_t i = 0; i < block->n_groups; i++)
    block->on_whole = block->on_whole && block->groups[i].n < GROUP_SHOTS_MIN;
  block->apart = block->on_whole && block->n_left > 0 && block->n_left < block->n_missed;
  for (size_t i = 0; i < block->n_groups; i++)
    if (block->groups[i].n >= GROUP_SHOTS_MIN && !diagnose(block, maker, &block->groups[i]))
      return false;
  if (block->on_whole) return diagnose(block, maker, &block->whole);
  return block->in_window.n < GROUP_SHOTS_MIN || diagnose(block, maker, &block->in_window);
}

bool block_diagnose(struct block *block, const struct block_maker *maker) {
  return diagnose_all(block, maker) && find_all_doubts(block, maker);
}
