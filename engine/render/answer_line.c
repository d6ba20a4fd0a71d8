#include "render/answer_line.h"

#include "render/answer.h"

/* An id comes back as it was written: a number as that number, anything else as a text. */
static void add_id(struct json *json, const struct node *id) {
  double number;
  if (!id || id->kind != NODE_SCALAR) {
    json_key_string(json, "id", NULL);
  } else if (!id->quoted && number_read(id->text, id->n, &number) == id->n && id->n > 0) {
    json_key_number(json, "id", number);
  } else {
    json_key(json, "id");
    json_bytes(json, id->text, id->n);
  }
}

static void add_start(struct json *json, const struct node *id, size_t line) {
  json_object(json);
  add_id(json, id);
  json_key_count(json, "line", line);
}

static const char *name_of(const struct run *run, size_t claim) {
  return claim == NO_INDEX ? NULL : run->network->model->claims[claim].name;
}

static void add_causes(struct json *json, const struct run *run) {
  json_key_list(json, "causes");
  for (size_t i = 0; i < run->n_causes; i++) {
    const struct ranked_cause *cause = &run->causes[i];
    if (cause->certainty <= BELIEF_THRESHOLD) break;
    json_object(json);
    json_key_string(json, "name", name_of(run, cause->claim));
    json_key_number(json, "certainty", cause->certainty);
    json_key_string(json, "standing", standing_word(cause->standing));
    json_end(json);
  }
  json_end(json);
}

static void add_findings(struct json *json, const struct run *run) {
  json_key_object(json, "findings");
  for (size_t claim = 0; claim < run->network->model->first_cause; claim++)
    if (run->certainty[claim] > BELIEF_THRESHOLD)
      json_key_number(json, name_of(run, claim), run->certainty[claim]);
  json_end(json);
}

void answer_line(struct json *json, const struct run *run, const struct node *id, size_t line,
                 bool whole) {
  size_t leading = run_leading(run);
  add_start(json, id, line);
  json_key_string(json, "verdict", verdict_word(answer_verdict(run)));
  json_key_string(json, "leading", name_of(run, leading));
  json_key_string(json, "drill", name_of(run, run_drill(run)));
  json_key_string(json, "red_flag", name_of(run, run->red_flag));
  add_causes(json, run);
  add_findings(json, run);
  json_key_string(json, "next",
                  run->n_checks > 0 ? run->network->model->evidence[run->checks[0].evidence].name
                                    : NULL);
  json_key_count(json, "contradictions", run->n_contradictions);
  if (whole) {
    json_key(json, "diagnosis");
    answer_json(json, run);
  }
  json_end(json);
}

void error_line(struct json *json, const struct diags *diags, const struct node *id, size_t line) {
  add_start(json, id, line);
  json_key_list(json, "errors");
  for (size_t i = 0; i < diags->list.n; i++) {
    const struct diag *diag = &diags->list.at[i];
    if (diag->level != DIAG_ERROR) continue;
    json_object(json);
    json_key_string(json, "code", diag_word(diag->code));
    json_key_count(json, "column", diag->at.column);
    json_key_string(json, "message", diag->message);
    json_key_string(json, "hint", diag->hint);
    json_end(json);
  }
  json_end(json);
  json_end(json);
}
