/* An entry of the knowledge as JSON: the keys of the rule language, texts for the hand given. */
#include <math.h>

#include "golf/formula.h"
#include "model/formula.h"
#include "render/show.h"
#include "render/show_parts.h"
#include "render/steps_parts.h"
#include "render/wording_parts.h"

struct page {
  struct json *json;
  const struct network *network;
  const struct model *model;
  enum hand hand;
};

static void key_words(struct page *page, const char *key, const struct wording *wording) {
  if (wording->n == 0) return;
  struct text text = wording_beside(page->json->out);
  wording_add_plain(&text, page->model, wording, page->hand);
  steps_key_text(page->json, key, &text);
}

static void key_names(struct page *page, const char *key, const struct entries *entries) {
  json_key_list(page->json, key);
  for (size_t i = 0; i < entries->n; i++) {
    json_object(page->json);
    json_key_string(page->json, "kind", subject_kind_word(page->model, entries->list[i]));
    json_key_string(page->json, "name", subject_name(page->model, entries->list[i]));
    json_end(page->json);
  }
  json_end(page->json);
}

static void key_readers(struct page *page, const char *key, struct subject subject) {
  struct entries readers = show_readers(page->json->out->arena, page->network, subject);
  key_names(page, key, &readers);
}

static void key_source(struct page *page, struct source_ref source) {
  json_key_object(page->json, "source");
  json_key_string(page->json, "name", source_word(page->model, source));
  if (source.kind == SOURCE_PUBLISHED) {
    json_key_string(page->json, "title", page->model->references[source.index].title);
    json_key_string(page->json, "status", page->model->references[source.index].status);
  }
  json_end(page->json);
}

/* ---- evidence ---- */

static void add_number(struct page *page, const struct evidence *evidence) {
  json_key_string(page->json, "unit", evidence->unit->name);
  json_key_list(page->json, "range");
  json_number(page->json, evidence->low);
  json_number(page->json, evidence->high);
  json_end(page->json);
  json_key_number(page->json, "error", evidence->error);
  json_key_number(page->json, "spread", evidence->spread);
  json_key_bool(page->json, "mirrored", evidence->mirrored);
  json_key_object(page->json, "words");
  for (size_t i = 0; i < evidence->n_words; i++) {
    json_key_object(page->json, evidence->words[i].name);
    json_key_number(page->json, "value", evidence->words[i].value);
    json_key_number(page->json, "error", evidence->words[i].error);
    json_end(page->json);
  }
  json_end(page->json);
}

static void add_choices(struct page *page, const struct evidence *evidence) {
  json_key_list(page->json, "values");
  for (size_t i = 0; i < evidence->n_choices; i++)
    json_string(page->json, evidence->choices[i].name);
  json_end(page->json);
}

/* {"is": text, "error": number or text}, as the rule language writes it. */
static void add_formula(struct page *page, const struct formula *formula) {
  json_object(page->json);
  json_key_string(page->json, "is", formula->text);
  if (formula->doubt != NULL) json_key_string(page->json, "error", formula->doubt->text);
  else json_key_number(page->json, "error", formula->error);
  json_end(page->json);
}

static void show_evidence(struct page *page, struct subject subject) {
  const struct evidence *evidence = &page->model->evidence[subject.index];
  json_key_string(page->json, "title", evidence->title);
  key_words(page, "about", &evidence->about);
  json_key_string(page->json, "evidence_kind", evidence_kind_word(evidence->kind));
  if (evidence->kind == EVIDENCE_NUMBER) add_number(page, evidence);
  if (evidence->n_choices != 0) add_choices(page, evidence);
  json_key_list(page->json, "formulas");
  for (size_t i = 0; i < evidence->n_formulas; i++) add_formula(page, evidence->formulas[i]);
  json_end(page->json);
  key_words(page, "ask", &evidence->ask);
  if (evidence->ask.n != 0) json_key_string(page->json, "effort", effort_word(evidence->effort));
  key_readers(page, "read_by", subject);
  key_source(page, evidence->source);
}

/* ---- claims ---- */

static void key_concluders(struct page *page, size_t claim) {
  const struct network *network = page->network;
  json_key_list(page->json, "concluded_by");
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++) {
    const struct rule *rule = &page->model->rules[network->contributions[i].rule];
    json_object(page->json);
    json_key_string(page->json, "rule", rule->name);
    json_key_number(page->json, "strength", network->contributions[i].strength);
    json_key_string(page->json, "group", rule->group);
    steps_key_place(page->json, rule->at);
    json_end(page->json);
  }
  json_end(page->json);
}

static void key_drills(struct page *page, size_t cause) {
  struct entries drills = show_drills_for(page->json->out->arena, page->model, cause);
  json_key_object(page->json, "drills");
  for (size_t i = 0; i < drills.n; i++) {
    const struct claim *drill = &page->model->claims[drills.list[i].index];
    json_key_number(page->json, drill->name, show_effect(drill->drill, cause));
  }
  json_end(page->json);
}

static void add_objects(struct page *page, const struct drill *drill) {
  json_key_list(page->json, "objects");
  for (size_t i = 0; i < drill->n_objects; i++) {
    const struct drill_object *object = &drill->objects[i];
    json_object(page->json);
    json_key_string(page->json, "object", object->object);
    json_key_number(page->json, "ahead_cm", object->ahead);
    json_key_number(page->json, "out_cm", object->out);
    json_key_number(page->json, "height_cm", object->height);
    json_key_number(page->json, "length_cm", object->length);
    json_key_number(page->json, "angle_deg", object->angle);
    json_end(page->json);
  }
  json_end(page->json);
}

static void add_works(struct page *page, const struct drill *drill) {
  json_key_object(page->json, "works");
  json_key_string(page->json, "condition", drill->works != NULL ? drill->works->printed : NULL);
  json_key_count(page->json, "hits", drill->hits);
  json_key_count(page->json, "of", drill->of);
  key_words(page, "seen", &drill->seen);
  json_end(page->json);
  json_key_object(page->json, "drop");
  json_key_count(page->json, "shots", drill->drop_shots);
  key_words(page, "when", &drill->drop_when);
  json_end(page->json);
}

static void show_drill(struct page *page, const struct drill *drill) {
  json_key_string(page->json, "task", drill->external ? "external" : "body");
  json_key_object(page->json, "changes");
  for (size_t i = 0; i < drill->n_changes; i++)
    json_key_number(page->json, page->model->claims[drill->changes[i].cause].name,
                    drill->changes[i].effect);
  json_end(page->json);
  key_words(page, "aim", &drill->aim);
  key_words(page, "setup", &drill->setup);
  add_objects(page, drill);
  key_words(page, "dose", &drill->dose);
  add_works(page, drill);
  json_key_string(page->json, "needs", drill->needs != NULL ? drill->needs->printed : NULL);
  json_key_list(page->json, "cautions");
  for (size_t i = 0; i < drill->n_cautions; i++) {
    struct text text = wording_beside(page->json->out);
    wording_add_plain(&text, page->model, &drill->cautions[i], page->hand);
    json_string(page->json, text_done(&text));
  }
  json_end(page->json);
  key_words(page, "spoils", &drill->spoils);
  key_words(page, "fallback", &drill->fallback);
}

static void show_claim(struct page *page, struct subject subject) {
  const struct claim *claim = &page->model->claims[subject.index];
  key_words(page, "title", &claim->title);
  key_words(page, "about", &claim->about);
  key_words(page, "tell_apart", &claim->tell_apart);
  key_words(page, "red_flag", &claim->red_flag);
  if (claim->area != NULL) json_key_string(page->json, "area", claim->area);
  if (claim->kind == CLAIM_FINDING) json_key_bool(page->json, "good", claim->good);
  if (claim->drill != NULL) show_drill(page, claim->drill);
  key_concluders(page, subject.index);
  key_readers(page, "read_by", subject);
  if (claim->kind == CLAIM_CAUSE) key_drills(page, subject.index);
  key_source(page, claim->source);
}

/* ---- rules ---- */

static void key_roots(struct page *page, size_t rule) {
  const bool *roots = network_roots(page->json->out->arena, page->network);
  json_key_list(page->json, "rests_on");
  for (size_t i = 0; roots != NULL && i < page->model->n_evidence; i++)
    if (roots[rule * page->model->n_evidence + i])
      json_string(page->json, page->model->evidence[i].name);
  json_end(page->json);
}

static void show_rule(struct page *page, struct subject subject) {
  const struct rule *rule = &page->model->rules[subject.index];
  json_key_string(page->json, "when", rule->when->printed);
  json_key_object(page->json, "then");
  for (size_t i = 0; i < rule->n_then; i++)
    json_key_number(page->json, page->model->claims[rule->then[i].claim].name,
                    rule->then[i].strength);
  json_end(page->json);
  json_key_list(page->json, "removes");
  for (size_t i = 0; i < rule->n_removes; i++)
    json_string(page->json, page->model->claims[rule->removes[i]].name);
  json_end(page->json);
  key_words(page, "because", &rule->because);
  key_words(page, "learner", &rule->learner);
  json_key_string(page->json, "rule_kind", rule_kind_word(rule->kind));
  json_key_string(page->json, "group", rule->group);
  json_key_count(page->json, "layer", page->network->rules[subject.index].layer);
  key_roots(page, subject.index);
  key_source(page, rule->source);
}

/* ---- clubs, sources, cases ---- */

static void show_club(struct page *page, struct subject subject) {
  const struct club *club = &page->model->clubs[subject.index];
  json_key_string(page->json, "title", club->title);
  json_key_string(page->json, "family", club->family);
  json_key_number(page->json, "loft_deg", club->loft);
  json_key_number(page->json, "length_m", club->length);
  json_key_number(page->json, "lie_deg", club->lie);
  json_key_number(page->json, "head_mass_g", club->head_mass);
  key_source(page, club->source);
}

static void show_reference(struct page *page, struct subject subject) {
  const struct reference *reference = &page->model->references[subject.index];
  json_key_string(page->json, "title", reference->title);
  json_key_string(page->json, "status", reference->status);
  json_key_string(page->json, "about", reference->about);
  key_readers(page, "named_by", subject);
}

static void key_expected(struct page *page, const char *key, bool expects, size_t claim) {
  if (expects)
    json_key_string(page->json, key, claim != NO_INDEX ? page->model->claims[claim].name : "none");
}

static void show_case(struct page *page, struct subject subject) {
  const struct worked_case *worked = &page->model->cases[subject.index];
  json_key_string(page->json, "handed", worked->hand == HAND_LEFT ? "left" : "right");
  json_key_object(page->json, "evidence");
  for (size_t i = 0; i < worked->n_values; i++)
    json_key_string(page->json, page->model->evidence[worked->values[i].evidence].name,
                    worked->values[i].typed);
  json_end(page->json);
  key_expected(page, "leading", worked->expects_leading, worked->leading);
  key_expected(page, "drill", worked->expects_drill, worked->drill);
  json_key_string(page->json, "because", worked->because);
}

void show_json(struct json *json, const struct network *network, struct subject subject,
               enum hand hand) {
  struct page page = {json, network, network->model, hand};
  json_object(json);
  json_key_string(json, "kind", subject_kind_word(network->model, subject));
  json_key_string(json, "name", subject_name(network->model, subject));
  switch (subject.kind) {
  case SUBJECT_EVIDENCE: show_evidence(&page, subject); break;
  case SUBJECT_CLAIM: show_claim(&page, subject); break;
  case SUBJECT_RULE: show_rule(&page, subject); break;
  case SUBJECT_CLUB: show_club(&page, subject); break;
  case SUBJECT_REFERENCE: show_reference(&page, subject); break;
  case SUBJECT_CASE: show_case(&page, subject); break;
  }
  steps_key_place(json, subject_span(network->model, subject));
  json_end(json);
  if (arena_failed(json->out->arena)) json->out->failed = true;
}

void show_functions_json(struct json *json) {
  size_t n;
  const struct golf_function *functions = golf_function_table(&n);
  json_list(json);
  for (size_t i = 0; i < n; i++) {
    json_object(json);
    json_key_string(json, "name", functions[i].name);
    json_key_string(json, "arguments", functions[i].arguments);
    json_key_string(json, "about", functions[i].about);
    json_end(json);
  }
  json_end(json);
}
