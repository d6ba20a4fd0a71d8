#include "render/coverage.h"

#include <string.h>

#include "render/wording.h"
#include "render/wording_parts.h"

static void add_owner(struct text *out, const struct model *model, const struct owned_text *text) {
  static const char *const owners[] = {"because of rule", "words of", "red flag of", "question of"};
  const char *name = text->owner == TEXT_OF_RULE       ? model->rules[text->index].name
                     : text->owner == TEXT_OF_EVIDENCE ? model->evidence[text->index].name
                                                       : model->claims[text->index].name;
  text_format(out, "%s '%s'", owners[text->owner], name);
}

#define LABEL_WIDTH 24

/* What the i-th of a kind is called: "rule 'a'", "condition path below -2.5 deg". */
static void add_name(struct text *out, const struct coverage *coverage, enum covered kind,
                     size_t i) {
  const struct network *network = coverage->network;
  const struct model *model = network->model;
  switch (kind) {
  case COVERED_FIRED:
  case COVERED_FAILED: text_format(out, "rule '%s'", model->rules[i].name); break;
  case COVERED_HELD:
  case COVERED_NOT_HELD:
    text_format(out, "condition '%s'", network->tests[i].condition->printed);
    break;
  case COVERED_BELOW:
  case COVERED_ABOVE:
    text_add(out, "threshold ");
    text_number(out, coverage->thresholds[i].limit);
    text_format(out, " of '%s'", network->tests[coverage->thresholds[i].test].condition->printed);
    break;
  case COVERED_DRILL:
    text_format(out, "drill '%s'", model->claims[model->first_drill + i].name);
    break;
  case COVERED_LEADING:
  case COVERED_CANDIDATE:
    text_format(out, "cause '%s'", model->claims[model->first_cause + i].name);
    break;
  case COVERED_TEXT: add_owner(out, model, &coverage->texts[i]); break;
  case COVERED_KINDS: break;
  }
}

/* What never happened to it. */
static const char *never(enum covered kind) {
  static const char *const words[] = {"never fired",
                                      "never failed",
                                      "never held",
                                      "never known not to hold",
                                      "no reading below it",
                                      "no reading above it",
                                      "never first",
                                      "never leading",
                                      "never likely, possible or open",
                                      "never shown"};
  return words[kind];
}

/* ---- text ---- */

void coverage_row(struct text *out, const char *words, size_t n, size_t of) {
  size_t width = strlen(words);
  text_add(out, words);
  wording_indent(out, width < LABEL_WIDTH ? LABEL_WIDTH - width : 0);
  text_format(out, " %5zu of %5zu  %3u %%\n", n, of, coverage_percent(n, of));
}

static void add_gaps(struct text *out, const struct coverage *coverage, enum covered kind) {
  for (size_t i = 0; i < coverage->of[kind]; i++) {
    if (coverage->seen[kind][i]) continue;
    wording_span(out, coverage_place(coverage, kind, i));
    text_add(out, ": ");
    add_name(out, coverage, kind, i);
    text_format(out, ": %s\n", never(kind));
  }
}

void coverage_text(struct text *out, const struct coverage *coverage, size_t n_cases) {
  size_t n = 0, of = 0;
  text_format(out, "Reached by %zu worked cases:\n", n_cases);
  for (size_t kind = 0; kind < COVERED_KINDS; kind++) {
    size_t count = coverage_count(coverage, (enum covered)kind);
    coverage_row(out, covered_words((enum covered)kind), count, coverage->of[kind]);
    n += count;
    of += coverage->of[kind];
  }
  coverage_row(out, "all", n, of);
  if (n < of) text_add(out, "\nNot reached:\n");
  for (size_t kind = 0; kind < COVERED_KINDS; kind++) add_gaps(out, coverage, (enum covered)kind);
}

/* ---- JSON ---- */

static void gap_json(struct json *json, const struct coverage *coverage, enum covered kind,
                     size_t i) {
  struct span at = coverage_place(coverage, kind, i);
  struct text name = wording_beside(json->out);
  add_name(&name, coverage, kind, i);
  json_object(json);
  json_key_string(json, "what", text_done(&name));
  json_key_string(json, "file", at.source ? at.source->name : NULL);
  json_key_count(json, "line", at.line);
  json_key_count(json, "column", at.column);
  json_end(json);
}

void coverage_json(struct json *json, const struct coverage *coverage, size_t n_cases) {
  json_object(json);
  json_key_string(json, "schema", "whymiss-coverage");
  json_key_count(json, "schema_version", 1);
  json_key(json, "kb_digest");
  json_digest(json, coverage->network->digest);
  json_key_count(json, "cases", n_cases);
  json_key_list(json, "coverage");
  for (size_t kind = 0; kind < COVERED_KINDS; kind++) {
    size_t n = coverage_count(coverage, (enum covered)kind);
    json_object(json);
    json_key_string(json, "of", covered_words((enum covered)kind));
    json_key_count(json, "reached", n);
    json_key_count(json, "all", coverage->of[kind]);
    json_key_count(json, "percent", coverage_percent(n, coverage->of[kind]));
    json_key_list(json, "not_reached");
    for (size_t i = 0; i < coverage->of[kind]; i++)
      if (!coverage->seen[kind][i]) gap_json(json, coverage, (enum covered)kind, i);
    json_end(json);
    json_end(json);
  }
  json_end(json);
  json_end(json);
}
