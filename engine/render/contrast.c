/* Two claims side by side. A rule stands under the side it speaks for, with what it counts for that
 * side; one that speaks on both shows both, so that a coach sees a fact that cuts both ways as one.
 */
#include "render/contrast.h"

#include "render/steps_parts.h"
#include "render/why_parts.h"
#include "render/wording_parts.h"

#define CHECKS_SHOWN 4

struct page {
  struct text *out;
  const struct run *run;
  const struct model *model;
  struct contrast contrast;
};

/* ---- text ---- */

static void add_head(struct page *page, const char *letter, size_t claim) {
  const struct claim *about = &page->model->claims[claim];
  struct text words = wording_beside(page->out);
  size_t place = why_cause_place(page->run, claim), drill = why_drill_place(page->run, claim);
  wording_add(&words, page->run, &about->title);
  text_format(&words, " (%s %s): ", claim_kind_word(about->kind), about->name);
  if (about->kind == CLAIM_DRILL && drill == NO_INDEX) {
    text_add(&words, "of no use here");
  } else if (about->kind == CLAIM_DRILL) {
    text_add(&words, page->run->drills[drill].removal == REMOVAL_NONE
                         ? "value "
                         : "taken out; its value would be ");
    wording_certainty(&words, page->run->drills[drill].value);
  } else if (page->run->claims[claim] == CLAIM_KNOWN) {
    wording_certainty(&words, page->run->certainty[claim]);
    if (place != NO_INDEX)
      text_format(&words, ", %s", standing_word(page->run->causes[place].standing));
  } else {
    text_add(&words,
             page->run->claims[claim] == CLAIM_UNKNOWN ? "not known yet" : "no rule speaks for it");
  }
  wording_line(page->out, 0, letter, 3, &words);
}

static bool speaks_more_for_a(const struct difference *difference) {
  return difference->for_a > difference->for_b;
}

/* What the rule counts for the side told of; where it speaks on both, the two in brackets. */
static void add_difference(struct page *page, const struct difference *difference, bool for_a) {
  struct text label = wording_beside(page->out), words = wording_beside(page->out);
  wording_certainty(&label, for_a ? difference->for_a : difference->for_b);
  why_rule(&words, page->run, difference->rule);
  if (difference->for_a != 0 && difference->for_b != 0) {
    text_add(&words, " [A ");
    wording_certainty(&words, difference->for_a);
    text_add(&words, ", B ");
    wording_certainty(&words, difference->for_b);
    text_add_char(&words, ']');
  }
  const char *done = text_done(&label);
  wording_line(page->out, 2, done != NULL ? done : "", 9, &words);
}

static void add_side(struct page *page, bool for_a, bool positive, const char *heading) {
  bool any = false;
  for (size_t i = 0; i < page->contrast.n_differences; i++) {
    const struct difference *difference = &page->contrast.differences[i];
    double own = for_a ? difference->for_a : difference->for_b;
    double other = for_a ? difference->for_b : difference->for_a;
    bool both = own != 0 && other != 0;
    bool fits = both ? positive && speaks_more_for_a(difference) == for_a
                     : own != 0 && (own > 0) == positive;
    if (!fits) continue;
    if (!any) why_heading(page->out, heading);
    any = true;
    add_difference(page, difference, for_a);
  }
}

static void add_shares(struct page *page, const char *heading, size_t claim) {
  const struct drill *drill = page->model->claims[claim].drill;
  why_heading(page->out, heading);
  for (size_t i = 0; i < drill->n_changes; i++) {
    struct text words = wording_beside(page->out);
    size_t cause = drill->changes[i].cause;
    wording_add(&words, page->run, &page->model->claims[cause].title);
    text_add(&words, ": effect ");
    text_number(&words, drill->changes[i].effect);
    text_add(&words, ", certainty ");
    wording_certainty(&words, page->run->certainty[cause]);
    wording_line(page->out, 2, "-", 4, &words);
  }
}

static void add_checks(struct page *page) {
  const struct contrast *contrast = &page->contrast;
  why_heading(page->out, "What would tell them apart");
  if (contrast->n_checks == 0) {
    wording_paragraph(
        page->out, 2, "", 2,
        "No reading that is still missing would: all rules that differ have been judged.");
    return;
  }
  for (size_t i = 0; i < contrast->n_checks && i < CHECKS_SHOWN; i++) {
    const struct evidence *evidence = &page->model->evidence[contrast->checks[i].evidence];
    struct text words = wording_beside(page->out);
    wording_add(&words, page->run, &evidence->ask);
    text_format(&words, " (%s, %s; ", evidence->name, effort_word(evidence->effort));
    why_count(&words, contrast->checks[i].n_rules, "rule");
    text_add(&words, contrast->checks[i].n_rules == 1 ? " waits for it)" : " wait for it)");
    wording_line(page->out, 2, "-", 4, &words);
  }
}

static void add_tell_apart(struct page *page, size_t claim) {
  const struct claim *about = &page->model->claims[claim];
  if (about->tell_apart.n == 0) return;
  struct text words = wording_beside(page->out);
  text_format(&words, "%s: ", about->name);
  wording_add(&words, page->run, &about->tell_apart);
  wording_line(page->out, 2, "-", 4, &words);
}

void contrast_text(struct text *out, const struct run *run, size_t a, size_t b) {
  struct page page = {out, run, run->network->model, contrast_of(out->arena, run, a, b)};
  add_head(&page, "A", a);
  add_head(&page, "B", b);
  add_side(&page, true, true, "Speaks for A and not, or less, for B");
  add_side(&page, false, true, "Speaks for B and not, or less, for A");
  add_side(&page, true, false, "Speaks against A and not against B");
  add_side(&page, false, false, "Speaks against B and not against A");
  if (page.contrast.n_differences == 0) text_add(out, "\nNo rule that fired tells them apart.\n");
  if (page.model->claims[a].kind == CLAIM_DRILL) add_shares(&page, "A works on", a);
  if (page.model->claims[b].kind == CLAIM_DRILL) add_shares(&page, "B works on", b);
  add_checks(&page);
  add_tell_apart(&page, a);
  add_tell_apart(&page, b);
  if (arena_failed(out->arena)) out->failed = true;
}

/* ---- JSON ---- */

static void add_side_json(struct json *json, const struct run *run, const char *key, size_t claim) {
  size_t drill = why_drill_place(run, claim);
  json_key_object(json, key);
  if (drill != NO_INDEX) steps_drill_json(json, run, NULL, &run->drills[drill]);
  else steps_claim_json(json, run, claim);
  if (run->network->model->claims[claim].tell_apart.n != 0)
    steps_key_wording(json, "tell_apart", run, &run->network->model->claims[claim].tell_apart);
  json_end(json);
}

void contrast_json(struct json *json, const struct run *run, size_t a, size_t b) {
  const struct model *model = run->network->model;
  struct contrast contrast = contrast_of(json->out->arena, run, a, b);
  json_object(json);
  add_side_json(json, run, "a", a);
  add_side_json(json, run, "b", b);
  json_key_list(json, "differences");
  for (size_t i = 0; i < contrast.n_differences; i++) {
    const struct rule *rule = &model->rules[contrast.differences[i].rule];
    json_object(json);
    json_key_string(json, "rule", rule->name);
    json_key_number(json, "for_a", contrast.differences[i].for_a);
    json_key_number(json, "for_b", contrast.differences[i].for_b);
    steps_key_wording(json, "because", run, &rule->because);
    steps_key_place(json, rule->at);
    json_end(json);
  }
  json_end(json);
  json_key_list(json, "checks");
  for (size_t i = 0; i < contrast.n_checks; i++) {
    const struct evidence *evidence = &model->evidence[contrast.checks[i].evidence];
    json_object(json);
    json_key_string(json, "evidence", evidence->name);
    steps_key_wording(json, "ask", run, &evidence->ask);
    json_key_string(json, "effort", effort_word(evidence->effort));
    json_key_number(json, "apart", contrast.checks[i].apart);
    json_key_count(json, "rules", contrast.checks[i].n_rules);
    json_end(json);
  }
  json_end(json);
  json_end(json);
  if (arena_failed(json->out->arena)) json->out->failed = true;
}
