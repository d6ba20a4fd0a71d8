/* Gathers what the parts find, sets acceptances against it, sorts, and names the witnesses. */
#include "workshop/check.h"

#include <stdlib.h>
#include <string.h>

#include "workshop/check_parts.h"

/* ---- gathering ---- */

struct check_finding *check_add(struct checker *checker, enum diag_code code, struct span at,
                                struct span entry, const char *const words[]) {
  diag_add(&checker->diags, code, at, words);
  struct check_finding *finding = array_push(checker->arena, &checker->found);
  if (!finding) return NULL;
  check_about(checker, finding, entry);
  return finding;
}

/* Of the latest finding, which is the last of the list as long as it has not been sorted. */
void check_note(struct checker *checker, struct span at, const char *text) {
  if (text && checker->diags.list.n > 0)
    diag_note(&checker->diags, &checker->diags.list.at[checker->diags.list.n - 1], at, text);
}

void check_about(struct checker *checker, struct check_finding *finding, struct span entry) {
  if (!finding) return;
  struct span *entries = arena_new_array(checker->arena, struct span, finding->n_entries + 1);
  if (!entries) return;
  if (finding->n_entries > 0)
    memcpy(entries, finding->entries, finding->n_entries * sizeof *entries);
  entries[finding->n_entries++] = entry;
  finding->entries = entries;
}

const char *check_number(struct checker *checker, double number) {
  struct text text;
  text_init(&text, checker->arena);
  text_fixed(&text, number, 2);
  const char *done = text_done(&text);
  return done ? done : "";
}

/* ---- acceptances ---- */

static bool is_about(const struct check_finding *finding, const struct span *entry) {
  for (size_t i = 0; i < finding->n_entries; i++)
    if (finding->entries[i].source == entry->source &&
        span_compare(&finding->entries[i], entry) == 0)
      return true;
  return false;
}

/* Whether the search was wide enough to say that a finding is gone. */
static bool was_looked_for(const struct checker *checker, enum diag_code code) {
  bool thorough = checker->options.thorough;
  if (code == DIAG_GAP_FINDING || code == DIAG_GAP_CAUSE)
    return thorough && checker->options.samples >= CHECK_SAMPLES_THOROUGH;
  return thorough || (code != DIAG_NO_CASE_FOUND && code != DIAG_DRILL_NEVER_FIRST);
}

static bool accept_findings(struct checker *checker, const struct acceptance *acceptance) {
  bool used = false;
  for (size_t i = 0; i < checker->found.n; i++) {
    struct check_finding *finding = &checker->found.at[i];
    if (checker->diags.list.at[i].code != acceptance->code ||
        !is_about(finding, &acceptance->entry))
      continue;
    finding->accepted = acceptance;
    used = true;
  }
  return used;
}

static void set_acceptances(struct checker *checker) {
  for (size_t i = 0; i < checker->model->n_acceptances; i++) {
    const struct acceptance *acceptance = &checker->model->acceptances[i];
    if (accept_findings(checker, acceptance)) continue;
    if (was_looked_for(checker, acceptance->code))
      FIND(checker, ACCEPT_UNUSED, acceptance->at, acceptance->entry, diag_word(acceptance->code));
  }
}

/* ---- witnesses in words ---- */

static bool is_plain(const char *text) {
  for (; *text; text++)
    if (!(*text >= 'a' && *text <= 'z') && !(*text >= 'A' && *text <= 'Z') &&
        !(*text >= '0' && *text <= '9') && !strchr("_=.+-,:/@%", *text))
      return false;
  return true;
}

static void add_number(struct text *out, const struct evidence *evidence, const struct value *value,
                       const char *plus_minus) {
  text_number(out, value->number);
  if (value->error < evidence->error || value->error > evidence->error) {
    text_add(out, plus_minus);
    text_number(out, value->error);
  }
}

static void add_value(struct text *out, const struct model *model, const struct value *value,
                      const char *plus_minus) {
  const struct evidence *evidence = &model->evidence[value->evidence];
  if (evidence->kind == EVIDENCE_NUMBER) add_number(out, evidence, value, plus_minus);
  else if (evidence->kind == EVIDENCE_TEXT) text_add(out, value->text);
  else text_add(out, evidence->choices[value->choice].name);
}

/* One argument of a shell: as it is, or in single quotes. */
static void add_argument(struct text *out, const char *argument) {
  if (is_plain(argument)) {
    text_add(out, argument);
    return;
  }
  text_add(out, "'");
  for (; *argument; argument++)
    if (*argument == '\'') text_add(out, "'\\''");
    else text_add_char(out, *argument);
  text_add(out, "'");
}

static const char *witness_command(struct arena *arena, const struct model *model,
                                   const struct witness *witness) {
  struct text out;
  text_init(&out, arena);
  text_add(&out, "diagnose");
  for (size_t i = 0; i < witness->n; i++) {
    struct text argument;
    text_init(&argument, arena);
    text_format(&argument, "%s=", model->evidence[witness->values[i].evidence].name);
    add_value(&argument, model, &witness->values[i], "+-");
    text_add(&out, " ");
    add_argument(&out, text_done(&argument) ? text_done(&argument) : "");
  }
  return text_done(&out);
}

/* In double quotes, as YAML and JSON read them. */
static void add_quoted(struct text *out, const char *text) {
  static const char digits[] = "0123456789abcdef";
  text_add(out, "\"");
  for (; *text; text++) {
    unsigned char c = (unsigned char)*text;
    if (c == '"' || c == '\\') text_format(out, "\\%c", c);
    else if (c < 0x20) text_format(out, "\\x%c%c", digits[c >> 4], digits[c & 15]);
    else text_add_char(out, *text);
  }
  text_add(out, "\"");
}

void check_witness_file(struct text *out, const struct model *model,
                        const struct check_finding *finding) {
  text_format(out, "# %s\n- case: %s\n  evidence:\n", diag_word(finding->diag.code), finding->name);
  for (size_t i = 0; i < finding->witness.n; i++) {
    const struct value *value = &finding->witness.values[i];
    text_format(out, "    %s: ", model->evidence[value->evidence].name);
    if (model->evidence[value->evidence].kind == EVIDENCE_TEXT) add_quoted(out, value->text);
    else add_value(out, model, value, " +/- ");
    text_add(out, "\n");
  }
  text_add(out, "  because: ");
  add_quoted(out, finding->diag.message);
  text_add(out, "\n");
}

/* ---- names ---- */

/* The name written at the entry, or "" when it is none that a case may have. */
static const char *entry_name(struct arena *arena, const struct span *entry) {
  size_t n, length = entry->end_column - entry->column;
  const char *line = entry->source ? source_line(entry->source, entry->line, &n) : NULL;
  if (!line || entry->line != entry->end_line || entry->column - 1 + length > n) return "";
  const char *name = arena_copy(arena, line + entry->column - 1, length);
  for (size_t i = 0; name && i < length; i++)
    if (!(name[i] >= 'a' && name[i] <= 'z') && !(name[i] >= '0' && name[i] <= '9') &&
        name[i] != '_' && name[i] != '-')
      return "";
  return name ? name : "";
}

static void name_witness(struct checker *checker, struct names *taken,
                         struct check_finding *finding, size_t index) {
  if (finding->witness.n == 0) return;
  struct text name;
  text_init(&name, checker->arena);
  text_format(&name, "%s-%s", diag_word(finding->diag.code),
              entry_name(checker->arena, &finding->entries[0]));
  size_t length = name.n;
  for (size_t again = 2; text_done(&name) && names_find(taken, name.at, name.n) != NAMES_NONE;
       again++) {
    name.n = length;
    text_format(&name, "-%zu", again);
  }
  const char *done = text_done(&name);
  if (!done) return;
  names_add(taken, done, name.n, (uint32_t)index);
  finding->name = done;
  finding->command = witness_command(checker->arena, checker->model, &finding->witness);
}

/* ---- the report ---- */

static int compare_findings(const void *left, const void *right) {
  const struct check_finding *a = left, *b = right;
  int order = span_compare(&a->diag.at, &b->diag.at);
  if (order == 0) order = (a->diag.code > b->diag.code) - (a->diag.code < b->diag.code);
  return order ? order : (a->diag.order > b->diag.order) - (a->diag.order < b->diag.order);
}

static const struct check_report *make_report(struct checker *checker) {
  struct check_report *report = arena_new_object(checker->arena, struct check_report);
  struct names *taken = names_new(checker->arena);
  size_t n = checker->found.n;
  if (!report || !taken || checker->diags.list.n != n) return NULL;
  for (size_t i = 0; i < n; i++) {
    checker->found.at[i].diag = checker->diags.list.at[i];
    checker->found.at[i].diag.order = i;
  }
  if (n > 0) qsort(checker->found.at, n, sizeof *checker->found.at, compare_findings);
  *report = (struct check_report){.findings = checker->found.at,
                                  .n = n,
                                  .n_impacts = checker->n_impacts,
                                  .seed = checker->options.seed,
                                  .thorough = checker->options.thorough};
  for (size_t i = 0; i < n; i++) {
    const struct check_finding *finding = &checker->found.at[i];
    name_witness(checker, taken, &checker->found.at[i], i);
    report->n_accepted += finding->accepted != NULL;
    report->n_warnings += !finding->accepted && finding->diag.level == DIAG_WARNING;
    report->n_notes += !finding->accepted && finding->diag.level == DIAG_NOTE;
  }
  return report;
}

static void run_parts(struct checker *checker) {
  check_bounds(checker);
  if (!checker->dead) return;
  check_rules(checker);
  check_pairs(checker);
  check_claims(checker);
  check_uses(checker);
  check_phrases(checker);
  check_texts(checker);
  check_patterns(checker);
  check_impacts(checker);
  if (checker->options.thorough) check_reached(checker);
  set_acceptances(checker);
}

const struct check_report *check_knowledge(struct arena *arena, const struct network *network,
                                           const struct check_options *options,
                                           const struct wm_allocator *allocator) {
  struct checker checker = {.arena = arena,
                            .network = network,
                            .model = network->model,
                            .options = *options,
                            .run = run_new(allocator, network),
                            .solver = solver_new(arena, network),
                            .roots = network_roots(arena, network)};
  const struct check_report *report = NULL;
  diags_init(&checker.diags, arena);
  if (checker.options.samples == 0)
    checker.options.samples = options->thorough ? CHECK_SAMPLES_THOROUGH : CHECK_SAMPLES;
  if (checker.run && checker.solver && checker.roots) {
    run_parts(&checker);
    report = make_report(&checker);
  }
  run_free(checker.run);
  return arena_failed(arena) ? NULL : report;
}
