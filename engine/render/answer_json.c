/* The diagnosis as JSON: docs/schemas/diagnosis.schema.json says what each member means. Numbers
 * are the player's: a left-handed case has been mirrored back. Members are always there; what does
 * not apply is null or an empty list. */
#include <string.h>

#include "model/formula.h"
#include "render/answer.h"
#include "render/said.h"
#include "render/wording.h"

/* ---- small parts ---- */

static void key_text(struct json *json, const char *key, const struct text *text) {
  const char *string = text_done(text);
  if (!string) json->out->failed = true;
  json_key_string(json, key, string);
}

/* The text, or null where none is given. */
static void key_words(struct json *json, const char *key, const struct run *run,
                      const struct wording *wording) {
  struct text text;
  text_init(&text, json->out->arena);
  wording_add(&text, run, wording);
  if (wording->n > 0) key_text(json, key, &text);
  else json_key_string(json, key, NULL);
}

static void key_condition(struct json *json, const char *key, const struct run *run,
                          const struct condition *condition) {
  struct text text;
  text_init(&text, json->out->arena);
  if (condition) wording_condition(&text, run->network->model, condition, run->hand);
  if (condition) key_text(json, key, &text);
  else json_key_string(json, key, NULL);
}

static void key_claim(struct json *json, const char *key, const struct run *run, size_t claim) {
  json_key_string(json, key, claim == NO_INDEX ? NULL : run->network->model->claims[claim].name);
}

/* ---- readings ---- */

static const char *state_of_reading(enum reading_state state) {
  return state == READING_GIVEN ? "given" : state == READING_DERIVED ? "derived" : "unknown";
}

static const char *kind_of_evidence(enum evidence_kind kind) {
  switch (kind) {
  case EVIDENCE_NUMBER: return "number";
  case EVIDENCE_CHOICE: return "choice";
  case EVIDENCE_YES_NO: return "yes_no";
  case EVIDENCE_TEXT: return "text";
  case EVIDENCE_CLUB: break;
  }
  return "club";
}

static void add_number(struct json *json, const struct run *run, size_t evidence) {
  json_key_number(json, "number", reading_number(run, evidence));
  json_key_number(json, "error", run->readings[evidence].error);
  json_key_string(json, "unit", run->network->model->evidence[evidence].unit->name);
}

static void add_choice(struct json *json, const struct run *run, size_t evidence) {
  const struct evidence *about = &run->network->model->evidence[evidence];
  size_t choice = reading_choice(run, evidence);
  json_key_string(json, "choice", choice < about->n_choices ? about->choices[choice].name : NULL);
  json_key_number(json, "sure", run->readings[evidence].sure);
}

static void add_reading(struct json *json, const struct run *run, size_t evidence) {
  const struct evidence *about = &run->network->model->evidence[evidence];
  const struct reading *reading = &run->readings[evidence];
  struct text shown;
  text_init(&shown, json->out->arena);
  wording_reading(&shown, run, evidence);
  json_object(json);
  json_key_string(json, "name", about->name);
  json_key_string(json, "title", about->title);
  json_key_string(json, "kind", kind_of_evidence(about->kind));
  json_key_string(json, "state", state_of_reading(reading->state));
  if (about->kind == EVIDENCE_NUMBER) add_number(json, run, evidence);
  else if (about->kind == EVIDENCE_TEXT) json_key_string(json, "text", reading->text);
  else add_choice(json, run, evidence);
  key_text(json, "shown", &shown);
  json_key_string(json, "typed", reading->given ? reading->given->typed : NULL);
  json_key_string(json, "formula", reading->formula ? reading->formula->text : NULL);
  json_end(json);
}

static void add_readings(struct json *json, const struct run *run) {
  json_key_list(json, "readings");
  for (size_t i = 0; i < run->network->model->n_evidence; i++)
    if (run->readings[i].state != READING_UNKNOWN) add_reading(json, run, i);
  json_end(json);
}

static void add_contradictions(struct json *json, const struct run *run) {
  json_key_list(json, "contradictions");
  for (size_t i = 0; i < run->n_contradictions; i++) {
    const struct contradiction *odd = &run->contradictions[i];
    const struct evidence *evidence = &run->network->model->evidence[odd->evidence];
    double sign = run->hand == HAND_LEFT && evidence->mirrored ? -1 : 1;
    json_object(json);
    json_key_string(json, "evidence", evidence->name);
    json_key_string(json, "formula", odd->formula->text);
    json_key_number(json, "given", sign * odd->given);
    json_key_number(json, "computed", sign * odd->computed);
    json_key_number(json, "error", odd->error);
    json_key_bool(json, "beyond_range", odd->beyond_range);
    json_key_string(json, "told", odd->told);
    json_end(json);
  }
  json_end(json);
}

/* ---- findings and causes ---- */

static void add_findings(struct json *json, const struct run *run) {
  static const char *const states[] = {
      [CLAIM_SILENT] = "silent", [CLAIM_KNOWN] = "known", [CLAIM_UNKNOWN] = "unknown"};
  const struct model *model = run->network->model;
  json_key_list(json, "findings");
  for (size_t claim = 0; claim < model->first_cause; claim++) {
    json_object(json);
    key_claim(json, "name", run, claim);
    key_words(json, "title", run, &model->claims[claim].title);
    json_key_string(json, "state", states[run->claims[claim]]);
    json_key_number(json, "certainty", run->certainty[claim]);
    json_key_bool(json, "good", model->claims[claim].good);
    json_end(json);
  }
  json_end(json);
}

static void add_cause(struct json *json, const struct run *run, const struct ranked_cause *cause) {
  const struct claim *claim = &run->network->model->claims[cause->claim];
  json_object(json);
  json_key_string(json, "name", claim->name);
  key_words(json, "title", run, &claim->title);
  json_key_string(json, "area", claim->area);
  json_key_number(json, "certainty", cause->certainty);
  json_key_string(json, "standing", standing_word(cause->standing));
  json_end(json);
}

static void add_causes(struct json *json, const struct run *run) {
  json_key_list(json, "causes");
  for (size_t i = 0; i < run->n_causes; i++) add_cause(json, run, &run->causes[i]);
  json_end(json);
}

/* ---- drills ---- */

static void add_shares(struct json *json, const struct run *run, const struct ranked_drill *drill) {
  json_key_list(json, "shares");
  for (size_t i = 0; i < drill->n_shares; i++) {
    json_object(json);
    key_claim(json, "cause", run, drill->shares[i].cause);
    json_key_number(json, "certainty", drill->shares[i].certainty);
    json_key_number(json, "effect", drill->shares[i].effect);
    json_key_number(json, "part", drill->shares[i].part);
    json_end(json);
  }
  json_end(json);
}

static void add_objects(struct json *json, const struct drill *drill) {
  json_key_list(json, "objects");
  for (size_t i = 0; i < drill->n_objects; i++) {
    const struct drill_object *object = &drill->objects[i];
    json_object(json);
    json_key_string(json, "object", object->object);
    json_key_number(json, "ahead_cm", object->ahead);
    json_key_number(json, "out_cm", object->out);
    json_key_number(json, "height_cm", object->height);
    json_key_number(json, "length_cm", object->length);
    json_key_number(json, "angle_deg", object->angle);
    json_end(json);
  }
  json_end(json);
}

static void add_measure(struct json *json, const struct run *run, const struct drill *drill) {
  json_key_object(json, "works");
  key_condition(json, "measure", run, drill->works);
  key_words(json, "seen", run, &drill->seen);
  json_key_count(json, "hits", drill->hits);
  json_key_count(json, "of", drill->of);
  json_end(json);
  json_key_object(json, "drop");
  json_key_count(json, "shots", drill->drop_shots);
  key_words(json, "when", run, &drill->drop_when);
  json_end(json);
}

static void add_cautions(struct json *json, const struct run *run, const struct drill *drill) {
  json_key_list(json, "cautions");
  for (size_t i = 0; i < drill->n_cautions; i++) {
    struct text text;
    text_init(&text, json->out->arena);
    wording_add(&text, run, &drill->cautions[i]);
    json_string(json, text_done(&text));
  }
  json_end(json);
}

static void add_drill_words(struct json *json, const struct run *run, const struct drill *drill) {
  json_key_string(json, "task", drill->external ? "external" : "body");
  key_words(json, "aim", run, &drill->aim);
  key_words(json, "setup", run, &drill->setup);
  add_objects(json, drill);
  key_words(json, "dose", run, &drill->dose);
  add_measure(json, run, drill);
  add_cautions(json, run, drill);
  key_words(json, "spoils", run, &drill->spoils);
  key_words(json, "fallback", run, &drill->fallback);
}

static void add_removal(struct json *json, const struct run *run,
                        const struct ranked_drill *drill) {
  const struct model *model = run->network->model;
  bool by_rule = drill->removal == REMOVAL_RULE;
  const struct wording nothing = {.n = 0};
  json_key_object(json, "removed");
  json_key_string(json, "by", by_rule ? "rule" : "needs");
  json_key_string(json, "rule", by_rule ? model->rules[drill->removed_by].name : NULL);
  key_words(json, "because", run, by_rule ? &model->rules[drill->removed_by].because : &nothing);
  key_condition(json, "needs", run, by_rule ? NULL : model->claims[drill->claim].drill->needs);
  json_end(json);
}

static void add_drill(struct json *json, const struct run *run, const struct ranked_drill *drill) {
  const struct claim *claim = &run->network->model->claims[drill->claim];
  json_object(json);
  json_key_string(json, "name", claim->name);
  key_words(json, "title", run, &claim->title);
  json_key_number(json, "value", drill->value);
  json_key_number(json, "from_causes", drill->from_causes);
  json_key_number(json, "advice", drill->advice);
  add_shares(json, run, drill);
  if (drill->removal == REMOVAL_NONE) add_drill_words(json, run, claim->drill);
  else add_removal(json, run, drill);
  json_end(json);
}

static void add_drills(struct json *json, const struct run *run, const char *key, bool removed) {
  json_key_list(json, key);
  for (size_t i = 0; i < run->n_drills; i++)
    if ((run->drills[i].removal != REMOVAL_NONE) == removed) add_drill(json, run, &run->drills[i]);
  json_end(json);
}

/* ---- the rest ---- */

void json_checks(struct json *json, const struct run *run, const struct next_check *checks,
                 size_t n) {
  json_key_list(json, "checks");
  for (size_t i = 0; i < n; i++) {
    const struct evidence *evidence = &run->network->model->evidence[checks[i].evidence];
    json_object(json);
    json_key_string(json, "evidence", evidence->name);
    key_words(json, "ask", run, &evidence->ask);
    json_key_string(json, "effort", effort_word(evidence->effort));
    json_key_number(json, "gain", checks[i].gain);
    json_key_count(json, "rules", checks[i].n_rules);
    json_end(json);
  }
  json_end(json);
}

static void add_red_flag(struct json *json, const struct run *run) {
  if (run->red_flag == NO_INDEX) {
    json_key_string(json, "red_flag", NULL);
    return;
  }
  json_key_object(json, "red_flag");
  key_claim(json, "finding", run, run->red_flag);
  key_words(json, "text", run, &run->network->model->claims[run->red_flag].red_flag);
  json_end(json);
}

void answer_json(struct json *json, const struct run *run) {
  json_object(json);
  json_key_string(json, "hand", run->hand == HAND_LEFT ? "left" : "right");
  json_key_count(json, "shots", run->shots);
  json_key_string(json, "verdict", verdict_word(answer_verdict(run)));
  key_claim(json, "leading", run, run_leading(run));
  key_claim(json, "drill", run, run_drill(run));
  add_red_flag(json, run);
  said_json(json, run);
  add_readings(json, run);
  add_contradictions(json, run);
  add_findings(json, run);
  add_causes(json, run);
  add_drills(json, run, "drills", false);
  add_drills(json, run, "removed", true);
  json_checks(json, run, run->checks, run->n_checks);
  json_end(json);
}
