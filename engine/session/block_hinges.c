/* What the answer hangs on: things seen by eye that, were they left out, would bring another cause
 * close to the first or before it. The eye errs now and then, and one such error can turn the
 * answer round; so they are worth a second look before the drill. Each is taken back in turn and
 * the groups are chained anew. */
#include <math.h>
#include <stdlib.h>

#include "session/block_parts.h"

#define HINGE_NEAR -0.25 /* the other cause comes at least so near (share x certainty) */
#define HINGE_MOVE 0.05  /* and by so much nearer than it is */

struct search {
  struct block *block;
  const struct block_maker *maker;
  const struct miss_group **groups; /* those diagnosed, or all shots as one */
  double *weights;                  /* by group: its share of the misses */
  size_t n;
  struct run *run;
  double *scores; /* by cause */
  size_t n_causes, first_cause;
};

/* ---- scores without one reading ---- */

static bool add_scores(struct search *search, size_t group, size_t left_out) {
  run_reset(search->run);
  if (!group_give(search->run, search->block, search->maker, search->groups[group])) return false;
  run_take_back(search->run, left_out);
  if (!run_chain(search->run, NULL)) return false;
  for (size_t i = 0; i < search->n_causes; i++)
    search->scores[i] +=
        search->weights[group] * fmax(0, search->run->certainty[search->first_cause + i]);
  return true;
}

static bool score_without(struct search *search, size_t evidence) {
  for (size_t i = 0; i < search->n_causes; i++) search->scores[i] = 0;
  for (size_t i = 0; i < search->n; i++)
    if (!add_scores(search, i, evidence)) return false;
  return true;
}

/* The score of a cause as things are. */
static double score_now(const struct block *block, size_t claim) {
  for (size_t i = 0; i < block->n_causes; i++)
    if (block->causes[i].claim == claim) return block->causes[i].score;
  return 0;
}

/* Of the causes that come nearer to the first by leaving it out, the one that comes nearest. */
static struct hinge hinge_of(const struct search *search, size_t evidence) {
  const struct block *block = search->block;
  const struct cause_share *first = &block->causes[0];
  struct hinge hinge = {evidence, NO_INDEX, -INFINITY};
  for (size_t i = 0; i < search->n_causes; i++) {
    size_t claim = search->first_cause + i;
    double margin = search->scores[i] - search->scores[first->claim - search->first_cause];
    double move = margin - (score_now(block, claim) - first->score);
    if (claim == first->claim || search->scores[i] <= 0 || move < HINGE_MOVE) continue;
    if (margin > hinge.margin) hinge = (struct hinge){evidence, claim, margin};
  }
  return hinge;
}

/* ---- the list ---- */

static bool is_seen_by_eye(const struct search *search, size_t evidence) {
  const struct evidence *of = &search->maker->shots->model->evidence[evidence];
  return search->maker->player->is_given[evidence] &&
         (of->kind == EVIDENCE_CHOICE || of->kind == EVIDENCE_YES_NO) &&
         (of->effort == EFFORT_LOOK || of->effort == EFFORT_VIDEO);
}

static int compare_hinges(const void *left, const void *right) {
  const struct hinge *a = left, *b = right;
  if (a->margin != b->margin) return a->margin > b->margin ? -1 : 1;
  return a->evidence < b->evidence ? -1 : a->evidence > b->evidence;
}

static bool find_all(struct search *search) {
  struct block *block = search->block;
  size_t n_evidence = search->maker->shots->model->n_evidence;
  struct hinge *hinges = arena_new_array(search->maker->shots->arena, struct hinge, n_evidence + 1);
  if (!hinges) return false;
  for (size_t i = 0; i < n_evidence; i++) {
    if (!is_seen_by_eye(search, i)) continue;
    if (!score_without(search, i)) return false;
    struct hinge hinge = hinge_of(search, i);
    if (hinge.margin > HINGE_NEAR) hinges[block->n_hinges++] = hinge;
  }
  qsort(hinges, block->n_hinges, sizeof *hinges, compare_hinges);
  block->hinges = hinges;
  return true;
}

static void add_group(struct search *search, const struct miss_group *group, double weight) {
  search->groups[search->n] = group;
  search->weights[search->n++] = weight;
}

static bool collect_groups(struct search *search) {
  const struct block *block = search->block;
  struct arena *arena = search->maker->shots->arena;
  search->groups = arena_new_array(arena, const struct miss_group *, block->n_groups + 1);
  search->weights = arena_new_array(arena, double, block->n_groups + 1);
  if (!search->groups || !search->weights) return false;
  if (block->on_whole) add_group(search, &block->whole, 1);
  for (size_t i = 0; !block->on_whole && i < block->n_groups; i++)
    if (block->groups[i].run)
      add_group(search, &block->groups[i], (double)block->groups[i].n / (double)block->n_missed);
  return true;
}

bool block_find_hinges(struct block *block, const struct block_maker *maker) {
  const struct model *model = maker->shots->model;
  struct search search = {.block = block,
                          .maker = maker,
                          .n_causes = model->first_drill - model->first_cause,
                          .first_cause = model->first_cause};
  if (block->n_causes == 0 || block->red_flag != NO_INDEX) return true;
  search.scores = arena_new_array(maker->shots->arena, double, search.n_causes + 1);
  search.run = run_new(maker->allocator, maker->network);
  bool good = search.scores && search.run && collect_groups(&search) && find_all(&search);
  run_free(search.run);
  return good;
}
