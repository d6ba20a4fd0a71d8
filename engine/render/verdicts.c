#include "render/verdicts.h"

#include <string.h>

#include "render/why.h"
#include "render/wording.h"
#include "render/wording_parts.h"

static const char *name_or_none(const struct run *run, size_t claim) {
  return claim == NO_INDEX ? "none" : run->network->model->claims[claim].name;
}

static bool is_ranked(const struct expectation *expectation) {
  return expectation->kind == EXPECTED_LEADING || expectation->kind == EXPECTED_DRILL;
}

/* What to ask about a failed expectation: why the wanted one is not there; where nothing was wanted
 * or something is believed that should not be, why what is there is there. */
static size_t asked_claim(const struct expectation *expectation, bool *why) {
  *why = expectation->kind == EXPECTED_NOT_BELIEVED || expectation->claim == NO_INDEX;
  return expectation->kind != EXPECTED_NOT_BELIEVED && *why ? expectation->got : expectation->claim;
}

/* ---- Test Anything Protocol ---- */

void verdicts_tap_start(struct text *out, size_t n) {
  text_format(out, "TAP version 14\n1..%zu\n", n);
}

/* The words as a literal block of YAML, eight columns in. */
static void add_block(struct text *out, const struct text *words) {
  const char *line = text_done(words);
  while (line && *line) {
    size_t n = strcspn(line, "\n");
    if (n > 0) text_add(out, "        ");
    text_add_bytes(out, line, n);
    text_add_char(out, '\n');
    line += n + (line[n] == '\n');
  }
}

static void reason_text(struct text *words, const struct run *run, size_t claim, bool why) {
  struct subject subject = {SUBJECT_CLAIM, claim};
  (why ? why_text : whynot_text)(words, run, subject);
}

static void add_got(struct text *out, const struct run *run,
                    const struct expectation *expectation) {
  if (is_ranked(expectation)) {
    text_add(out, name_or_none(run, expectation->got));
    return;
  }
  text_add(out, "\"certainty ");
  wording_certainty(out, expectation->certainty);
  text_add(out, "\"");
}

static void add_quoted(struct text *out, const char *key, const char *words) {
  struct json json;
  text_format(out, "      %s: ", key);
  json_start(&json, out, false);
  json_string(&json, words);
  text_add_char(out, '\n');
}

static void add_changed(struct text *out, const struct verdict *verdict) {
  text_add(out, "    - expectation: the accepted answer\n");
  add_quoted(out, "expected", verdict->accepted ? verdict->accepted : "none is accepted yet");
  add_quoted(out, "got", verdict->answer);
}

static void add_failure(struct text *out, const struct run *run,
                        const struct expectation *expectation) {
  bool why;
  size_t claim = asked_claim(expectation, &why);
  struct text words = wording_beside(out);
  text_format(out, "    - expectation: %s\n      expected: %s\n      got: ",
              expected_word(expectation->kind), name_or_none(run, expectation->claim));
  add_got(out, run, expectation);
  text_add_char(out, '\n');
  if (claim == NO_INDEX) return;
  reason_text(&words, run, claim, why);
  text_format(out, "      %s: |\n", why ? "why" : "why_not");
  add_block(out, &words);
}

/* A double-quoted scalar of YAML is written as a string of JSON. */
static void add_place(struct text *out, struct span at) {
  struct text words = wording_beside(out);
  struct json json;
  wording_span(&words, at);
  text_add(out, "  at: ");
  json_start(&json, out, false);
  json_string(&json, text_done(&words));
  text_add_char(out, '\n');
}

void verdict_tap(struct text *out, const struct run *run, const struct verdict *verdict,
                 size_t number) {
  bool fails = verdict_fails(verdict);
  text_format(out, "%s %zu - %s%s\n", fails ? "not ok" : "ok", number, verdict->worked->name,
              !fails && verdict->n == 0 ? " # SKIP it expects nothing" : "");
  if (!fails) return;
  text_add(out, "  ---\n");
  add_place(out, verdict->worked->at);
  text_add(out, "  failed:\n");
  for (size_t i = 0; i < verdict->n; i++)
    if (!verdict->expectations[i].holds) add_failure(out, run, &verdict->expectations[i]);
  if (verdict->answer) add_changed(out, verdict);
  text_add(out, "  ...\n");
}

struct tally {
  size_t passed, failed, skipped;
};

static struct tally count(const struct verdict *verdicts, size_t n) {
  struct tally tally = {0};
  for (size_t i = 0; i < n; i++) {
    if (verdict_fails(&verdicts[i])) tally.failed++;
    else if (verdicts[i].n == 0) tally.skipped++;
    else tally.passed++;
  }
  return tally;
}

void verdicts_tap_end(struct text *out, const struct verdict *verdicts, size_t n) {
  struct tally tally = count(verdicts, n);
  text_format(out, "# %zu worked cases: %zu as expected, %zu not", n, tally.passed, tally.failed);
  if (tally.skipped > 0) text_format(out, ", %zu expect nothing", tally.skipped);
  text_add_char(out, '\n');
}

/* ---- JSON ---- */

static void expectation_json(struct json *json, const struct run *run,
                             const struct expectation *expectation) {
  bool why;
  size_t claim = asked_claim(expectation, &why);
  json_object(json);
  json_key_string(json, "expectation", expected_word(expectation->kind));
  json_key_string(json, "expected", name_or_none(run, expectation->claim));
  if (is_ranked(expectation)) json_key_string(json, "got", name_or_none(run, expectation->got));
  else json_key_number(json, "certainty", expectation->certainty);
  json_key_bool(json, "holds", expectation->holds);
  if (!expectation->holds && claim != NO_INDEX) {
    struct text words = wording_beside(json->out);
    reason_text(&words, run, claim, why);
    json_key_string(json, why ? "why" : "why_not", text_done(&words));
  }
  json_end(json);
}

void verdict_json(struct json *json, const struct run *run, const struct verdict *verdict) {
  json_object(json);
  json_key_string(json, "name", verdict->worked->name);
  json_key_string(json, "file", verdict->worked->at.source->name);
  json_key_count(json, "line", verdict->worked->at.line);
  json_key_bool(json, "passed", !verdict_fails(verdict));
  if (verdict->answer) {
    json_key_string(json, "accepted", verdict->accepted);
    json_key_string(json, "answer", verdict->answer);
  }
  json_key_list(json, "expectations");
  for (size_t i = 0; i < verdict->n; i++) expectation_json(json, run, &verdict->expectations[i]);
  json_end(json);
  json_end(json);
}

void verdicts_counts_json(struct json *json, const struct verdict *verdicts, size_t n) {
  struct tally tally = count(verdicts, n);
  json_key_object(json, "counts");
  json_key_count(json, "cases", n);
  json_key_count(json, "as_expected", tally.passed);
  json_key_count(json, "failed", tally.failed);
  json_key_count(json, "expect_nothing", tally.skipped);
  json_end(json);
}
