/* The tree of what something rests on, a line a branch. */
#include "model/formula.h"
#include "render/why_parts.h"
#include "render/wording_parts.h"

#define MARGIN 2
#define VALUE 7 /* columns of a certainty and the blank after it */

static void add_reading(struct text *words, const struct run *run, size_t evidence, bool repeated) {
  const struct reading *reading = &run->readings[evidence];
  text_format(words, "%s ", run->network->model->evidence[evidence].title);
  wording_reading(words, run, evidence);
  if (repeated) return;
  if (reading->state == READING_GIVEN) text_add(words, ", given");
  else if (reading->formula == NULL) text_add(words, ", of the club");
  else text_format(words, ", by %s", reading->formula->text);
}

/* The label of a branch; readings have none. */
static void add_label(struct text *label, const struct run *run, const struct step *step) {
  const struct judgement *premise;
  switch (step->kind) {
  case STEP_RULE:
    premise = &run->nodes[run->network->rules[step->index].first_node];
    if (premise->known) wording_certainty(label, premise->belief);
    else text_add(label, "?");
    break;
  case STEP_CLAIM: wording_certainty(label, run->certainty[step->index]); break;
  case STEP_DRILL: wording_certainty(label, run->drills[step->index].value); break;
  default: break;
  }
}

static void add_words(struct text *words, const struct run *run, const struct step *step,
                      bool repeated) {
  const struct model *model = run->network->model;
  size_t claim;
  switch (step->kind) {
  case STEP_GIVEN:
  case STEP_DERIVED: add_reading(words, run, step->index, repeated); break;
  case STEP_RULE: text_format(words, "rule %s", model->rules[step->index].name); break;
  case STEP_CLAIM:
  case STEP_DRILL:
    claim = step->kind == STEP_CLAIM ? step->index : run->drills[step->index].claim;
    if (step->kind == STEP_CLAIM && model->claims[claim].kind == CLAIM_DRILL)
      text_add(words, "advice of rules");
    else {
      wording_add(words, run, &model->claims[claim].title);
      text_format(words, " (%s)", model->claims[claim].name);
    }
  }
}

void why_tree(struct text *out, const struct run *run, struct subject subject) {
  struct tree tree = tree_of_subject(out->arena, run, subject);
  if (tree.n < 2) return;
  why_heading(out, "What it rests on (certainty of findings and causes, premise of rules)");
  for (size_t i = 0; i < tree.n; i++) {
    const struct branch *branch = &tree.branches[i];
    struct text label = wording_beside(out), words = wording_beside(out);
    add_label(&label, run, &branch->step);
    add_words(&words, run, &branch->step, branch->repeated);
    if (branch->repeated) text_add(&words, " - as above");
    bool reading = branch->step.kind == STEP_GIVEN || branch->step.kind == STEP_DERIVED;
    size_t margin = MARGIN + 2 * (size_t)branch->depth;
    const char *done = text_done(&label);
    if (reading) wording_hanging(out, margin, margin + 4, &words);
    else wording_line(out, margin, done != NULL ? done : "", margin + VALUE, &words);
  }
}
