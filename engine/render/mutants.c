/* The mutants of the rules: how many the cases notice, and those that none does. */
#include "render/coverage.h"
#include "render/edits.h"
#include "render/wording_parts.h"

static const char *when_noticed(enum notice notice) {
  static const char *const words[] = {
      "when something a case expects no longer holds",
      ("when a case's leading cause, drill, red flag, standing of a cause or belief of a\nfinding "
       "changes, expected or not"),
      "when any certainty in a case changes, at two decimals, expected or not"};
  return words[notice];
}

static void add_table(struct text *out, const struct mutants *mutants) {
  for (size_t i = 0; i < MUTATIONS; i++)
    coverage_row(out, mutation_words((enum mutation)i), mutants->noticed[i], mutants->of[i]);
  coverage_row(out, "all", mutants->n_noticed, mutants->n);
}

static void add_survivor(struct text *out, const struct network *network,
                         const struct mutant *mutant) {
  wording_span(out, edit_place(network, &mutant->edit));
  text_add(out, ": ");
  edit_subject(out, network, &mutant->edit);
  text_add(out, ": ");
  edit_old_text(out, network, &mutant->edit);
  text_add(out, "  ->  ");
  edit_new_text(out, network, &mutant->edit);
  if (mutant->n_touching == 0) text_add(out, "  (no case gets there)\n");
  else
    text_format(out, "  (tells in %zu case%s, but goes unnoticed)\n", mutant->n_touching,
                mutant->n_touching == 1 ? "" : "s");
}

void mutants_text(struct text *out, const struct network *network, const struct mutants *mutants,
                  enum notice notice) {
  text_format(out,
              "%zu small mistakes, each put into the rules by itself, and %zu worked cases.\n"
              "A mistake is noticed %s.\n",
              mutants->n, mutants->n_cases, when_noticed(notice));
  if (mutants->n_accepted > 0)
    text_format(out, "In %zu cases it is noticed also when the accepted answer changes.\n",
                mutants->n_accepted);
  if (mutants->n_left_out > 0)
    text_format(out, "Left out: %zu cases that fail as things are.\n", mutants->n_left_out);
  text_add_char(out, '\n');
  add_table(out, mutants);
  if (mutants->n_noticed < mutants->n) text_add(out, "\nNot noticed, so untested knowledge:\n");
  for (size_t i = 0; i < mutants->n; i++)
    if (mutants->list[i].noticed_by == NO_INDEX) add_survivor(out, network, &mutants->list[i]);
}

/* ---- JSON ---- */

static void counts_json(struct json *json, const char *of, size_t noticed, size_t all) {
  json_object(json);
  json_key_string(json, "of", of);
  json_key_count(json, "noticed", noticed);
  json_key_count(json, "all", all);
  json_key_count(json, "percent", coverage_percent(noticed, all));
  json_end(json);
}

static void survivor_json(struct json *json, const struct network *network,
                          const struct mutant *mutant) {
  struct span at = edit_place(network, &mutant->edit);
  struct text subject = wording_beside(json->out), old = wording_beside(json->out),
              new = wording_beside(json->out);
  edit_subject(&subject, network, &mutant->edit);
  edit_old_text(&old, network, &mutant->edit);
  edit_new_text(&new, network, &mutant->edit);
  json_object(json);
  json_key_string(json, "file", at.source ? at.source->name : NULL);
  json_key_count(json, "line", at.line);
  json_key_count(json, "column", at.column);
  json_key_string(json, "in", text_done(&subject));
  json_key_string(json, "mutation", mutation_words(mutant->mutation));
  json_key_string(json, "old", text_done(&old));
  json_key_string(json, "new", text_done(&new));
  json_key_count(json, "cases_touched", mutant->n_touching);
  json_end(json);
}

void mutants_json(struct json *json, const struct network *network, const struct mutants *mutants,
                  enum notice notice) {
  json_object(json);
  json_key_string(json, "schema", "whymiss-mutants");
  json_key_count(json, "schema_version", 1);
  json_key(json, "kb_digest");
  json_digest(json, network->digest);
  json_key_string(json, "noticed_by", notice_word(notice));
  json_key_count(json, "cases", mutants->n_cases);
  json_key_count(json, "cases_left_out", mutants->n_left_out);
  json_key_count(json, "answers_accepted", mutants->n_accepted);
  json_key_list(json, "counts");
  for (size_t i = 0; i < MUTATIONS; i++)
    counts_json(json, mutation_words((enum mutation)i), mutants->noticed[i], mutants->of[i]);
  counts_json(json, "all", mutants->n_noticed, mutants->n);
  json_end(json);
  json_key_list(json, "not_noticed");
  for (size_t i = 0; i < mutants->n; i++)
    if (mutants->list[i].noticed_by == NO_INDEX) survivor_json(json, network, &mutants->list[i]);
  json_end(json);
  json_end(json);
}
