/* SARIF: a log of one run, with the codes met as its rules and one result a finding. An acceptance
 * is a suppression in the source; the witness goes into the property bag. */
#include <string.h>

#include "render/inspection.h"

#define SARIF_SCHEMA                                                                               \
  "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json"

struct codes { /* the codes met, in the order of the table */
  bool met[DIAG_CODES];
  size_t index[DIAG_CODES];
};

static struct codes gather_codes(const struct inspection *inspection) {
  struct codes codes = {{false}, {0}};
  size_t n = 0;
  for (size_t i = 0; inspection->diags && i < inspection->diags->list.n; i++)
    codes.met[inspection->diags->list.at[i].code] = true;
  for (size_t i = 0; inspection->report && i < inspection->report->n; i++)
    codes.met[inspection->report->findings[i].diag.code] = true;
  for (size_t code = 0; code < DIAG_CODES; code++)
    if (codes.met[code]) codes.index[code] = n++;
  return codes;
}

static void key_message(struct json *json, const char *key, const char *text) {
  json_key(json, key);
  json_object(json);
  json_key_string(json, "text", text);
  json_end(json);
}

static void rules_sarif(struct json *json, const struct codes *codes) {
  json_key_list(json, "rules");
  for (int i = 0; i < DIAG_CODES; i++) {
    enum diag_code code = (enum diag_code)i;
    if (!codes->met[code]) continue;
    json_object(json);
    json_key_string(json, "id", diag_word(code));
    key_message(json, "shortDescription", diag_wording(code));
    key_message(json, "fullDescription", diag_explanation(code));
    json_key(json, "defaultConfiguration");
    json_object(json);
    json_key_string(json, "level", level_word(diag_level_of(code)));
    json_end(json);
    json_end(json);
  }
  json_end(json);
}

/* A path as a reference: all but letters, digits and a few signs escaped. */
static void key_uri(struct json *json, const char *path) {
  static const char digits[] = "0123456789ABCDEF";
  struct text uri;
  text_init(&uri, json->out->arena);
  for (const char *c = path; *c; c++) {
    bool plain = (*c >= 'a' && *c <= 'z') || (*c >= 'A' && *c <= 'Z') || (*c >= '0' && *c <= '9') ||
                 strchr("-._~/", *c);
    if (plain) text_add_char(&uri, *c);
    else
      text_format(&uri, "%%%c%c", digits[(unsigned char)*c >> 4], digits[(unsigned char)*c & 15]);
  }
  json_key_string(json, "uri", text_done(&uri) ? text_done(&uri) : "");
}

static void keys_of_place(struct json *json, struct span at) {
  json_key(json, "physicalLocation");
  json_object(json);
  json_key(json, "artifactLocation");
  json_object(json);
  key_uri(json, at.source->name);
  json_end(json);
  if (at.line > 0) {
    json_key(json, "region");
    json_object(json);
    json_key_count(json, "startLine", at.line);
    json_key_count(json, "startColumn", at.column);
    json_key_count(json, "endLine", at.end_line);
    json_key_count(json, "endColumn", at.end_column);
    json_end(json);
  }
  json_end(json);
}

static void related_sarif(struct json *json, const struct diag *diag) {
  size_t n = 0;
  json_key_list(json, "relatedLocations");
  for (size_t i = 0; i < diag->notes.n; i++) {
    if (!diag->notes.at[i].at.source) continue;
    json_object(json);
    json_key_count(json, "id", n++);
    keys_of_place(json, diag->notes.at[i].at);
    key_message(json, "message", diag->notes.at[i].text);
    json_end(json);
  }
  json_end(json);
}

static const char *whole_message(struct json *json, const struct diag *diag) {
  struct text text;
  text_init(&text, json->out->arena);
  text_add(&text, diag->message);
  if (diag->hint) text_format(&text, "; %s", diag->hint);
  return text_done(&text) ? text_done(&text) : "";
}

static void keys_of_result(struct json *json, const struct codes *codes, const struct diag *diag) {
  json_key_string(json, "ruleId", diag_word(diag->code));
  json_key_count(json, "ruleIndex", codes->index[diag->code]);
  json_key_string(json, "level", level_word(diag->level));
  key_message(json, "message", whole_message(json, diag));
  json_key_list(json, "locations");
  if (diag->at.source) {
    json_object(json);
    keys_of_place(json, diag->at);
    json_end(json);
  }
  json_end(json);
  related_sarif(json, diag);
}

static void finding_sarif(struct json *json, const struct codes *codes,
                          const struct check_finding *finding) {
  json_object(json);
  keys_of_result(json, codes, &finding->diag);
  json_key_list(json, "suppressions");
  if (finding->accepted) {
    json_object(json);
    json_key_string(json, "kind", "inSource");
    json_key_string(json, "status", "accepted");
    json_key_string(json, "justification", finding->accepted->reason);
    json_end(json);
  }
  json_end(json);
  json_key(json, "properties");
  json_object(json);
  if (finding->command) json_key_string(json, "witness", finding->command);
  if (finding->share > 0) {
    json_key(json, "share");
    json_number(json, finding->share);
  }
  json_end(json);
  json_end(json);
}

static void results_sarif(struct json *json, const struct codes *codes,
                          const struct inspection *inspection) {
  json_key_list(json, "results");
  for (size_t i = 0; inspection->diags && i < inspection->diags->list.n; i++) {
    json_object(json);
    keys_of_result(json, codes, &inspection->diags->list.at[i]);
    json_end(json);
  }
  for (size_t i = 0; inspection->report && i < inspection->report->n; i++)
    finding_sarif(json, codes, &inspection->report->findings[i]);
  json_end(json);
}

void inspection_sarif(struct json *json, const struct inspection *inspection) {
  struct codes codes = gather_codes(inspection);
  json_object(json);
  json_key_string(json, "$schema", SARIF_SCHEMA);
  json_key_string(json, "version", "2.1.0");
  json_key_list(json, "runs");
  json_object(json);
  json_key(json, "tool");
  json_object(json);
  json_key(json, "driver");
  json_object(json);
  json_key_string(json, "name", "whymiss");
  json_key_string(json, "semanticVersion", inspection->version);
  rules_sarif(json, &codes);
  json_end(json);
  json_end(json);
  json_key_string(json, "columnKind", "unicodeCodePoints");
  results_sarif(json, &codes, inspection);
  json_end(json);
  json_end(json);
  json_end(json);
}
