/* What nothing reads, what names no source, and cautions that say nothing. */
#include "model/formula.h"
#include "model/phrase.h"
#include "workshop/check_parts.h"

/* ---- uses of evidence ---- */

static void mark(bool *used, size_t evidence) {
  if (evidence != NO_INDEX) used[evidence] = true;
}

static void mark_formula(bool *used, const struct formula *formula) {
  for (size_t i = 0; i < formula->n_inputs; i++) used[formula->inputs[i]] = true;
  if (formula->doubt) mark_formula(used, formula->doubt);
}

static void mark_wording(bool *used, const struct wording *wording) {
  for (size_t i = 0; i < wording->n; i++)
    if (wording->parts[i].kind == WORDING_VALUE) mark(used, wording->parts[i].evidence);
}

static void mark_tests(bool *used, const struct network *network) {
  for (size_t i = 0; i < network->n_tests; i++) {
    const struct condition *condition = network->tests[i].condition;
    mark(used, condition->evidence);
    if (condition->formula) mark_formula(used, condition->formula);
  }
}

/* An evidence that a club fills makes the club itself of use. */
static void mark_evidence(bool *used, const struct model *model) {
  for (size_t i = 0; i < model->n_evidence; i++) {
    const struct evidence *evidence = &model->evidence[i];
    for (size_t k = 0; k < evidence->n_formulas; k++) mark_formula(used, evidence->formulas[k]);
    mark_wording(used, &evidence->about);
    mark_wording(used, &evidence->ask);
    if (evidence->from_club != CLUB_NONE) mark(used, model->club_evidence);
  }
}

static void mark_drill(bool *used, const struct drill *drill) {
  const struct wording *texts[] = {&drill->aim,       &drill->setup,  &drill->dose,    &drill->seen,
                                   &drill->drop_when, &drill->spoils, &drill->fallback};
  if (drill->works) mark(used, drill->works->evidence);
  for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) mark_wording(used, texts[i]);
  for (size_t i = 0; i < drill->n_cautions; i++) mark_wording(used, &drill->cautions[i]);
}

static void mark_claims(bool *used, const struct model *model) {
  for (size_t i = 0; i < model->n_claims; i++) {
    const struct claim *claim = &model->claims[i];
    const struct wording *texts[] = {&claim->title, &claim->about, &claim->red_flag,
                                     &claim->tell_apart};
    for (size_t k = 0; k < sizeof texts / sizeof texts[0]; k++) mark_wording(used, texts[k]);
    if (claim->drill) mark_drill(used, claim->drill);
  }
}

static void mark_rules(bool *used, const struct model *model) {
  for (size_t i = 0; i < model->n_rules; i++) {
    mark_wording(used, &model->rules[i].because);
    mark_wording(used, &model->rules[i].learner);
  }
}

static void mark_sorting(bool *used, const struct sorting *sorting) {
  for (size_t i = 0; i < sorting->n_of; i++) mark_formula(used, sorting->of[i]);
}

/* Tables of shots are read into evidence, sorted and drawn by it. */
static void mark_tables(bool *used, const struct model *model) {
  for (size_t i = 0; i < model->n_columns; i++) mark(used, model->columns[i].evidence);
  for (size_t i = 0; i < model->n_windows; i++) {
    const struct window *window = &model->windows[i];
    mark_sorting(used, &window->start);
    mark_sorting(used, &window->curve);
    mark_sorting(used, &window->finish);
    for (size_t k = 0; k < FLIGHTS; k++) mark_wording(used, &window->flights[k]);
    for (size_t k = 0; k < window->n_ellipses; k++)
      for (size_t side = 0; side < 2; side++) mark(used, window->ellipses[k][side]);
    for (size_t k = 0; k < window->n_scatters; k++) {
      mark(used, window->scatters[k].evidence);
      mark(used, window->scatters[k].of);
    }
    mark(used, window->both_ways);
  }
}

static void mark_phrases(bool *used, const struct model *model) {
  for (size_t i = 0; i < model->n_phrases; i++) {
    const struct phrase *phrase = &model->phrases[i];
    for (size_t k = 0; k < phrase->n_means; k++) mark(used, phrase->means[k].evidence);
    for (size_t k = 0; k < phrase->n_denied; k++) mark(used, phrase->denied[k].evidence);
    if (phrase->kind == PHRASE_BOTH)
      for (size_t k = 0; k < 2; k++) mark(used, phrase->both[k].evidence);
  }
}

static void check_unused(struct checker *checker) {
  const struct model *model = checker->model;
  bool *used = arena_new_array(checker->arena, bool, model->n_evidence + 1);
  if (!used) return;
  mark_tests(used, checker->network);
  mark_evidence(used, model);
  mark_claims(used, model);
  mark_rules(used, model);
  mark_tables(used, model);
  mark_phrases(used, model);
  for (size_t i = 0; i < model->n_evidence; i++)
    if (!used[i])
      FIND(checker, UNUSED, model->evidence[i].at, model->evidence[i].at, "evidence",
           model->evidence[i].name);
}

/* ---- sources ---- */

static void check_source(struct checker *checker, struct source_ref source, const char *kind,
                         const char *name, struct span at) {
  if (source.kind == SOURCE_NONE) FIND(checker, NO_SOURCE, at, at, kind, name);
}

static void check_sources(struct checker *checker) {
  const struct model *model = checker->model;
  for (size_t i = 0; i < model->n_evidence; i++)
    check_source(checker, model->evidence[i].source, "evidence", model->evidence[i].name,
                 model->evidence[i].at);
  for (size_t i = model->first_cause; i < model->n_claims; i++)
    check_source(checker, model->claims[i].source, claim_kind_word(model->claims[i].kind),
                 model->claims[i].name, model->claims[i].at);
  for (size_t i = 0; i < model->n_rules; i++)
    check_source(checker, model->rules[i].source, "rule", model->rules[i].name, model->rules[i].at);
  for (size_t i = 0; i < model->n_clubs; i++)
    check_source(checker, model->clubs[i].source, "club", model->clubs[i].name, model->clubs[i].at);
  for (size_t i = 0; i < model->n_phrases; i++)
    check_source(checker, model->phrases[i].source, "phrase", model->phrases[i].name,
                 model->phrases[i].at);
}

/* ---- cautions ---- */

#define CAUTION_WORDS_MIN 2 /* "Warm up." */
#define CAUTION_LETTERS_MIN 6

static bool is_word_byte(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || ((unsigned char)c & 0x80);
}

static bool says_too_little(const struct wording *caution) {
  size_t words = 0, letters = 0;
  for (size_t i = 0; i < caution->n; i++) {
    const char *at = caution->parts[i].text;
    bool inside = false;
    for (; at && *at; at++) {
      words += is_word_byte(*at) && !inside;
      inside = is_word_byte(*at);
      letters += inside;
    }
  }
  return words < CAUTION_WORDS_MIN || letters < CAUTION_LETTERS_MIN;
}

static const char *caution_text(struct checker *checker, const struct wording *caution) {
  struct text text;
  text_init(&text, checker->arena);
  for (size_t i = 0; i < caution->n; i++)
    if (caution->parts[i].text) text_add(&text, caution->parts[i].text);
  return text_done(&text);
}

static void check_cautions(struct checker *checker) {
  const struct model *model = checker->model;
  for (size_t i = model->first_drill; i < model->n_claims; i++) {
    const struct claim *claim = &model->claims[i];
    for (size_t k = 0; claim->drill && k < claim->drill->n_cautions; k++) {
      const struct wording *caution = &claim->drill->cautions[k];
      const char *text = says_too_little(caution) ? caution_text(checker, caution) : NULL;
      if (text) FIND(checker, SHORT_CAUTION, claim->at, claim->at, text, claim->name);
    }
  }
}

void check_uses(struct checker *checker) {
  check_unused(checker);
  check_sources(checker);
  check_cautions(checker);
}
