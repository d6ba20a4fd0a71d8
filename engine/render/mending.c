#include "render/mending.h"

#include <string.h>

#include "render/edits.h"
#include "render/wording_parts.h"

static const char *kind_word(enum edit_kind kind) {
  static const char *const words[] = {
      [EDIT_THRESHOLD] = "another threshold", [EDIT_FLIP] = "a condition turned round",
      [EDIT_DROP] = "a clause dropped",       [EDIT_ADD] = "a clause added",
      [EDIT_STRENGTH] = "another strength",   [EDIT_RULE] = "a new rule"};
  return words[kind];
}

static const char *name_or_none(const struct network *network, size_t claim) {
  return claim == NO_INDEX ? "none" : network->model->claims[claim].name;
}

static bool is_ranked(const struct expectation *expectation) {
  return expectation->kind == EXPECTED_LEADING || expectation->kind == EXPECTED_DRILL;
}

/* ---- text ---- */

static void add_expectations(struct text *out, const struct network *network,
                             const struct verdict *verdict) {
  for (size_t i = 0; i < verdict->n; i++) {
    const struct expectation *expectation = &verdict->expectations[i];
    if (expectation->holds) continue;
    text_format(out, "  %s: expects %s", expected_word(expectation->kind),
                name_or_none(network, expectation->claim));
    if (is_ranked(expectation))
      text_format(out, ", gets %s\n", name_or_none(network, expectation->got));
    else {
      text_add(out, ", whose certainty is ");
      wording_certainty(out, expectation->certainty);
      text_add_char(out, '\n');
    }
  }
}

/* Lines after the first stand as deep as the first. */
static void add_lines(struct text *out, const char *label, const struct text *words) {
  const char *line = text_done(words);
  text_format(out, "     %s  ", label);
  while (line && *line) {
    size_t n = strcspn(line, "\n");
    text_add_bytes(out, line, n);
    text_add_char(out, '\n');
    line += n + (line[n] == '\n');
    if (*line) wording_indent(out, 10);
  }
}

static void add_edit(struct text *out, const struct network *network, const struct mending *mending,
                     size_t i) {
  const struct mend_edit *edit = &mending->edits[i];
  struct text old = wording_beside(out), new = wording_beside(out);
  text_format(out, "\n%2zu.  ", i + 1);
  wording_span(out, edit_place(network, &edit->edit));
  text_add(out, ": ");
  edit_subject(out, network, &edit->edit);
  if (edit->edit.kind != EDIT_RULE) text_format(out, ": %s", kind_word(edit->edit.kind));
  text_add_char(out, '\n');
  edit_old_text(&old, network, &edit->edit);
  edit_new_text(&new, network, &edit->edit);
  if (old.n > 0) add_lines(out, "old", &old);
  add_lines(out, "new", &new);
  text_format(out, "     breaks %zu of %zu other cases", edit->n_broken, mending->n_others);
  if (edit->n_mended > 0) text_format(out, ", sets %zu more right", edit->n_mended);
  text_format(out, "; tells in %zu\n", edit->n_touched);
}

void mending_text(struct text *out, const struct network *network, const struct mending *mending) {
  text_format(out, "case %s", mending->before.worked->name);
  if (mending->before.n_failed == 0) {
    text_add(out, " comes out as it expects; there is nothing to mend.\n");
    return;
  }
  text_add(out, " does not come out as it expects:\n");
  add_expectations(out, network, &mending->before);
  text_format(out, "\n%zu edits tried, %zu of them set it right%s\n", mending->n_tried,
              mending->n_right,
              mending->n == 0 ? "." : "; those that break least. Nothing is written.");
  for (size_t i = 0; i < mending->n; i++) add_edit(out, network, mending, i);
}

/* ---- JSON ---- */

static void expectation_json(struct json *json, const struct network *network,
                             const struct expectation *expectation) {
  json_object(json);
  json_key_string(json, "expectation", expected_word(expectation->kind));
  json_key_string(json, "expected", name_or_none(network, expectation->claim));
  if (is_ranked(expectation)) json_key_string(json, "got", name_or_none(network, expectation->got));
  else json_key_number(json, "certainty", expectation->certainty);
  json_end(json);
}

static void edit_json(struct json *json, const struct network *network,
                      const struct mend_edit *edit) {
  struct span at = edit_place(network, &edit->edit);
  struct text subject = wording_beside(json->out), old = wording_beside(json->out),
              new = wording_beside(json->out);
  edit_subject(&subject, network, &edit->edit);
  edit_old_text(&old, network, &edit->edit);
  edit_new_text(&new, network, &edit->edit);
  json_object(json);
  json_key_string(json, "file", at.source ? at.source->name : NULL);
  json_key_count(json, "line", at.line);
  json_key_count(json, "column", at.column);
  json_key_string(json, "in", text_done(&subject));
  json_key_string(json, "edit", kind_word(edit->edit.kind));
  json_key_string(json, "old", old.n > 0 ? text_done(&old) : NULL);
  json_key_string(json, "new", text_done(&new));
  json_key_number(json, "size", edit->size);
  json_key_count(json, "cases_touched", edit->n_touched);
  json_key_count(json, "cases_broken", edit->n_broken);
  json_key_count(json, "cases_set_right", edit->n_mended);
  json_end(json);
}

void mending_json(struct json *json, const struct network *network, const struct mending *mending) {
  json_object(json);
  json_key_string(json, "schema", "whymiss-mending");
  json_key_count(json, "schema_version", 1);
  json_key(json, "kb_digest");
  json_digest(json, network->digest);
  json_key_string(json, "case", mending->before.worked->name);
  json_key_list(json, "failed");
  for (size_t i = 0; i < mending->before.n; i++)
    if (!mending->before.expectations[i].holds)
      expectation_json(json, network, &mending->before.expectations[i]);
  json_end(json);
  json_key_count(json, "edits_tried", mending->n_tried);
  json_key_count(json, "edits_right", mending->n_right);
  json_key_count(json, "other_cases", mending->n_others);
  json_key_list(json, "edits");
  for (size_t i = 0; i < mending->n; i++) edit_json(json, network, &mending->edits[i]);
  json_end(json);
  json_end(json);
}
