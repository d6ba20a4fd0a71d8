/* First all candidates are tried on the case alone; those that set it right are then run on every
 * other case they touch. Cases are the outer loop, as in mutate.c. */
#include "workshop/mend.h"

#include <stdlib.h>

#include "workshop/mend_parts.h"

/* Edits that set the case right are run on the other cases: so many of each kind at most, the
 * smallest; and so many of each kind are told. */
#define RUN_OF_KIND 1500
#define TOLD_OF_KIND 4
#define KINDS (EDIT_RULE + 1)

bool mend_try(struct mender *mender, const struct edit *edit, double size) {
  bool right = false;
  if (mender->no_memory || !draft_apply(mender->draft, edit)) return false;
  if (draft_touches(mender->draft, mender->before)) {
    mender->n_tried++;
    mender->no_memory = !run_chain_like(mender->after, mender->before);
    right = !mender->no_memory && case_holds(mender->after, mender->worked);
  }
  draft_undo(mender->draft);
  if (!right) return false;
  struct mend_edit *kept = array_push(mender->scratch, &mender->right);
  if (kept) *kept = (struct mend_edit){.edit = *edit, .size = size};
  else mender->no_memory = true;
  return true;
}

/* ---- order ---- */

static int order_of_indices(size_t a, size_t b) {
  return a < b ? -1 : a > b;
}

/* Something fixed among equals: the place in the network. */
static int order_of_places(const struct edit *a, const struct edit *b) {
  if (a->kind != b->kind) return a->kind < b->kind ? -1 : 1;
  int by_rule = order_of_indices(a->rule, b->rule), by_node = order_of_indices(a->node, b->node);
  if (by_rule || by_node) return by_rule ? by_rule : by_node;
  for (size_t i = 0; i < EDIT_CLAUSES_MAX; i++) {
    int by_clause = order_of_indices(a->clauses[i].test, b->clauses[i].test);
    if (by_clause) return by_clause;
  }
  if (a->limit != b->limit) return a->limit < b->limit ? -1 : 1;
  return order_of_indices(a->contribution, b->contribution);
}

static int order_of_sizes(const void *left, const void *right) {
  const struct mend_edit *a = left, *b = right;
  if (a->size != b->size) return a->size < b->size ? -1 : 1;
  return order_of_places(&a->edit, &b->edit);
}

/* A rule that fires nowhere else is left with nothing to say, or says it of this case alone. */
static bool is_idle(const struct mend_edit *edit) {
  return edit->edit.kind != EDIT_STRENGTH && edit->n_fires == 0;
}

/* Fewest broken; most set right; not idle; the smallest; then the one that speaks in most cases,
 * since it says most. */
static int order_of_worth(const void *left, const void *right) {
  const struct mend_edit *a = left, *b = right;
  if (a->n_broken != b->n_broken) return a->n_broken < b->n_broken ? -1 : 1;
  if (a->n_mended != b->n_mended) return a->n_mended > b->n_mended ? -1 : 1;
  if (is_idle(a) != is_idle(b)) return is_idle(a) ? 1 : -1;
  if (a->size != b->size) return a->size < b->size ? -1 : 1;
  if (a->n_touched != b->n_touched) return a->n_touched > b->n_touched ? -1 : 1;
  return order_of_places(&a->edit, &b->edit);
}

static void sort(struct mender *mender, int (*order)(const void *, const void *)) {
  if (mender->right.n > 0)
    qsort(mender->right.at, mender->right.n, sizeof *mender->right.at, order);
}

/* Keeps so many of each kind, in the order they stand. */
static void keep_of_each_kind(struct mender *mender, size_t most) {
  size_t n_of[KINDS] = {0}, n = 0;
  for (size_t i = 0; i < mender->right.n; i++)
    if (n_of[mender->right.at[i].edit.kind]++ < most) mender->right.at[n++] = mender->right.at[i];
  mender->right.n = n;
}

/* ---- saying a thing once ---- */

/* What a clause is about: an evidence, or a claim behind all of them. */
static size_t subject_of(const struct mender *mender, const struct edit_clause *clause) {
  const struct condition *condition = mender->network->tests[clause->test].condition;
  return condition->evidence != NO_INDEX ? condition->evidence
                                         : mender->network->model->n_evidence + condition->claim;
}

static bool is_about(const struct mender *mender, const struct edit *edit, size_t subject) {
  for (size_t i = 0; i < edit->n_clauses; i++)
    if (subject_of(mender, &edit->clauses[i]) == subject) return true;
  return false;
}

/* An edit that only says again, more narrowly, what an earlier one says: of the same rule or for
 * the same claim, and about all the earlier one is about. */
static bool repeats(const struct mender *mender, const struct edit *edit, const struct edit *told) {
  if (edit->kind != told->kind || edit->rule != told->rule || edit->claim != told->claim)
    return false;
  if (edit->kind == EDIT_STRENGTH) return edit->contribution == told->contribution;
  if (edit->kind == EDIT_THRESHOLD || edit->kind == EDIT_DROP) return edit->node == told->node;
  for (size_t i = 0; i < told->n_clauses; i++)
    if (!is_about(mender, edit, subject_of(mender, &told->clauses[i]))) return false;
  return true;
}

static void drop_repeats(struct mender *mender) {
  size_t n = 0;
  for (size_t i = 0; i < mender->right.n; i++) {
    bool told = false;
    for (size_t k = 0; k < n && !told; k++)
      told = repeats(mender, &mender->right.at[i].edit, &mender->right.at[k].edit);
    if (!told) mender->right.at[n++] = mender->right.at[i];
  }
  mender->right.n = n;
}

/* ---- the other cases ---- */

/* Whether the edited premise, which draft_touches has judged, holds in the case. */
static bool fires(const struct mender *mender, const struct mend_edit *edit) {
  if (edit->edit.kind == EDIT_STRENGTH) return false;
  const struct judgement *premise = &mender->before->nodes[draft_root(mender->draft)];
  return premise->known && premise->belief > BELIEF_THRESHOLD;
}

static void run_edit(struct mender *mender, const struct worked_case *other, bool held,
                     struct mend_edit *edit) {
  if (!draft_apply(mender->draft, &edit->edit)) return;
  bool touched = draft_touches(mender->draft, mender->before);
  edit->n_fires += fires(mender, edit);
  if (touched) {
    edit->n_touched++;
    mender->no_memory = !run_chain_like(mender->after, mender->before);
    bool holds = !mender->no_memory && case_holds(mender->after, other);
    edit->n_broken += held && !holds;
    edit->n_mended += !held && holds;
  }
  draft_undo(mender->draft);
}

static bool is_same_case(const struct worked_case *a, const struct worked_case *b) {
  return a == b || span_compare(&a->at, &b->at) == 0;
}

static size_t run_others(struct mender *mender) {
  const struct model *model = mender->network->model;
  size_t n = 0;
  for (size_t i = 0; i < model->n_cases && !mender->no_memory; i++) {
    const struct worked_case *other = &model->cases[i];
    if (is_same_case(other, mender->worked)) continue;
    mender->no_memory = !case_chain(mender->before, other);
    if (mender->no_memory) break;
    bool held = case_holds(mender->before, other);
    for (size_t k = 0; k < mender->right.n && !mender->no_memory; k++)
      run_edit(mender, other, held, &mender->right.at[k]);
    n++;
  }
  return n;
}

/* ---- the whole ---- */

static bool prepare(struct mender *mender, const struct wm_allocator *allocator) {
  const struct model *model = mender->network->model;
  mender->scratch = arena_new(allocator);
  if (!mender->scratch) return false;
  mender->draft = draft_new(mender->scratch, mender->network);
  mender->of_claim = arena_new_array(mender->scratch, bool, model->n_claims + 1);
  mender->of_rule = arena_new_array(mender->scratch, bool, model->n_rules + 1);
  if (!mender->draft || !mender->of_claim || !mender->of_rule) return false;
  mender->before = run_new(allocator, &mender->draft->network);
  mender->after = run_new(allocator, &mender->draft->network);
  return mender->before && mender->after && case_chain(mender->before, mender->worked);
}

static void search(struct mender *mender, struct mending *mending) {
  mend_mark(mender);
  mend_list_edits(mender);
  mend_list_rules(mender);
  mending->n_tried = mender->n_tried;
  mending->n_right = mender->right.n;
  sort(mender, order_of_sizes);
  keep_of_each_kind(mender, RUN_OF_KIND);
  mending->n_others = run_others(mender);
  sort(mender, order_of_worth);
  drop_repeats(mender);
  keep_of_each_kind(mender, TOLD_OF_KIND);
}

static void keep(struct mender *mender, struct mending *mending) {
  struct mend_edit *edits = arena_new_array(mender->arena, struct mend_edit, mender->right.n + 1);
  for (size_t i = 0; edits && i < mender->right.n; i++) edits[i] = mender->right.at[i];
  mending->edits = edits;
  mending->n = mender->right.n;
}

struct mending *mend_case(struct arena *arena, const struct wm_allocator *allocator,
                          const struct network *network, const struct worked_case *worked) {
  struct mender mender = {.arena = arena, .network = network, .worked = worked};
  struct mending *mending = arena_new_object(arena, struct mending);
  mender.no_memory = !mending || !prepare(&mender, allocator);
  if (!mender.no_memory) {
    mending->before = case_verdict(arena, mender.before, worked);
    if (mending->before.n_failed > 0) search(&mender, mending);
    keep(&mender, mending);
  }
  run_free(mender.before);
  run_free(mender.after);
  if (mender.scratch) arena_free(mender.scratch);
  return mender.no_memory || arena_failed(arena) ? NULL : mending;
}
