/* Why something is as it is: the short account first, then the numbered steps it rests on. */
#include "render/why.h"

#include <string.h>

#include "model/formula.h"
#include "render/why_parts.h"
#include "render/wording_parts.h"

#define LABEL 12 /* columns of the labels */

struct page {
  struct text *out;
  const struct run *run;
  const struct model *model;
};

static void add_paragraph(struct page *page, const char *label, size_t indent,
                          const struct text *text) {
  wording_line(page->out, 0, label, indent, text);
}

static struct text beside(const struct page *page) {
  return wording_beside(page->out);
}

/* ---- evidence ---- */

static void add_origin(struct page *page, size_t evidence, struct text *words) {
  const struct reading *reading = &page->run->readings[evidence];
  wording_reading(words, page->run, evidence);
  if (reading->state == READING_UNKNOWN) {
    text_add(words, ": not given, and nothing given lets it be worked out");
  } else if (reading->state == READING_GIVEN) {
    text_add(words, ", given");
    if (reading->given == NULL || reading->given->typed == NULL) return;
    text_add(words, " as \"");
    wording_escape(words, reading->given->typed, strlen(reading->given->typed));
    text_add_char(words, '"');
    if (wording_shots(page->run, evidence) > 1)
      text_format(words, ", the mean of %u shots", wording_shots(page->run, evidence));
  } else if (reading->formula != NULL) {
    text_format(words, ", worked out: %s", reading->formula->text);
  } else {
    text_add(words, ", taken from the club");
  }
}

/* The readings an error comes from, each with its share of the variance. */
static void add_error_shares(struct page *page, const struct reading *reading, struct text *words) {
  const char *comma = "from ";
  for (size_t i = 0; i < page->run->n_roots; i++) {
    double part = reading->gradient[i] * page->run->root_errors[i] / reading->error;
    if (part * part < 0.005) continue;
    text_format(words, "%s%s ", comma, page->model->evidence[page->run->roots[i]].title);
    if (i >= page->run->n_given_roots) text_add(words, "(its formula) ");
    text_fixed(words, 100 * part * part, 0);
    text_add(words, " %");
    comma = ", ";
  }
}

/* Where the error of a number comes from, in words. */
static void add_error(struct page *page, size_t evidence) {
  const struct evidence *about = &page->model->evidence[evidence];
  const struct reading *reading = &page->run->readings[evidence];
  if (about->kind != EVIDENCE_NUMBER || reading->state == READING_UNKNOWN) return;
  struct text words = beside(page);
  if (reading->error <= 0) text_add(&words, "none: it is taken as exact");
  else if (reading->gradient != NULL && reading->state == READING_DERIVED)
    add_error_shares(page, reading, &words);
  else if (wording_shots(page->run, evidence) > 1)
    text_format(&words,
                "of the mean of %u shots: one reading's error and the spread from shot to shot",
                wording_shots(page->run, evidence));
  else
    text_add(&words,
             "one standard deviation of one reading: two readings in three are closer than this");
  add_paragraph(page, "error", LABEL, &words);
}

static void add_contradictions(struct page *page, size_t evidence) {
  for (size_t i = 0; i < page->run->n_contradictions; i++) {
    const struct contradiction *found = &page->run->contradictions[i];
    if (found->evidence != evidence) continue;
    const struct evidence *about = &page->model->evidence[evidence];
    struct text words = beside(page);
    text_format(&words, "%s makes it ", found->formula->text);
    wording_quantity(&words, about, wording_unit(page->run, evidence), found->computed,
                     page->run->hand);
    text_add(&words, found->beyond_range
                         ? ", which is not plausible; check the readings it rests on"
                         : ", which does not agree with what was given; check the readings");
    add_paragraph(page, "doubt", LABEL, &words);
  }
}

/* ---- claims ---- */

static void add_certainty(struct page *page, size_t claim) {
  struct text words = beside(page);
  size_t place = why_cause_place(page->run, claim);
  switch (page->run->claims[claim]) {
  case CLAIM_UNKNOWN:
    text_add(&words, "not known: no rule fired, and some still lack evidence");
    break;
  case CLAIM_SILENT:
    text_add(&words, "not believed: all its rules were judged and none fired");
    break;
  case CLAIM_KNOWN: wording_certainty(&words, page->run->certainty[claim]); break;
  }
  if (page->run->claims[claim] == CLAIM_KNOWN && place != NO_INDEX)
    text_format(&words, ", %s", standing_word(page->run->causes[place].standing));
  else if (page->run->claims[claim] == CLAIM_KNOWN)
    text_add(&words,
             page->run->certainty[claim] > BELIEF_THRESHOLD ? ", believed" : ", not believed");
  if (page->run->claims[claim] == CLAIM_KNOWN)
    text_add(&words, "  [-1 surely not, 0 nothing known, +1 sure; not a probability]");
  add_paragraph(page, "certainty", LABEL, &words);
}

/* The counted rules of one sign: sorted by size they stand mixed, and a reader weighs side against
 * side. */
static void add_counted(struct page *page, const struct supports *supports, bool positive,
                        const char *heading) {
  bool any = false;
  for (size_t i = 0; i < supports->n_counted; i++) {
    const struct support *support = &supports->list[i];
    if ((support->value > 0) != positive) continue;
    if (!any) why_heading(page->out, heading);
    any = true;
    why_support(page->out, page->run, support->value, support->rule);
  }
}

static void add_overshadowed(struct page *page, const struct supports *supports) {
  if (supports->n_overshadowed != 0)
    why_heading(page->out,
                "Fired, but rests on what a stronger rule of its group has counted already");
  for (size_t i = 0; i < supports->n_overshadowed; i++) {
    const struct support *support = &supports->list[supports->n_counted + i];
    why_support(page->out, page->run, support->value, support->rule);
  }
}

static void add_waiting(struct page *page, const struct supports *supports) {
  const struct support *waiting = supports->list + supports->n_counted + supports->n_overshadowed;
  if (supports->n_unknown != 0) why_heading(page->out, "Not judged yet (strength in brackets)");
  for (size_t i = 0; i < supports->n_unknown && i < WHY_RULES_SHOWN; i++)
    why_not_fired(page->out, page->run, waiting[i].rule, waiting[i].strength);
  if (supports->n_unknown > WHY_RULES_SHOWN)
    text_format(page->out, "  and %zu more\n", supports->n_unknown - WHY_RULES_SHOWN);
}

static void add_failed(struct page *page, const struct supports *supports, size_t claim) {
  if (supports->n_failed == 0) return;
  struct text words = beside(page);
  why_count(&words, supports->n_failed, "rule");
  text_add(&words, " about it did not hold; `");
  wording_command(&words, page->model, "whynot", page->model->claims[claim].name);
  text_add(&words, "` tells by how much.");
  text_add_char(page->out, '\n');
  add_paragraph(page, "", 0, &words);
}

static void add_supports(struct page *page, size_t claim) {
  struct supports supports = claim_supports(page->out->arena, page->run, claim);
  add_counted(page, &supports, true, "Speaks for it");
  add_counted(page, &supports, false, "Speaks against it");
  add_overshadowed(page, &supports);
  add_waiting(page, &supports);
  add_failed(page, &supports, claim);
}

static void why_claim(struct page *page, struct subject subject) {
  const struct claim *about = &page->model->claims[subject.index];
  struct text words = beside(page);
  add_certainty(page, subject.index);
  wording_add(&words, page->run, &about->about);
  add_paragraph(page, "meaning", LABEL, &words);
  if (about->tell_apart.n != 0) {
    struct text apart = beside(page);
    wording_add(&apart, page->run, &about->tell_apart);
    add_paragraph(page, "tell apart", LABEL, &apart);
  }
  add_supports(page, subject.index);
}

/* ---- drills ---- */

static void add_place(struct page *page, size_t place) {
  const struct ranked_drill *ranked = &page->run->drills[place];
  struct text words = beside(page);
  wording_certainty(&words, ranked->value);
  if (run_drill(page->run) == ranked->claim) text_add(&words, ", the drill to do now");
  else if (ranked->removal != REMOVAL_NONE) text_add(&words, ", but taken out");
  else if (page->run->red_flag != NO_INDEX) text_add(&words, ", but a red flag forbids any drill");
  else text_format(&words, ", number %zu in the order of value", place + 1);
  add_paragraph(page, "value", LABEL, &words);
}

static void add_removal(struct page *page, const struct ranked_drill *ranked) {
  struct text words = beside(page);
  if (ranked->removal == REMOVAL_RULE) {
    why_rule(&words, page->run, ranked->removed_by);
  } else if (ranked->removal == REMOVAL_NEEDS) {
    text_add(&words, "it needs ");
    wording_condition_in(&words, page->run, page->model->claims[ranked->claim].drill->needs);
    text_add(&words, ", and that is known not to be so");
  } else {
    return;
  }
  add_paragraph(page, "taken out", LABEL, &words);
}

static void add_shares(struct page *page, const struct ranked_drill *ranked) {
  if (ranked->n_shares != 0)
    why_heading(page->out, "What it is good for (cause's certainty x effect)");
  for (size_t i = 0; i < ranked->n_shares; i++) {
    const struct drill_share *share = &ranked->shares[i];
    struct text label = beside(page), words = beside(page);
    wording_certainty(&label, share->part);
    wording_add(&words, page->run, &page->model->claims[share->cause].title);
    text_format(&words, " (%s ", page->model->claims[share->cause].name);
    wording_certainty(&words, share->certainty);
    text_add(&words, " x ");
    text_number(&words, share->effect);
    text_add(&words, ")");
    const char *done = text_done(&label);
    wording_line(page->out, 2, done != NULL ? done : "", 9, &words);
  }
}

static void why_drill(struct page *page, struct subject subject) {
  size_t place = why_drill_place(page->run, subject.index);
  struct text words = beside(page);
  if (place == NO_INDEX) {
    text_add(&words, "none here: no cause that it changes is believed");
    add_paragraph(page, "value", LABEL, &words);
    return;
  }
  add_place(page, place);
  add_removal(page, &page->run->drills[place]);
  wording_add(&words, page->run, &page->model->claims[subject.index].drill->aim);
  add_paragraph(page, "aim", LABEL, &words);
  add_shares(page, &page->run->drills[place]);
  struct supports supports = claim_supports(page->out->arena, page->run, subject.index);
  add_counted(page, &supports, true, "Rules that advise it");
  add_counted(page, &supports, false, "Rules that advise against it");
  add_overshadowed(page, &supports);
}

/* ---- rules ---- */

static void add_clauses(struct page *page, size_t index, size_t depth) {
  const struct premise_node *node = &page->run->network->nodes[index];
  const struct judgement *judged = &page->run->nodes[index];
  bool joined =
      node->kind == CONDITION_ALL || node->kind == CONDITION_ANY || node->kind == CONDITION_NONE;
  struct text label = beside(page), words = beside(page);
  if (judged->known) wording_certainty(&label, judged->belief);
  else text_add(&label, "?");
  if (joined)
    text_add(&words, node->kind == CONDITION_ALL   ? "all of (the smallest counts):"
                     : node->kind == CONDITION_ANY ? "any of (the largest counts):"
                                                   : "none of (the largest, reversed):");
  else why_clause(&words, page->run, page->run->network->tests[node->test].condition);
  const char *done = text_done(&label);
  wording_line(page->out, 2, done != NULL ? done : "", 9 + 2 * depth, &words);
  size_t child = index + 1;
  for (size_t i = 0; joined && i < node->n_clauses; i++) {
    add_clauses(page, child, depth + 1);
    child += page->run->network->nodes[child].n_nodes;
  }
}

static void add_rule_state(struct page *page, size_t rule) {
  const struct judgement *premise = &page->run->nodes[page->run->network->rules[rule].first_node];
  struct text words = beside(page);
  if (page->run->rules[rule] == RULE_UNKNOWN) {
    text_add(&words, "not judged: it lacks evidence");
  } else {
    text_add(&words,
             page->run->rules[rule] == RULE_FIRED ? "fired: premise " : "did not fire: premise ");
    wording_certainty(&words, premise->belief);
    if (page->run->rules[rule] == RULE_FAILED) text_add(&words, ", which is not above +0.20");
  }
  add_paragraph(page, "state", LABEL, &words);
}

static void add_rule_effects(struct page *page, size_t rule) {
  const struct rule *about = &page->model->rules[rule];
  double premise = page->run->nodes[page->run->network->rules[rule].first_node].belief;
  bool fired = page->run->rules[rule] == RULE_FIRED;
  why_heading(page->out, fired ? "It says" : "It would say");
  for (size_t i = 0; i < about->n_then; i++) {
    struct text label = beside(page), words = beside(page);
    wording_certainty(&label, fired ? premise * about->then[i].strength : about->then[i].strength);
    wording_add(&words, page->run, &page->model->claims[about->then[i].claim].title);
    text_format(&words, " (%s)", page->model->claims[about->then[i].claim].name);
    const char *done = text_done(&label);
    wording_line(page->out, 2, done != NULL ? done : "", 9, &words);
  }
  for (size_t i = 0; i < about->n_removes; i++) {
    struct text words = beside(page);
    text_format(&words, "takes out the drill %s", page->model->claims[about->removes[i]].name);
    wording_line(page->out, 2, "", 9, &words);
  }
}

static void add_wording(struct page *page, const char *label, const struct wording *wording) {
  struct text words = beside(page);
  if (wording->n == 0) return;
  wording_add(&words, page->run, wording);
  add_paragraph(page, label, LABEL, &words);
}

static void why_rule_subject(struct page *page, size_t rule) {
  const struct rule *about = &page->model->rules[rule];
  struct text source = beside(page);
  add_rule_state(page, rule);
  add_wording(page, "because", &about->because);
  add_wording(page, "learner", &about->learner);
  text_format(&source, "%s, %s", source_word(page->model, about->source),
              rule_kind_word(about->kind));
  add_paragraph(page, "source", LABEL, &source);
  why_heading(page->out, "When");
  add_clauses(page, page->run->network->rules[rule].first_node, 0);
  struct shortfalls shortfalls = rule_shortfalls(page->out->arena, page->run, rule);
  if (shortfalls.n != 0) why_heading(page->out, "What keeps it from firing");
  why_obstacles(page->out, page->run, &shortfalls, 2);
  add_rule_effects(page, rule);
}

/* ---- the whole ---- */

static void why_evidence(struct page *page, size_t evidence) {
  struct text origin = beside(page), about = beside(page);
  add_origin(page, evidence, &origin);
  add_paragraph(page, "value", LABEL, &origin);
  add_error(page, evidence);
  add_contradictions(page, evidence);
  wording_add(&about, page->run, &page->model->evidence[evidence].about);
  add_paragraph(page, "meaning", LABEL, &about);
  if (page->run->readings[evidence].state == READING_UNKNOWN)
    add_wording(page, "to ask", &page->model->evidence[evidence].ask);
}

void why_text(struct text *out, const struct run *run, struct subject subject) {
  struct page page = {out, run, run->network->model};
  why_head(out, run, subject);
  if (subject.kind == SUBJECT_EVIDENCE) why_evidence(&page, subject.index);
  else if (subject.kind == SUBJECT_RULE) why_rule_subject(&page, subject.index);
  else if (page.model->claims[subject.index].kind == CLAIM_DRILL) why_drill(&page, subject);
  else why_claim(&page, subject);
  why_tree(out, run, subject);
  if (arena_failed(out->arena)) out->failed = true;
}
