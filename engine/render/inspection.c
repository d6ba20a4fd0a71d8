#include "render/inspection.h"

#include "render/wording.h"

const char *level_word(enum diag_level level) {
  static const char *const words[] = {"note", "warning", "error"};
  return words[level];
}

static void key_place(struct json *json, const char *key, struct span at) {
  if (!at.source) return;
  json_key(json, key);
  json_object(json);
  json_key_string(json, "file", at.source->name);
  json_key_count(json, "line", at.line);
  json_key_count(json, "column", at.column);
  json_key_count(json, "end_line", at.end_line);
  json_key_count(json, "end_column", at.end_column);
  json_end(json);
}

static void keys_of_diag(struct json *json, const struct diag *diag) {
  json_key_string(json, "code", diag_word(diag->code));
  json_key_string(json, "level", level_word(diag->level));
  json_key_string(json, "message", diag->message);
  if (diag->hint) json_key_string(json, "hint", diag->hint);
  key_place(json, "place", diag->at);
  json_key_list(json, "notes");
  for (size_t i = 0; i < diag->notes.n; i++) {
    json_object(json);
    json_key_string(json, "text", diag->notes.at[i].text);
    key_place(json, "place", diag->notes.at[i].at);
    json_end(json);
  }
  json_end(json);
}

static void finding_json(struct json *json, const struct check_finding *finding) {
  json_object(json);
  keys_of_diag(json, &finding->diag);
  if (finding->share > 0) {
    json_key(json, "share");
    json_number(json, finding->share);
  }
  if (finding->command) {
    json_key(json, "witness");
    json_object(json);
    json_key_string(json, "name", finding->name);
    json_key_string(json, "command", finding->command);
    json_end(json);
  }
  if (finding->accepted) {
    json_key(json, "accepted");
    json_object(json);
    json_key_string(json, "reason", finding->accepted->reason);
    key_place(json, "place", finding->accepted->at);
    json_end(json);
  }
  json_end(json);
}

static void counts_json(struct json *json, const struct inspection *inspection) {
  const struct check_report *report = inspection->report;
  json_key(json, "counts");
  json_object(json);
  json_key_count(json, "errors", inspection->diags ? inspection->diags->errors : 0);
  json_key_count(json, "warnings", report ? report->n_warnings : 0);
  json_key_count(json, "notes", report ? report->n_notes : 0);
  json_key_count(json, "accepted", report ? report->n_accepted : 0);
  json_key_count(json, "impacts", report ? report->n_impacts : 0);
  json_end(json);
}

void inspection_json(struct json *json, const struct inspection *inspection) {
  const struct check_report *report = inspection->report;
  const struct diags *diags = inspection->diags;
  json_object(json);
  json_key(json, "thorough");
  json_bool(json, report && report->thorough);
  counts_json(json, inspection);
  json_key_list(json, "findings");
  for (size_t i = 0; diags && i < diags->list.n; i++) {
    json_object(json);
    keys_of_diag(json, &diags->list.at[i]);
    json_end(json);
  }
  for (size_t i = 0; report && i < report->n; i++) finding_json(json, &report->findings[i]);
  json_end(json);
  json_end(json);
}

/* ---- one code explained ---- */

#define COLUMNS 79

/* {0}, {1}, ... stand for words that differ from finding to finding. */
static const char *general_wording(struct arena *arena, enum diag_code code) {
  struct text text;
  text_init(&text, arena);
  for (const char *c = diag_wording(code); *c; c++) {
    bool filled = c[0] == '{' && c[1] != '\0' && c[2] == '}';
    if (filled) text_add(&text, "...");
    else text_add_char(&text, *c);
    if (filled) c += 2;
  }
  const char *done = text_done(&text);
  return done ? done : "";
}

void explanation_text(struct text *out, enum diag_code code) {
  text_format(out, "%s: %s\n\n", diag_word(code), level_word(diag_level_of(code)));
  text_add(out, "  ");
  wording_wrap(out, general_wording(out->arena, code), 2, 2, COLUMNS);
  text_add(out, "\n\n");
  wording_wrap(out, diag_explanation(code), 0, 0, COLUMNS);
  text_add(out, "\n");
  if (diag_is_finding(code))
    text_format(out, "\nAn entry that means it so says why:\n\n  accept: {%s: the reason}\n",
                diag_word(code));
}
