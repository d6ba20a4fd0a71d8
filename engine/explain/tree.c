/* What something rests on as a tree: a claim on the rules that counted, a rule on what it reads, a
 * derived reading on its inputs. */
#include "explain/explain.h"
#include "model/formula.h"

struct grower {
  struct arena *arena;
  const struct run *run;
  ARRAY(struct branch) branches;
};

static void grow_claim(struct grower *grower, size_t claim, unsigned depth);

/* A premise may read the same thing in several clauses: one branch is enough. */
static bool stands_beside(const struct grower *grower, enum step_kind kind, size_t index,
                          unsigned depth) {
  for (size_t i = grower->branches.n; i-- > 0 && grower->branches.at[i].depth >= depth;) {
    const struct branch *other = &grower->branches.at[i];
    if (other->depth == depth && other->step.kind == kind && other->step.index == index)
      return true;
  }
  return false;
}

/* Adds a branch; true when it stands in the tree for the first time, so that its own branches are
 * to follow. */
static bool grow(struct grower *grower, enum step_kind kind, size_t index, unsigned depth) {
  if (stands_beside(grower, kind, index, depth)) return false;
  bool seen = false;
  for (size_t i = 0; i < grower->branches.n && !seen; i++) {
    const struct step *other = &grower->branches.at[i].step;
    seen = other->kind == kind && other->index == index;
  }
  struct branch *branch = array_push(grower->arena, &grower->branches);
  if (branch == NULL) return false;
  *branch = (struct branch){{kind, index}, depth, seen};
  return !seen;
}

static void grow_reading(struct grower *grower, size_t evidence, unsigned depth) {
  const struct run *run = grower->run;
  const struct reading *reading = &run->readings[evidence];
  if (reading->state == READING_UNKNOWN) return;
  bool derived = reading->state == READING_DERIVED;
  if (!grow(grower, derived ? STEP_DERIVED : STEP_GIVEN, evidence, depth) || !derived) return;
  if (reading->formula == NULL) grow_reading(grower, run->network->model->club_evidence, depth + 1);
  for (size_t i = 0; reading->formula != NULL && i < reading->formula->n_inputs; i++)
    grow_reading(grower, reading->formula->inputs[i], depth + 1);
}

static void grow_leaf(struct grower *grower, const struct condition *condition, unsigned depth) {
  if (condition->evidence != NO_INDEX) grow_reading(grower, condition->evidence, depth);
  if (condition->claim != NO_INDEX) grow_claim(grower, condition->claim, depth);
  for (size_t i = 0; condition->formula != NULL && i < condition->formula->n_inputs; i++)
    grow_reading(grower, condition->formula->inputs[i], depth);
}

static void grow_premise(struct grower *grower, size_t index, unsigned depth) {
  const struct network *network = grower->run->network;
  const struct premise_node *node = &network->nodes[index];
  if (node->test != NO_INDEX) {
    grow_leaf(grower, network->tests[node->test].condition, depth);
    return;
  }
  size_t child = index + 1;
  for (size_t i = 0; i < node->n_clauses; i++) {
    if (clause_decides(grower->run, index, child)) grow_premise(grower, child, depth);
    child += network->nodes[child].n_nodes;
  }
}

static void grow_rule(struct grower *grower, size_t rule, unsigned depth) {
  if (grow(grower, STEP_RULE, rule, depth))
    grow_premise(grower, grower->run->network->rules[rule].first_node, depth + 1);
}

static void grow_claim(struct grower *grower, size_t claim, unsigned depth) {
  if (grower->run->claims[claim] != CLAIM_KNOWN) return;
  if (!grow(grower, STEP_CLAIM, claim, depth)) return;
  struct supports supports = claim_supports(grower->arena, grower->run, claim);
  for (size_t i = 0; i < supports.n_counted; i++)
    grow_rule(grower, supports.list[i].rule, depth + 1);
}

static void grow_drill(struct grower *grower, size_t claim) {
  for (size_t i = 0; i < grower->run->n_drills; i++) {
    const struct ranked_drill *ranked = &grower->run->drills[i];
    if (ranked->claim != claim) continue;
    grow(grower, STEP_DRILL, i, 0);
    for (size_t k = 0; k < ranked->n_shares; k++) grow_claim(grower, ranked->shares[k].cause, 1);
    grow_claim(grower, claim, 1);
  }
}

struct tree tree_of_subject(struct arena *arena, const struct run *run, struct subject subject) {
  struct grower grower = {.arena = arena, .run = run};
  if (subject.kind == SUBJECT_EVIDENCE) grow_reading(&grower, subject.index, 0);
  else if (subject.kind == SUBJECT_RULE) grow_rule(&grower, subject.index, 0);
  else if (subject.kind == SUBJECT_CLAIM && subject.index >= run->network->model->first_drill)
    grow_drill(&grower, subject.index);
  else if (subject.kind == SUBJECT_CLAIM) grow_claim(&grower, subject.index, 0);
  return (struct tree){grower.branches.at, grower.branches.n};
}
