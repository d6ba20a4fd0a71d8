#include "render/comparison.h"

#include "render/wording_parts.h"
#include "workshop/coverage.h"

/* Rows of a list shown as text; JSON has all. */
#define ROWS_SHOWN 12

static const char *name_or_none(const char *name) {
  return name ? name : "none";
}

static const char *const change_words[] = {"same", "other_answer", "better", "worse"};

/* ---- text: the bases ---- */

static void add_base(struct text *out, const char *label, const struct network *network) {
  char digits[20];
  for (int i = 0; i < 16; i++) digits[i] = "0123456789abcdef"[network->digest >> (60 - 4 * i) & 15];
  digits[16] = '\0';
  text_format(out, "%s  %zu rules, %zu worked cases, digest %s\n", label, network->model->n_rules,
              network->model->n_cases, digits);
}

/* ---- text: cases ---- */

static void add_answer_change(struct text *out, const struct compared_case *compared) {
  const struct outcome *old = &compared->outcomes[OLD_SIDE], *new = &compared->outcomes[NEW_SIDE];
  if (compared->differs.leading)
    text_format(out, "    leading %s -> %s\n", name_or_none(old->leading),
                name_or_none(new->leading));
  else text_format(out, "    leading %s\n", name_or_none(new->leading));
  if (compared->differs.drill)
    text_format(out, "    drill %s -> %s\n", name_or_none(old->drill), name_or_none(new->drill));
  if (compared->differs.standing) text_add(out, "    some cause stands elsewhere\n");
  if (compared->has_failing)
    text_format(out, "    %s: %s %s\n",
                compared->change == CASE_WORSE ? "no longer as expected" : "was not as expected",
                expected_word(compared->failing.kind), name_or_none(compared->failing_claim));
}

static void add_cases_of(struct text *out, const struct comparison *comparison,
                         enum case_change change, const char *label) {
  for (size_t i = 0; i < comparison->n_cases; i++) {
    const struct compared_case *compared = &comparison->cases[i];
    if (compared->change != change) continue;
    wording_span(out, compared->worked->at);
    text_format(out, ": %s: %s", label, compared->worked->name);
    if (!compared->on[OLD_SIDE]) text_add(out, " (a new case)");
    if (!compared->on[NEW_SIDE]) text_add(out, " (a case that is gone)");
    text_add_char(out, '\n');
    add_answer_change(out, compared);
  }
}

static void add_cases(struct text *out, const struct comparison *comparison) {
  const size_t *n = comparison->n_of_change;
  text_format(out,
              "\n%zu worked cases: %zu worse, %zu better, %zu with another answer that is no less "
              "expected,\n%zu the same\n",
              comparison->n_cases, n[CASE_WORSE], n[CASE_BETTER], n[CASE_OTHER_ANSWER],
              n[CASE_SAME]);
  add_cases_of(out, comparison, CASE_WORSE, "worse");
  add_cases_of(out, comparison, CASE_BETTER, "better");
  add_cases_of(out, comparison, CASE_OTHER_ANSWER, "other answer");
}

/* ---- text: drawn impacts ---- */

static void add_share(struct text *out, const char *words, size_t n, size_t of) {
  text_format(out, "  %s %zu (%u %%)\n", words, n, coverage_percent(n, of));
}

static void add_more(struct text *out, size_t n) {
  if (n > ROWS_SHOWN) text_format(out, "         and %zu more: --json lists all\n", n - ROWS_SHOWN);
}

static void add_count(struct text *out, size_t n) {
  struct text digits = wording_beside(out);
  text_format(&digits, "%zu", n);
  wording_indent(out, digits.n < 7 ? 7 - digits.n : 0);
  text_format(out, "%zu  ", n);
}

static void add_moves(struct text *out, const char *heading, const struct move *moves, size_t n) {
  if (n > 0) text_format(out, "\n%s\n", heading);
  for (size_t i = 0; i < n && i < ROWS_SHOWN; i++) {
    add_count(out, moves[i].n);
    text_format(out, "%s -> %s\n", name_or_none(moves[i].from), name_or_none(moves[i].to));
  }
  add_more(out, n);
}

static void add_standings(struct text *out, const struct comparison *comparison) {
  if (comparison->n_standings > 0) text_add(out, "\nStanding of a cause\n");
  for (size_t i = 0; i < comparison->n_standings && i < ROWS_SHOWN; i++) {
    const struct standing_moves *moves = &comparison->standings[i];
    add_count(out, moves->n_higher + moves->n_lower);
    text_format(out, "%s: %zu higher, %zu lower\n", moves->cause, moves->n_higher, moves->n_lower);
  }
  add_more(out, comparison->n_standings);
}

static bool region_changed(const struct region_changes *region) {
  return region->n_leading + region->n_drill + region->n_standing > 0;
}

static void add_region(struct text *out, const struct region_changes *changes) {
  add_count(out, changes->n_leading);
  text_format(out, "of %zu  %s, %s, %s", changes->n, region_path_words(changes->region),
              region_face_words(changes->region), region_strike_words(changes->region));
  text_format(out, " (drill %zu, standing %zu)\n", changes->n_drill, changes->n_standing);
}

static void add_regions(struct text *out, const struct comparison *comparison) {
  size_t n = 0;
  while (n < REGIONS && region_changed(&comparison->regions[n])) n++;
  if (n > 0) text_add(out, "\nLeading cause by region (right-handed)\n");
  for (size_t i = 0; i < n && i < ROWS_SHOWN; i++) add_region(out, &comparison->regions[i]);
  add_more(out, n);
}

static void add_samples(struct text *out, const struct comparison *comparison) {
  size_t n = comparison->n_samples;
  if (n == 0) return;
  text_format(out, "\n%zu plausible impacts, drawn with seed %zu; changed in so many:\n", n,
              (size_t)comparison->seed);
  add_share(out, "leading cause ", comparison->n_leading, n);
  add_share(out, "drill         ", comparison->n_drill, n);
  add_share(out, "a standing    ", comparison->n_standing, n);
  add_share(out, "certainty only", comparison->n_certainty, n);
  add_moves(out, "Leading cause", comparison->leading_moves, comparison->n_leading_moves);
  add_moves(out, "Drill", comparison->drill_moves, comparison->n_drill_moves);
  add_standings(out, comparison);
  add_regions(out, comparison);
}

void comparison_text(struct text *out, const struct comparison *comparison) {
  add_base(out, "old", comparison->networks[OLD_SIDE]);
  add_base(out, "new", comparison->networks[NEW_SIDE]);
  if (comparison->networks[OLD_SIDE]->digest == comparison->networks[NEW_SIDE]->digest)
    text_add(out, "Both say the same.\n");
  add_cases(out, comparison);
  add_samples(out, comparison);
}

/* ---- JSON ---- */

static void outcome_json(struct json *json, const char *key, const struct compared_case *compared,
                         enum side side) {
  json_key_object(json, key);
  json_key_string(json, "leading", compared->outcomes[side].leading);
  json_key_string(json, "drill", compared->outcomes[side].drill);
  json_key_bool(json, "as_expected", compared->passes[side]);
  json_key_bool(json, "has_case", compared->on[side]);
  json_end(json);
}

static void case_json(struct json *json, const struct compared_case *compared) {
  json_object(json);
  json_key_string(json, "name", compared->worked->name);
  json_key_string(json, "file", compared->worked->at.source->name);
  json_key_count(json, "line", compared->worked->at.line);
  json_key_string(json, "change", change_words[compared->change]);
  json_key_bool(json, "standing_changed", compared->differs.standing);
  json_key_bool(json, "certainty_changed", compared->differs.certainty);
  outcome_json(json, "old", compared, OLD_SIDE);
  outcome_json(json, "new", compared, NEW_SIDE);
  json_end(json);
}

static void moves_json(struct json *json, const char *key, const struct move *moves, size_t n) {
  json_key_list(json, key);
  for (size_t i = 0; i < n; i++) {
    json_object(json);
    json_key_string(json, "old", moves[i].from);
    json_key_string(json, "new", moves[i].to);
    json_key_count(json, "times", moves[i].n);
    json_end(json);
  }
  json_end(json);
}

static void standings_json(struct json *json, const struct comparison *comparison) {
  json_key_list(json, "standings");
  for (size_t i = 0; i < comparison->n_standings; i++) {
    json_object(json);
    json_key_string(json, "cause", comparison->standings[i].cause);
    json_key_count(json, "higher", comparison->standings[i].n_higher);
    json_key_count(json, "lower", comparison->standings[i].n_lower);
    json_end(json);
  }
  json_end(json);
}

static void regions_json(struct json *json, const struct comparison *comparison) {
  json_key_list(json, "regions");
  for (size_t i = 0; comparison->n_samples > 0 && i < REGIONS; i++) {
    const struct region_changes *changes = &comparison->regions[i];
    json_object(json);
    json_key_string(json, "path", region_path_words(changes->region));
    json_key_string(json, "face", region_face_words(changes->region));
    json_key_string(json, "strike", region_strike_words(changes->region));
    json_key_count(json, "impacts", changes->n);
    json_key_count(json, "leading", changes->n_leading);
    json_key_count(json, "drill", changes->n_drill);
    json_key_count(json, "standing", changes->n_standing);
    json_end(json);
  }
  json_end(json);
}

static void samples_json(struct json *json, const struct comparison *comparison) {
  json_key_object(json, "impacts");
  json_key_count(json, "drawn", comparison->n_samples);
  json_key_count(json, "seed", (size_t)comparison->seed);
  json_key_count(json, "leading", comparison->n_leading);
  json_key_count(json, "drill", comparison->n_drill);
  json_key_count(json, "standing", comparison->n_standing);
  json_key_count(json, "certainty_only", comparison->n_certainty);
  moves_json(json, "leading_moves", comparison->leading_moves, comparison->n_leading_moves);
  moves_json(json, "drill_moves", comparison->drill_moves, comparison->n_drill_moves);
  standings_json(json, comparison);
  regions_json(json, comparison);
  json_end(json);
}

void comparison_json(struct json *json, const struct comparison *comparison) {
  json_object(json);
  json_key_string(json, "schema", "whymiss-comparison");
  json_key_count(json, "schema_version", 1);
  json_key(json, "old_digest");
  json_digest(json, comparison->networks[OLD_SIDE]->digest);
  json_key(json, "new_digest");
  json_digest(json, comparison->networks[NEW_SIDE]->digest);
  json_key_object(json, "counts");
  for (size_t i = 0; i <= CASE_WORSE; i++)
    json_key_count(json, change_words[i], comparison->n_of_change[i]);
  json_end(json);
  json_key_list(json, "cases");
  for (size_t i = 0; i < comparison->n_cases; i++) case_json(json, &comparison->cases[i]);
  json_end(json);
  samples_json(json, comparison);
  json_end(json);
}
