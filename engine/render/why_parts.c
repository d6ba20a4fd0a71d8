/* The pieces that the views of a case are made of. A rule is always told by its because-text, with
 * its name, place and source behind it: the words are for the player, the rest is for whoever
 * doubts. */
#include "render/why_parts.h"

#include <math.h>
#include <string.h>

#include "model/formula.h"
#include "render/wording_parts.h"

#define VALUE_MARGIN 2
#define VALUE_INDENT 9

void why_head(struct text *out, const struct run *run, struct subject subject) {
  const struct model *model = run->network->model;
  struct text title = wording_beside(out), label = wording_beside(out);
  text_format(&label, "%s %s:", subject_kind_word(model, subject), subject_name(model, subject));
  if (subject.kind == SUBJECT_EVIDENCE) text_add(&title, model->evidence[subject.index].title);
  if (subject.kind == SUBJECT_CLAIM) wording_add(&title, run, &model->claims[subject.index].title);
  if (subject.kind == SUBJECT_RULE) wording_span(&title, model->rules[subject.index].at);
  const char *done = text_done(&label);
  if (done == NULL) out->failed = true;
  wording_line(out, 0, done != NULL ? done : "", 2, &title);
}

void why_heading(struct text *out, const char *heading) {
  text_format(out, "\n%s\n", heading);
}

void why_rule(struct text *out, const struct run *run, size_t rule) {
  const struct model *model = run->network->model;
  const struct rule *about = &model->rules[rule];
  wording_add(out, run, &about->because);
  text_format(out, " (rule %s, ", about->name);
  wording_span(out, about->at);
  text_format(out, "; %s)", source_word(model, about->source));
}

void why_support(struct text *out, const struct run *run, double value, size_t rule) {
  struct text label = wording_beside(out), words = wording_beside(out);
  wording_certainty(&label, value);
  why_rule(&words, run, rule);
  const char *done = text_done(&label);
  wording_line(out, VALUE_MARGIN, done != NULL ? done : "", VALUE_INDENT, &words);
}

/* ---- clauses ---- */

static void add_inputs(struct text *out, const struct run *run, const struct formula *formula) {
  for (size_t i = 0; i < formula->n_inputs; i++) {
    text_format(out, "%s%s is ", i == 0 ? "" : ", ",
                run->network->model->evidence[formula->inputs[i]].name);
    wording_reading(out, run, formula->inputs[i]);
  }
}

static void add_standing(struct text *out, const struct run *run, size_t claim) {
  switch (run->claims[claim]) {
  case CLAIM_UNKNOWN: text_add(out, "not known yet"); break;
  case CLAIM_SILENT: text_add(out, "no rule speaks for it"); break;
  case CLAIM_KNOWN:
    text_add(out, "its certainty is ");
    wording_certainty(out, run->certainty[claim]);
    break;
  }
}

/* "it is shiny"; the words of a choice may be a sentence that begins so already. */
static void add_reading(struct text *out, const struct run *run, size_t evidence) {
  struct text reading = wording_beside(out);
  wording_reading(&reading, run, evidence);
  const char *words = text_done(&reading);
  if (words == NULL) {
    out->failed = true;
    return;
  }
  bool sentence = run->network->model->evidence[evidence].kind == EVIDENCE_CHOICE &&
                  (strncmp(words, "it ", 3) == 0 || strncmp(words, "It ", 3) == 0);
  text_format(out, "%s%s", sentence ? "" : "it is ", words);
}

/* A word is asked for and a word was given: "lie: rough: it is sand" would run them together. */
static bool names_words(const struct condition *condition) {
  return condition->kind == CONDITION_IS || condition->kind == CONDITION_ONE_OF;
}

void why_clause(struct text *out, const struct run *run, const struct condition *condition) {
  wording_condition_in(out, run, condition);
  text_add(out, names_words(condition) ? "; " : ": ");
  if (condition->claim != NO_INDEX) add_standing(out, run, condition->claim);
  else if (condition->formula != NULL) add_inputs(out, run, condition->formula);
  else if (condition->evidence != NO_INDEX) add_reading(out, run, condition->evidence);
}

/* The unit a distance is told in; formulas have none. */
static void add_distance(struct text *out, const struct run *run, const struct condition *condition,
                         double units) {
  if (condition->evidence == NO_INDEX) wording_trimmed(out, fabs(units), 3);
  else
    wording_size(out, &run->network->model->evidence[condition->evidence],
                 wording_unit(run, condition->evidence), units);
}

static void add_measured(struct text *out, const struct run *run,
                         const struct shortfall *shortfall) {
  const struct condition *condition = run->network->tests[shortfall->test].condition;
  bool wrong_side = shortfall->units > 0;
  text_add(out, wrong_side ? "; misses by " : "; holds by only ");
  add_distance(out, run, condition, shortfall->units);
  if (!isfinite(shortfall->errors)) return;
  text_add(out, ", ");
  text_fixed(out, fabs(shortfall->errors), 1);
  text_add(out, wrong_side ? " standard errors" : " standard errors: too unsure to count");
}

static void add_question(struct text *out, const struct run *run,
                         const struct condition *condition) {
  if (condition->evidence == NO_INDEX) return;
  const struct evidence *evidence = &run->network->model->evidence[condition->evidence];
  if (evidence->ask.n == 0) return;
  text_add(out, ". ");
  wording_add(out, run, &evidence->ask);
}

void why_shortfall(struct text *out, const struct run *run, const struct shortfall *shortfall) {
  const struct condition *condition = run->network->tests[shortfall->test].condition;
  if (shortfall->negated) text_add(out, "must not be so: ");
  why_clause(out, run, condition);
  if (shortfall->measured) add_measured(out, run, shortfall);
  else if (!shortfall->judged.known) add_question(out, run, condition);
}

void why_obstacles(struct text *out, const struct run *run, const struct shortfalls *shortfalls,
                   size_t margin) {
  for (size_t i = 0; i < shortfalls->n; i++) {
    struct text clause = wording_beside(out);
    why_shortfall(&clause, run, &shortfalls->list[i]);
    wording_line(out, margin, shortfalls->list[i].judged.known ? "-" : "?", margin + 2, &clause);
  }
}

void why_not_fired(struct text *out, const struct run *run, size_t rule, double strength) {
  struct text label = wording_beside(out), words = wording_beside(out);
  struct shortfalls shortfalls = rule_shortfalls(out->arena, run, rule);
  const struct condition *when = run->network->model->rules[rule].when;
  text_add(&label, "(");
  wording_certainty(&label, strength);
  text_add(&label, ")");
  text_format(&words, "rule %s (", run->network->model->rules[rule].name);
  wording_span(&words, run->network->model->rules[rule].at);
  text_add(&words, when->kind == CONDITION_ANY ? "), any one of these would do:" : ")");
  const char *done = text_done(&label);
  wording_line(out, VALUE_MARGIN, done != NULL ? done : "", VALUE_INDENT + 1, &words);
  why_obstacles(out, run, &shortfalls, VALUE_INDENT + 1);
}

/* ---- small things ---- */

void why_count(struct text *out, size_t n, const char *word) {
  text_format(out, "%zu %s%s", n, word, n == 1 ? "" : "s");
}

size_t why_cause_place(const struct run *run, size_t claim) {
  for (size_t i = 0; i < run->n_causes; i++)
    if (run->causes[i].claim == claim) return i;
  return NO_INDEX;
}

size_t why_drill_place(const struct run *run, size_t claim) {
  for (size_t i = 0; i < run->n_drills; i++)
    if (run->drills[i].claim == claim) return i;
  return NO_INDEX;
}
