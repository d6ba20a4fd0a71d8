/* Who reads an entry. Found by walking all conditions and formulas once: show is asked seldom, and
 * an index kept for it would have to be kept true. */
#include "render/show_parts.h"

#include "model/formula.h"

struct collector {
  struct arena *arena;
  ARRAY(struct subject) list;
};

static void collect(struct collector *collector, enum subject_kind kind, size_t index) {
  struct subject *slot = array_push(collector->arena, &collector->list);
  if (slot != NULL) *slot = (struct subject){kind, index};
}

static bool formula_reads(const struct formula *formula, size_t evidence) {
  for (size_t i = 0; i < formula->n_inputs; i++)
    if (formula->inputs[i] == evidence) return true;
  return formula->doubt != NULL && formula_reads(formula->doubt, evidence);
}

static bool condition_reads(const struct condition *condition, struct subject subject) {
  if (condition == NULL) return false;
  if (subject.kind == SUBJECT_EVIDENCE) {
    if (condition->evidence == subject.index) return true;
    if (condition->formula != NULL && formula_reads(condition->formula, subject.index)) return true;
  }
  if (subject.kind == SUBJECT_CLAIM && condition->claim == subject.index) return true;
  for (size_t i = 0; i < condition->n_clauses; i++)
    if (condition_reads(&condition->clauses[i], subject)) return true;
  return false;
}

static bool evidence_reads(const struct model *model, const struct evidence *evidence,
                           size_t input) {
  if (evidence->from_club != CLUB_NONE && model->club_evidence == input) return true;
  for (size_t i = 0; i < evidence->n_formulas; i++)
    if (formula_reads(evidence->formulas[i], input)) return true;
  return false;
}

static bool cites(struct source_ref source, size_t reference) {
  return source.kind == SOURCE_PUBLISHED && source.index == reference;
}

static void collect_citing(struct collector *collector, const struct model *model,
                           size_t reference) {
  for (size_t i = 0; i < model->n_evidence; i++)
    if (cites(model->evidence[i].source, reference)) collect(collector, SUBJECT_EVIDENCE, i);
  for (size_t i = 0; i < model->n_claims; i++)
    if (cites(model->claims[i].source, reference)) collect(collector, SUBJECT_CLAIM, i);
  for (size_t i = 0; i < model->n_rules; i++)
    if (cites(model->rules[i].source, reference)) collect(collector, SUBJECT_RULE, i);
  for (size_t i = 0; i < model->n_clubs; i++)
    if (cites(model->clubs[i].source, reference)) collect(collector, SUBJECT_CLUB, i);
}

struct entries show_readers(struct arena *arena, const struct network *network,
                            struct subject subject) {
  const struct model *model = network->model;
  struct collector collector = {.arena = arena};
  if (subject.kind == SUBJECT_REFERENCE) collect_citing(&collector, model, subject.index);
  if (subject.kind != SUBJECT_EVIDENCE && subject.kind != SUBJECT_CLAIM)
    return (struct entries){collector.list.at, collector.list.n};
  for (size_t i = 0; i < model->n_evidence && subject.kind == SUBJECT_EVIDENCE; i++)
    if (evidence_reads(model, &model->evidence[i], subject.index))
      collect(&collector, SUBJECT_EVIDENCE, i);
  for (size_t i = 0; i < model->n_rules; i++)
    if (condition_reads(model->rules[i].when, subject)) collect(&collector, SUBJECT_RULE, i);
  for (size_t i = model->first_drill; i < model->n_claims; i++)
    if (condition_reads(model->claims[i].drill->needs, subject) ||
        condition_reads(model->claims[i].drill->works, subject))
      collect(&collector, SUBJECT_CLAIM, i);
  return (struct entries){collector.list.at, collector.list.n};
}

double show_effect(const struct drill *drill, size_t cause) {
  for (size_t i = 0; i < drill->n_changes; i++)
    if (drill->changes[i].cause == cause) return drill->changes[i].effect;
  return 0;
}

struct entries show_drills_for(struct arena *arena, const struct model *model, size_t cause) {
  struct collector collector = {.arena = arena};
  for (size_t i = model->first_drill; i < model->n_claims; i++)
    if (show_effect(model->claims[i].drill, cause) > 0) collect(&collector, SUBJECT_CLAIM, i);
  return (struct entries){collector.list.at, collector.list.n};
}
