/* What a change of the evidence changes. The outcome comes first, then its reasons from the
 * readings upwards. Of findings and causes only those believed before or after are listed: a change
 * among what nobody believes tells a coach nothing. */
#include "render/whatif.h"

#include "render/steps_parts.h"
#include "render/why_parts.h"
#include "render/wording_parts.h"

#define RULES_SHOWN 6

struct page {
  struct text *out;
  const struct run *before, *after;
  const struct model *model;
  struct change change;
};

/* ---- text ---- */

static void add_reading(struct page *page, size_t evidence) {
  struct text label = wording_beside(page->out), words = wording_beside(page->out);
  text_format(&label, "%s:", page->model->evidence[evidence].title);
  wording_reading(&words, page->before, evidence);
  text_add(&words, " -> ");
  wording_reading(&words, page->after, evidence);
  const char *done = text_done(&label);
  wording_line(page->out, 2, done != NULL ? done : "", 4, &words);
}

static bool is_given(const struct page *page, size_t evidence) {
  return page->before->is_given[evidence] || page->after->is_given[evidence];
}

static void add_readings(struct page *page, bool given, const char *heading) {
  bool any = false;
  for (size_t i = 0; i < page->change.n_readings; i++) {
    if (is_given(page, page->change.readings[i]) != given) continue;
    if (!any) why_heading(page->out, heading);
    any = true;
    add_reading(page, page->change.readings[i]);
  }
}

static void add_certainty(struct text *out, const struct run *run, size_t claim) {
  if (run->claims[claim] == CLAIM_KNOWN) wording_certainty(out, run->certainty[claim]);
  else text_add(out, run->claims[claim] == CLAIM_UNKNOWN ? "unknown" : "no rule");
}

static bool is_believed(const struct run *run, size_t claim) {
  return run->claims[claim] == CLAIM_KNOWN && run->certainty[claim] > BELIEF_THRESHOLD;
}

static void add_claim(struct page *page, size_t claim) {
  struct text label = wording_beside(page->out), words = wording_beside(page->out);
  add_certainty(&label, page->before, claim);
  text_add(&label, " -> ");
  add_certainty(&label, page->after, claim);
  wording_add(&words, page->after, &page->model->claims[claim].title);
  text_format(&words, " (%s)", page->model->claims[claim].name);
  const char *done = text_done(&label);
  wording_line(page->out, 2, done != NULL ? done : "", 20, &words);
}

/* Those that are believed before or after; the rest is counted. */
static void add_claims(struct page *page, enum claim_kind kind, const char *heading) {
  size_t n_shown = 0, n_rest = 0;
  for (size_t i = 0; i < page->change.n_claims; i++) {
    size_t claim = page->change.claims[i];
    if (page->model->claims[claim].kind != kind) continue;
    if (!is_believed(page->before, claim) && !is_believed(page->after, claim)) {
      n_rest++;
      continue;
    }
    if (n_shown++ == 0) why_heading(page->out, heading);
    add_claim(page, claim);
  }
  if (n_rest == 0) return;
  if (n_shown == 0) why_heading(page->out, heading);
  text_format(page->out, "  %zu%s believed neither before nor after changed too\n", n_rest,
              n_shown != 0 ? " more" : "");
}

static void add_chosen(struct text *out, const struct page *page, const struct run *run,
                       size_t claim) {
  if (claim == NO_INDEX) {
    text_add(out, "none");
    return;
  }
  wording_add(out, run, &page->model->claims[claim].title);
  text_format(out, " (%s)", page->model->claims[claim].name);
}

static void add_outcome(struct page *page, const char *label, size_t before, size_t after) {
  struct text words = wording_beside(page->out);
  if (before == after) {
    text_add(&words, "the same: ");
    add_chosen(&words, page, page->after, after);
  } else {
    add_chosen(&words, page, page->before, before);
    text_add(&words, " -> ");
    add_chosen(&words, page, page->after, after);
  }
  wording_line(page->out, 0, label, 15, &words);
}

static void add_rules(struct page *page, enum rule_state state, const char *heading) {
  size_t n = 0;
  for (size_t i = 0; i < page->change.n_rules; i++) {
    size_t rule = page->change.rules[i];
    bool left = state == RULE_FIRED ? page->after->rules[rule] == RULE_FIRED
                                    : page->before->rules[rule] == RULE_FIRED;
    if (!left) continue;
    if (n == 0) why_heading(page->out, heading);
    if (n++ >= RULES_SHOWN) continue;
    struct text words = wording_beside(page->out);
    why_rule(&words, state == RULE_FIRED ? page->after : page->before, rule);
    wording_line(page->out, 2, "-", 4, &words);
  }
  if (n > RULES_SHOWN) text_format(page->out, "  and %zu more\n", n - RULES_SHOWN);
}

void whatif_text(struct text *out, const struct run *before, const struct run *after) {
  struct page page = {out, before, after, before->network->model,
                      change_between(out->arena, before, after)};
  add_outcome(&page, "leading cause", page.change.leading_before, page.change.leading_after);
  add_outcome(&page, "drill", page.change.drill_before, page.change.drill_after);
  if (after->red_flag != NO_INDEX && before->red_flag == NO_INDEX) {
    struct text words = wording_beside(out);
    wording_add(&words, after, &page.model->claims[after->red_flag].red_flag);
    wording_line(out, 0, "red flag", 15, &words);
  }
  if (page.change.n_readings == 0) text_add(out, "\nNothing differs: the evidence is the same.\n");
  add_readings(&page, true, "Evidence");
  add_readings(&page, false, "Worked out from it");
  add_claims(&page, CLAIM_FINDING, "Findings (certainty before -> after)");
  add_claims(&page, CLAIM_CAUSE, "Causes (certainty before -> after)");
  add_rules(&page, RULE_FIRED, "Rules that fire now");
  add_rules(&page, RULE_FAILED, "Rules that no longer fire");
  if (arena_failed(out->arena)) out->failed = true;
}

/* ---- JSON ---- */

static void add_pair(struct json *json, const struct page *page, const char *key, size_t before,
                     size_t after) {
  json_key_object(json, key);
  json_key_string(json, "before", before != NO_INDEX ? page->model->claims[before].name : NULL);
  json_key_string(json, "after", after != NO_INDEX ? page->model->claims[after].name : NULL);
  json_end(json);
}

static void add_readings_json(struct json *json, const struct page *page) {
  json_key_list(json, "readings");
  for (size_t i = 0; i < page->change.n_readings; i++) {
    json_object(json);
    json_key_string(json, "evidence", page->model->evidence[page->change.readings[i]].name);
    json_key_object(json, "before");
    steps_reading_json(json, page->before, page->change.readings[i]);
    json_end(json);
    json_key_object(json, "after");
    steps_reading_json(json, page->after, page->change.readings[i]);
    json_end(json);
    json_end(json);
  }
  json_end(json);
}

static void add_claims_json(struct json *json, const struct page *page) {
  json_key_list(json, "claims");
  for (size_t i = 0; i < page->change.n_claims; i++) {
    size_t claim = page->change.claims[i];
    json_object(json);
    json_key_string(json, "kind", claim_kind_word(page->model->claims[claim].kind));
    json_key_string(json, "name", page->model->claims[claim].name);
    json_key_number(json, "before", page->before->certainty[claim]);
    json_key_number(json, "after", page->after->certainty[claim]);
    json_end(json);
  }
  json_end(json);
}

static void add_rules_json(struct json *json, const struct page *page) {
  static const char *const states[] = {"failed", "fired", "unknown"};
  json_key_list(json, "rules");
  for (size_t i = 0; i < page->change.n_rules; i++) {
    size_t rule = page->change.rules[i];
    json_object(json);
    json_key_string(json, "rule", page->model->rules[rule].name);
    json_key_string(json, "before", states[page->before->rules[rule]]);
    json_key_string(json, "after", states[page->after->rules[rule]]);
    json_end(json);
  }
  json_end(json);
}

void whatif_json(struct json *json, const struct run *before, const struct run *after) {
  struct page page = {json->out, before, after, before->network->model,
                      change_between(json->out->arena, before, after)};
  json_object(json);
  add_pair(json, &page, "leading", page.change.leading_before, page.change.leading_after);
  add_pair(json, &page, "drill", page.change.drill_before, page.change.drill_after);
  add_pair(json, &page, "red_flag", before->red_flag, after->red_flag);
  add_readings_json(json, &page);
  add_claims_json(json, &page);
  add_rules_json(json, &page);
  json_end(json);
  if (arena_failed(json->out->arena)) json->out->failed = true;
}
