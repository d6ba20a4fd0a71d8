/* Why something is not as one might expect: the rules nearest to firing and by how much they
 * missed, what is not known, and the rival that did better. */
#include <math.h>

#include "model/formula.h"
#include "render/why.h"
#include "render/why_parts.h"
#include "render/wording_parts.h"

struct page {
  struct text *out;
  const struct run *run;
  const struct model *model;
};

static struct text beside(const struct page *page) {
  return wording_beside(page->out);
}

static void add_answer(struct page *page, const struct text *text) {
  wording_line(page->out, 0, "", 0, text);
}

static void add_after_all(struct page *page, const char *what, const char *name) {
  struct text words = beside(page);
  text_format(&words, "%s; `", what);
  wording_command(&words, page->model, "why", name);
  text_add(&words, "` tells why.");
  add_answer(page, &words);
}

/* ---- evidence ---- */

static void add_formula(struct page *page, const struct formula *formula) {
  struct text words = beside(page);
  const char *comma = "";
  text_format(&words, "%s: needs ", formula->text);
  for (size_t i = 0; i < formula->n_inputs; i++) {
    if (page->run->readings[formula->inputs[i]].state != READING_UNKNOWN) continue;
    text_format(&words, "%s%s", comma, page->model->evidence[formula->inputs[i]].name);
    comma = ", ";
  }
  if (*comma == '\0') text_add(&words, "nothing more, but gives no number for these values");
  wording_line(page->out, 2, "-", 4, &words);
}

static void whynot_evidence(struct page *page, size_t evidence) {
  const struct evidence *about = &page->model->evidence[evidence];
  if (page->run->readings[evidence].state != READING_UNKNOWN) {
    add_after_all(page, "It is known", about->name);
    return;
  }
  struct text words = beside(page);
  text_add(&words, "It is not known, because it was not given");
  text_add(&words, about->n_formulas != 0 ? " and cannot be worked out from what was given."
                   : about->from_club != CLUB_NONE ? " and no club that has it was given."
                                                   : ".");
  add_answer(page, &words);
  if (about->n_formulas != 0) why_heading(page->out, "It could be worked out by");
  for (size_t i = 0; i < about->n_formulas; i++) add_formula(page, about->formulas[i]);
  if (about->ask.n == 0) return;
  struct text ask = beside(page);
  why_heading(page->out, "To get it");
  wording_add(&ask, page->run, &about->ask);
  text_format(&ask, " (%s)", effort_word(about->effort));
  wording_line(page->out, 2, "", 2, &ask);
}

/* ---- claims ---- */

static void add_state(struct page *page, size_t claim, const struct supports *supports) {
  struct text words = beside(page);
  size_t n_fired = supports->n_counted + supports->n_overshadowed;
  if (supports->n == 0) {
    text_add(&words, "No rule of this knowledge concludes it.");
    add_answer(page, &words);
    return;
  }
  if (n_fired != 0) {
    text_add(&words, "Its certainty is ");
    wording_certainty(&words, page->run->certainty[claim]);
    text_add(&words, page->run->certainty[claim] > BELIEF_THRESHOLD ? ", believed but not leading"
                                                                    : ", not above +0.20");
    text_format(&words, ". Of its rules %zu fired,", n_fired);
  } else {
    text_add(&words, "None of its rules fired:");
  }
  text_format(&words, " %zu did not hold, %zu lack%s evidence.", supports->n_failed,
              supports->n_unknown, supports->n_unknown == 1 ? "s" : "");
  add_answer(page, &words);
}

/* Rules against are left out: that they did not fire is not what keeps the claim down. */
static void add_part(struct page *page, const char *heading, const struct support *list, size_t n) {
  size_t shown = 0, more = 0;
  for (size_t i = 0; i < n; i++) {
    if (list[i].strength < 0) continue;
    if (shown == WHY_RULES_SHOWN) {
      more++;
      continue;
    }
    if (shown++ == 0) why_heading(page->out, heading);
    why_not_fired(page->out, page->run, list[i].rule, list[i].strength);
  }
  if (more > 0) text_format(page->out, "  and %zu more\n", more);
}

/* ---- what fired, too weakly ---- */

#define PREMISE_FIRM 0.6 /* below that it is the premise that is weak, and not the rule */

static void add_strength(struct text *out, double strength) {
  const char *word = strength_word(strength);
  if (word != NULL) text_add(out, word);
  else {
    text_add(out, "its strength of ");
    text_number(out, strength);
  }
}

/* "rule soft-turf (...) fired, but hint gives only +0.19; more than +0.20 is needed" */
static void add_weak_rule(struct page *page, const struct support *support) {
  const struct rule *rule = &page->model->rules[support->rule];
  struct text words = beside(page);
  text_format(&words, "rule %s (", rule->name);
  wording_span(&words, rule->at);
  text_add(&words, ") fired, but ");
  if (support->premise < PREMISE_FIRM) {
    text_add(&words, "its premise came to ");
    wording_certainty(&words, support->premise);
    text_add(&words, " only, so ");
  }
  add_strength(&words, support->strength);
  text_add(&words, support->premise < PREMISE_FIRM ? " gives " : " gives only ");
  wording_certainty(&words, support->value);
  text_add(&words, "; more than +0.20 is needed");
  why_heading(page->out, "Speaks for it, too weakly");
  wording_line(page->out, 2, "", 2, &words);
}

/* Of a claim that is not believed: what speaks for it all the same. */
static void add_weak(struct page *page, size_t claim, const struct supports *supports) {
  const struct support *only = NULL;
  size_t n = 0, n_against = 0;
  if (page->run->certainty[claim] > BELIEF_THRESHOLD) return;
  for (size_t i = 0; i < supports->n_counted; i++) {
    bool is_for = supports->list[i].value > 0;
    if (is_for) only = &supports->list[i];
    n += is_for;
    n_against += supports->list[i].value < 0;
  }
  if (n == 1 && n_against == 0) {
    add_weak_rule(page, only);
    return;
  }
  if (n > 0) why_heading(page->out, "Speaks for it");
  for (size_t i = 0; i < supports->n_counted; i++)
    if (supports->list[i].value > 0)
      why_support(page->out, page->run, supports->list[i].value, supports->list[i].rule);
}

static void add_against(struct page *page, const struct supports *supports) {
  bool any = false;
  for (size_t i = 0; i < supports->n_counted; i++) {
    if (supports->list[i].value >= 0) continue;
    if (!any) why_heading(page->out, "Speaks against it");
    any = true;
    why_support(page->out, page->run, supports->list[i].value, supports->list[i].rule);
  }
}

/* Those whose clauses all miss measurably, or whose lack can be asked, are what a coach can act on.
 */
static void add_missed(struct page *page, const struct supports *supports) {
  const struct support *unknown = supports->list + supports->n_counted + supports->n_overshadowed;
  const struct support *failed = unknown + supports->n_unknown;
  add_part(page, "Nearest to firing (strength in brackets)", failed, supports->n_failed);
  add_part(page, "Not judged, for lack of evidence", unknown, supports->n_unknown);
}

static void add_rival(struct page *page, size_t claim, size_t rival) {
  struct contrast contrast = contrast_of(page->out->arena, page->run, rival, claim);
  struct text words = beside(page);
  wording_add(&words, page->run, &page->model->claims[rival].title);
  text_format(&words, " (%s) has ", page->model->claims[rival].name);
  wording_certainty(&words, page->run->certainty[rival]);
  text_add(&words, "; it is ahead on:");
  why_heading(page->out, "The rival that leads");
  wording_line(page->out, 2, "", 2, &words);
  size_t shown = 0;
  for (size_t i = 0; i < contrast.n_differences && shown < WHY_RULES_SHOWN; i++) {
    const struct difference *difference = &contrast.differences[i];
    if (difference->for_a <= difference->for_b) continue;
    why_support(page->out, page->run, difference->for_a - difference->for_b, difference->rule);
    shown++;
  }
}

/* For a cause "not so" means that it does not lead, for a finding that it is not believed. */
static void whynot_claim(struct page *page, size_t claim) {
  const struct claim *about = &page->model->claims[claim];
  size_t leading = run_leading(page->run);
  bool cause = about->kind == CLAIM_CAUSE;
  if (cause && leading == claim) {
    add_after_all(page, "It is the leading cause", about->name);
    return;
  }
  if (!cause && page->run->claims[claim] == CLAIM_KNOWN &&
      page->run->certainty[claim] > BELIEF_THRESHOLD) {
    add_after_all(page, "It is believed", about->name);
    return;
  }
  struct supports supports = claim_supports(page->out->arena, page->run, claim);
  add_state(page, claim, &supports);
  add_weak(page, claim, &supports);
  if (cause && leading != NO_INDEX) add_rival(page, claim, leading);
  add_against(page, &supports);
  add_missed(page, &supports);
}

/* ---- drills ---- */

static void add_causes(struct page *page, const struct drill *drill) {
  why_heading(page->out, "It works on");
  for (size_t i = 0; i < drill->n_changes; i++) {
    size_t cause = drill->changes[i].cause;
    struct text label = beside(page), words = beside(page);
    bool known = page->run->claims[cause] == CLAIM_KNOWN;
    if (known) wording_certainty(&label, page->run->certainty[cause]);
    wording_add(&words, page->run, &page->model->claims[cause].title);
    text_format(&words, " (%s, effect ", page->model->claims[cause].name);
    text_number(&words, drill->changes[i].effect);
    text_add_char(&words, ')');
    const char *done = text_done(&label);
    wording_line(page->out, 2, known && done != NULL ? done : "-", 9, &words);
  }
}

static void add_removal(struct page *page, const struct ranked_drill *ranked) {
  struct text words = beside(page);
  text_add(&words, "It was taken out: ");
  if (ranked->removal == REMOVAL_RULE) {
    why_rule(&words, page->run, ranked->removed_by);
    add_answer(page, &words);
    return;
  }
  text_add(&words, "what it needs is known to be missing.");
  add_answer(page, &words);
  struct shortfalls missing = drill_shortfalls(page->out->arena, page->run, ranked->claim);
  why_obstacles(page->out, page->run, &missing, 2);
}

static void add_value(struct page *page, const struct ranked_drill *ranked, const char *which) {
  struct text words = beside(page);
  text_format(&words, "%s %s: value ", which, page->model->claims[ranked->claim].name);
  wording_certainty(&words, ranked->value);
  text_add(&words, " (from causes ");
  wording_certainty(&words, ranked->from_causes);
  text_add(&words, ", advice of rules ");
  wording_certainty(&words, ranked->advice);
  text_format(&words, ", %s)",
              page->model->claims[ranked->claim].drill->external ? "an external task"
                                                                 : "a body thought");
  wording_line(page->out, 2, "", 4, &words);
}

static void whynot_drill(struct page *page, size_t claim) {
  const struct claim *about = &page->model->claims[claim];
  size_t place = why_drill_place(page->run, claim), chosen = run_drill(page->run);
  if (chosen == claim) {
    add_after_all(page, "It is the drill to do now", about->name);
    return;
  }
  struct text words = beside(page);
  if (page->run->red_flag != NO_INDEX) {
    text_add(&words, "No drill is offered: ");
    wording_add(&words, page->run, &page->model->claims[page->run->red_flag].red_flag);
    add_answer(page, &words);
  } else if (place == NO_INDEX) {
    text_add(&words, "It is of no use here: none of the causes that it changes is believed.");
    add_answer(page, &words);
  } else if (page->run->drills[place].removal != REMOVAL_NONE) {
    add_removal(page, &page->run->drills[place]);
  } else if (chosen != NO_INDEX) {
    text_add(&words, "Another drill is worth more here; this one stays a fall-back.");
    add_answer(page, &words);
    why_heading(page->out, "Compared");
    add_value(page, &page->run->drills[why_drill_place(page->run, chosen)], "chosen");
    add_value(page, &page->run->drills[place], "this");
  }
  add_causes(page, about->drill);
  struct supports supports = claim_supports(page->out->arena, page->run, claim);
  add_against(page, &supports);
  add_missed(page, &supports);
}

/* ---- rules ---- */

static void whynot_rule(struct page *page, size_t rule) {
  const struct rule *about = &page->model->rules[rule];
  if (page->run->rules[rule] == RULE_FIRED) {
    add_after_all(page, "It fired", about->name);
    return;
  }
  const struct judgement *premise = &page->run->nodes[page->run->network->rules[rule].first_node];
  struct text words = beside(page), because = beside(page);
  if (page->run->rules[rule] == RULE_UNKNOWN) {
    text_add(&words, "It could not be judged, because it lacks evidence.");
  } else {
    text_add(&words, "It did not fire: its premise came to ");
    wording_certainty(&words, premise->belief);
    text_add(&words, ", which is not above +0.20.");
  }
  add_answer(page, &words);
  why_heading(page->out, "What keeps it from firing");
  struct shortfalls shortfalls = rule_shortfalls(page->out->arena, page->run, rule);
  why_obstacles(page->out, page->run, &shortfalls, 2);
  why_heading(page->out, "What it would say");
  wording_add(&because, page->run, &about->because);
  wording_line(page->out, 2, "", 2, &because);
}

void whynot_text(struct text *out, const struct run *run, struct subject subject) {
  struct page page = {out, run, run->network->model};
  why_head(out, run, subject);
  if (subject.kind == SUBJECT_EVIDENCE) whynot_evidence(&page, subject.index);
  else if (subject.kind == SUBJECT_RULE) whynot_rule(&page, subject.index);
  else if (page.model->claims[subject.index].kind == CLAIM_DRILL)
    whynot_drill(&page, subject.index);
  else whynot_claim(&page, subject.index);
  if (arena_failed(out->arena)) out->failed = true;
}
