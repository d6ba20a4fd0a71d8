/* The chain of steps as text. Every number a step is reckoned from stands in it or in the steps it
 * names, so that tests redo each one from this text alone (tests/run/step_checker.py). Numbers are
 * those of the rules, which are written for a right-handed player; the words beside them are the
 * player's own. */
#include "render/steps.h"

#include <math.h>
#include <string.h>

#include "model/formula.h"
#include "render/wording_parts.h"

#define MARGIN 7 /* columns before what a step says */
#define BESIDE 9 /* columns of a belief and the blanks after it */

struct page {
  struct text *out;
  const struct run *run;
  const struct model *model;
  const struct chain *chain;
  bool all; /* nothing is left out of the chain */
};

static struct text text_beside(const struct page *page) {
  return wording_beside(page->out);
}

static void add_line(struct page *page, size_t margin, const char *label, size_t indent,
                     const struct text *text) {
  wording_line(page->out, margin, label, indent, text);
}

/* A line of a step; what follows when it is too long hangs in, so that a reader can tell it from
 * the next line. */
static void add_body(struct page *page, const struct text *text) {
  wording_hanging(page->out, MARGIN, MARGIN + 4, text);
}

/* "+0.7901": a belief as the steps print it. */
static void add_belief(struct text *out, double belief) {
  wording_signed(out, belief, 4);
}

static void add_step_number(struct page *page, struct text *out, enum step_kind kind,
                            size_t index) {
  size_t place = chain_find(page->chain, kind, index);
  if (place != NO_INDEX) text_format(out, ", step %zu", place + 1);
}

static void add_reading_step(struct page *page, struct text *out, size_t evidence) {
  add_step_number(page, out, STEP_GIVEN, evidence);
  add_step_number(page, out, STEP_DERIVED, evidence);
}

/* ---- readings ---- */

/* "path = -5 +/- 1 deg", in the frame of the rules. */
static void add_machine_value(struct page *page, struct text *out, size_t evidence) {
  const struct evidence *about = &page->model->evidence[evidence];
  const struct reading *reading = &page->run->readings[evidence];
  text_format(out, "%s = ", about->name);
  switch (about->kind) {
  case EVIDENCE_NUMBER:
    wording_precise(out, reading->number, reading->error);
    text_add(out, " +/- ");
    wording_precise(out, reading->error, reading->error);
    wording_unit_name(out, about->unit);
    break;
  case EVIDENCE_TEXT: wording_value(out, page->run, evidence); break;
  default:
    text_add(out, about->choices[reading->choice].name);
    if (reading->sure < 1) {
      text_add(out, ", sure ");
      text_number(out, reading->sure);
    }
  }
}

static void add_step_head(struct page *page, size_t step, struct text *head) {
  struct text label = text_beside(page);
  text_format(&label, "%4zu", step + 1);
  const char *number = text_done(&label);
  add_line(page, 0, number != NULL ? number : "", 6, head);
}

/* Where the error of a mean comes from: sqrt(error^2 + spread^2 / shots). */
static void add_mean(struct page *page, size_t evidence) {
  const struct evidence *about = &page->model->evidence[evidence];
  const struct reading *reading = &page->run->readings[evidence];
  unsigned shots = wording_shots(page->run, evidence);
  if (about->kind != EVIDENCE_NUMBER || shots <= 1) return;
  struct text text = text_beside(page);
  text_add(&text, "one reading ");
  text_number(&text, reading->given->error);
  text_add(&text, ", spread ");
  text_number(&text, about->spread);
  text_format(&text, " over %u shots", shots);
  add_line(page, MARGIN, "error from", MARGIN + 11, &text);
}

static void add_given(struct page *page, size_t step, size_t evidence) {
  const struct reading *reading = &page->run->readings[evidence];
  struct text head = text_beside(page), value = text_beside(page);
  text_format(&head, "%s: ", page->model->evidence[evidence].title);
  wording_reading(&head, page->run, evidence);
  add_step_head(page, step, &head);
  add_machine_value(page, &value, evidence);
  if (reading->given != NULL && reading->given->typed != NULL) {
    text_add(&value, " (given as \"");
    wording_escape(&value, reading->given->typed, strlen(reading->given->typed));
    text_add(&value, "\")");
  }
  add_body(page, &value);
  add_mean(page, evidence);
}

/* The error of the formula itself: as the knowledge states it, a number or a formula again; what
 * its bend adds over the errors of its inputs is part of it. */
static void add_own_error(struct page *page, size_t evidence) {
  const struct formula *formula = page->run->readings[evidence].formula;
  size_t k = page->run->n_given_roots;
  while (k < page->run->n_roots && page->run->roots[k] != evidence) k++;
  if (formula == NULL || k == page->run->n_roots || page->run->root_errors[k] == 0) return;
  struct text text = text_beside(page);
  text_add(&text, "own error of the formula: its bend");
  if (formula->doubt != NULL) {
    text_format(&text, ", and %s", formula->doubt->text);
    for (size_t i = 0; i < formula->doubt->n_inputs; i++)
      add_reading_step(page, &text, formula->doubt->inputs[i]);
  } else if (formula->error > 0) {
    text_add(&text, ", and ");
    text_number(&text, formula->error);
  }
  add_body(page, &text);
}

/* "error from face 1 x 1, path -1 x 1": slope times error of each root it hangs on: given readings
 * and formulas with an error of their own. */
static void add_slopes(struct page *page, size_t evidence) {
  const struct reading *reading = &page->run->readings[evidence];
  if (reading->gradient == NULL) return;
  struct text text = text_beside(page);
  const char *comma = "";
  for (size_t i = 0; i < page->run->n_roots; i++) {
    if (reading->gradient[i] == 0) continue;
    text_format(&text, "%s%s%s ", comma, i < page->run->n_given_roots ? "" : "formula of ",
                page->model->evidence[page->run->roots[i]].name);
    wording_significant(&text, reading->gradient[i]);
    text_add(&text, " x ");
    wording_significant(&text, page->run->root_errors[i]);
    comma = ", ";
  }
  if (*comma != '\0') add_line(page, MARGIN, "error from", MARGIN + 11, &text);
}

static void add_derived(struct page *page, size_t step, size_t evidence) {
  const struct reading *reading = &page->run->readings[evidence];
  struct text head = text_beside(page), value = text_beside(page);
  text_format(&head, "%s: ", page->model->evidence[evidence].title);
  wording_reading(&head, page->run, evidence);
  add_step_head(page, step, &head);
  add_machine_value(page, &value, evidence);
  if (reading->formula == NULL) {
    text_add(&value, " (the club's)");
    add_reading_step(page, &value, page->model->club_evidence);
  } else {
    text_format(&value, " by %s", reading->formula->text);
    for (size_t i = 0; i < reading->formula->n_inputs; i++)
      add_reading_step(page, &value, reading->formula->inputs[i]);
  }
  add_body(page, &value);
  add_own_error(page, evidence);
  add_slopes(page, evidence);
}

/* ---- rules ---- */

static void add_judgement(struct page *page, const struct judgement *judged, size_t depth,
                          const struct text *words) {
  struct text label = text_beside(page);
  if (judged->known) add_belief(&label, judged->belief);
  else text_add(&label, "unknown");
  const char *done = text_done(&label);
  add_line(page, MARGIN, done != NULL ? done : "", MARGIN + BESIDE + 2 * depth, words);
}

/* The steps a clause was judged from; a clause that did not decide may rest on steps that are not
 * listed. */
static void add_leaf_steps(struct page *page, struct text *words,
                           const struct condition *condition) {
  if (condition->evidence != NO_INDEX) add_reading_step(page, words, condition->evidence);
  if (condition->claim != NO_INDEX) add_step_number(page, words, STEP_CLAIM, condition->claim);
  for (size_t i = 0; condition->formula != NULL && i < condition->formula->n_inputs; i++)
    add_reading_step(page, words, condition->formula->inputs[i]);
}

static void add_leaf(struct page *page, const struct premise_node *node, size_t depth,
                     bool decides) {
  const struct condition *condition = page->run->network->tests[node->test].condition;
  struct text words = text_beside(page);
  text_add(&words, condition->printed);
  if (decides || page->run->tests[node->test].known == false)
    add_leaf_steps(page, &words, condition);
  else text_add(&words, ", not decisive");
  add_judgement(page, &page->run->tests[node->test], depth, &words);
}

static void add_premise(struct page *page, size_t index, size_t depth, bool decides) {
  const struct premise_node *node = &page->run->network->nodes[index];
  struct text words = text_beside(page);
  switch (node->kind) {
  case CONDITION_ALL: text_add(&words, "all of these (the smallest counts):"); break;
  case CONDITION_ANY: text_add(&words, "any of these (the largest counts):"); break;
  case CONDITION_NONE: text_add(&words, "none of these (the largest, reversed):"); break;
  default: add_leaf(page, node, depth, decides); return;
  }
  add_judgement(page, &page->run->nodes[index], depth, &words);
  size_t child = index + 1;
  for (size_t i = 0; i < node->n_clauses; i++) {
    add_premise(page, child, depth + 1,
                decides && (page->all || clause_decides(page->run, index, child)));
    child += page->run->network->nodes[child].n_nodes;
  }
}

static void add_missing(struct page *page, const struct judgement *premise) {
  struct text text = text_beside(page);
  text_add(&text, "not judged: ");
  if (premise->missing_evidence != NO_INDEX)
    text_format(&text, "%s is not known", page->model->evidence[premise->missing_evidence].name);
  else if (premise->missing_claim != NO_INDEX)
    text_format(&text, "%s is not known", page->model->claims[premise->missing_claim].name);
  add_body(page, &text);
}

static void add_conclusion(struct page *page, double premise, const struct conclusion *conclusion) {
  struct text text = text_beside(page);
  add_belief(&text, premise);
  text_add(&text, " x strength ");
  text_number(&text, conclusion->strength);
  text_add(&text, " = ");
  add_belief(&text, premise * conclusion->strength);
  text_format(&text, " for %s", page->model->claims[conclusion->claim].name);
  add_step_number(page, &text, STEP_CLAIM, conclusion->claim);
  add_body(page, &text);
}

/* What a rule says on claims that have no part in this chain is only counted. */
static void add_conclusions(struct page *page, size_t rule) {
  const struct judgement *premise = &page->run->nodes[page->run->network->rules[rule].first_node];
  const struct rule *about = &page->model->rules[rule];
  size_t n_elsewhere = 0;
  for (size_t i = 0; i < about->n_then; i++) {
    if (chain_find(page->chain, STEP_CLAIM, about->then[i].claim) != NO_INDEX)
      add_conclusion(page, premise->belief, &about->then[i]);
    else n_elsewhere++;
  }
  struct text text = text_beside(page);
  if (n_elsewhere != 0)
    text_format(&text, "it also speaks on %zu more that %s no part in this", n_elsewhere,
                n_elsewhere == 1 ? "has" : "have");
  for (size_t i = 0; i < about->n_removes; i++)
    text_format(&text, "%stakes out drill %s", text.n != 0 ? "; " : "",
                page->model->claims[about->removes[i]].name);
  if (text.n != 0) add_body(page, &text);
}

static void add_because(struct page *page, const struct rule *rule) {
  struct text text = text_beside(page);
  wording_add(&text, page->run, &rule->because);
  text_format(&text, " [%s]", source_word(page->model, rule->source));
  add_line(page, MARGIN, "because", MARGIN + 8, &text);
}

static void add_rule(struct page *page, size_t step, size_t rule) {
  const struct rule *about = &page->model->rules[rule];
  size_t first = page->run->network->rules[rule].first_node;
  struct text head = text_beside(page);
  text_format(&head, "rule %s (", about->name);
  wording_span(&head, about->at);
  text_add(&head, about->group != NULL ? "), group " : ")");
  text_add(&head, about->group != NULL ? about->group : "");
  add_step_head(page, step, &head);
  add_premise(page, first, 0, true);
  struct text text = text_beside(page);
  switch (page->run->rules[rule]) {
  case RULE_UNKNOWN: add_missing(page, &page->run->nodes[first]); break;
  case RULE_FAILED:
    text_add(&text, "does not fire: not above +0.2");
    add_body(page, &text);
    break;
  case RULE_FIRED:
    add_conclusions(page, rule);
    add_because(page, about);
    break;
  }
}

/* ---- claims ---- */

static void add_support(struct page *page, const struct support *support) {
  struct text words = text_beside(page);
  text_format(&words, "rule %s", page->model->rules[support->rule].name);
  add_step_number(page, &words, STEP_RULE, support->rule);
  if (!support->counted && support->overshadowed_by != NO_INDEX) {
    text_format(&words, ", not counted: rule %s of group %s says more",
                page->model->rules[support->overshadowed_by].name,
                page->model->rules[support->rule].group);
  }
  struct judgement shown = {.known = true, .belief = support->value};
  add_judgement(page, &shown, 0, &words);
}

static void add_claim(struct page *page, size_t step, size_t claim) {
  const struct claim *about = &page->model->claims[claim];
  struct supports supports = claim_supports(page->out->arena, page->run, claim);
  struct text head = text_beside(page), sum = text_beside(page);
  text_format(&head, "%s %s: ",
              about->kind == CLAIM_DRILL ? "advice on drill" : claim_kind_word(about->kind),
              about->name);
  wording_add(&head, page->run, &about->title);
  add_step_head(page, step, &head);
  for (size_t i = 0; i < supports.n_counted + supports.n_overshadowed; i++)
    add_support(page, &supports.list[i]);
  text_add(&sum, "certainty ");
  add_belief(&sum, page->run->certainty[claim]);
  if (supports.n_counted > 1) text_add(&sum, ", the counted ones combined");
  add_body(page, &sum);
}

/* ---- drills ---- */

static void add_share(struct page *page, const struct drill_share *share) {
  struct text words = text_beside(page);
  text_add(&words, "certainty ");
  add_belief(&words, share->certainty);
  text_add(&words, " x effect ");
  text_number(&words, share->effect);
  text_format(&words, " on %s", page->model->claims[share->cause].name);
  add_step_number(page, &words, STEP_CLAIM, share->cause);
  struct judgement shown = {.known = true, .belief = share->part};
  add_judgement(page, &shown, 0, &words);
}

static void add_drill(struct page *page, size_t step, const struct ranked_drill *ranked) {
  const struct claim *about = &page->model->claims[ranked->claim];
  struct text head = text_beside(page), value = text_beside(page);
  text_format(&head, "drill %s: ", about->name);
  wording_add(&head, page->run, &about->title);
  add_step_head(page, step, &head);
  for (size_t i = 0; i < ranked->n_shares; i++) add_share(page, &ranked->shares[i]);
  text_add(&value, "from causes ");
  add_belief(&value, ranked->from_causes);
  text_add(&value, ", advice ");
  add_belief(&value, ranked->advice);
  add_step_number(page, &value, STEP_CLAIM, ranked->claim);
  text_add(&value, about->drill->external ? ", external" : ", body thought");
  text_add(&value, ": value ");
  add_belief(&value, ranked->value);
  add_body(page, &value);
  if (ranked->removal == REMOVAL_NONE) return;
  struct text removed = text_beside(page);
  if (ranked->removal == REMOVAL_RULE)
    text_format(&removed, "taken out by rule %s", page->model->rules[ranked->removed_by].name);
  else text_format(&removed, "taken out: it needs %s", about->drill->needs->printed);
  add_body(page, &removed);
}

/* ---- the whole ---- */

static void add_step(struct page *page, size_t place) {
  const struct step *step = &page->chain->steps[place];
  switch (step->kind) {
  case STEP_GIVEN: add_given(page, place, step->index); break;
  case STEP_DERIVED: add_derived(page, place, step->index); break;
  case STEP_RULE: add_rule(page, place, step->index); break;
  case STEP_CLAIM: add_claim(page, place, step->index); break;
  case STEP_DRILL: add_drill(page, place, &page->run->drills[step->index]); break;
  }
}

/* The heading of the part a step stands in; layer gets the layer of the rules and claims. */
static const char *part_of(const struct page *page, const struct step *step, size_t *layer) {
  *layer = 0;
  switch (step->kind) {
  case STEP_GIVEN: return "What was read";
  case STEP_DERIVED: return "What follows from it by arithmetic";
  case STEP_RULE: *layer = page->run->network->rules[step->index].layer; break;
  case STEP_CLAIM: *layer = page->run->network->claim_layer[step->index]; break;
  case STEP_DRILL: return "What to do";
  }
  return "What the rules make of it, layer";
}

void steps_chain_text(struct text *out, const struct run *run, const struct chain *chain) {
  struct page page = {out, run, run->network->model, chain, chain->n_left_out == 0};
  const char *part = "";
  size_t layer = 0;
  for (size_t i = 0; i < chain->n; i++) {
    size_t its_layer;
    const char *its = part_of(&page, &chain->steps[i], &its_layer);
    if (strcmp(its, part) != 0 || its_layer != layer) {
      if (i != 0) text_add_char(out, '\n');
      text_add(out, its);
      if (its_layer != 0) text_format(out, " %zu", its_layer);
      text_add_char(out, '\n');
    }
    part = its;
    layer = its_layer;
    add_step(&page, i);
  }
  if (arena_failed(out->arena)) out->failed = true;
}

static void add_left_out(struct text *out, const struct chain *chain) {
  if (chain->n_left_out == 0) return;
  struct text words = wording_beside(out);
  text_format(&words,
              "%zu more reading%s, fired rule%s or claim%s had no part in this; --all shows them.",
              chain->n_left_out, chain->n_left_out == 1 ? "" : "s",
              chain->n_left_out == 1 ? "" : "s", chain->n_left_out == 1 ? "" : "s");
  text_add_char(out, '\n');
  wording_line(out, 0, "", 0, &words);
}

void steps_text(struct text *out, const struct run *run, bool all) {
  struct chain chain = chain_of_answer(out->arena, run, all);
  if (chain.n == 0) text_add(out, "No rule that fired speaks for a finding or a cause.\n");
  if (chain.n != 0 && run->hand == HAND_LEFT)
    wording_paragraph(
        out, 0, "", 0,
        "Left-handed player: words are yours; after a name and = stands the number "
        "the rules read, mirrored, because they are written for a right-handed player.");
  steps_chain_text(out, run, &chain);
  add_left_out(out, &chain);
}
