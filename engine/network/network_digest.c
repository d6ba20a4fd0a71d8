/* The fingerprint of a knowledge base: the canonical print, which holds what decides an answer, and
 * then every text and picture a reader would be shown. */
#include <string.h>

#include "model/formula.h"
#include "network/network.h"

static uint64_t digest_string(uint64_t digest, const char *string) {
  return string ? digest_bytes(digest, string, strlen(string) + 1) : digest_bytes(digest, "", 1);
}

static uint64_t digest_wording(uint64_t digest, const struct wording *wording) {
  for (size_t i = 0; i < wording->n; i++) {
    char kind = (char)wording->parts[i].kind;
    digest = digest_bytes(digest, &kind, 1);
    digest = digest_string(digest, wording->parts[i].text);
  }
  return digest_bytes(digest, "", 1);
}

static uint64_t digest_number(uint64_t digest, double number) {
  char printed[NUMBER_ROOM];
  return digest_bytes(digest, printed, number_print(printed, number) + 1);
}

static uint64_t digest_objects(uint64_t digest, const struct drill *drill) {
  for (size_t i = 0; i < drill->n_objects; i++) {
    const struct drill_object *object = &drill->objects[i];
    const double places[] = {object->ahead, object->out, object->height, object->length,
                             object->angle};
    digest = digest_string(digest, object->object);
    for (size_t k = 0; k < sizeof places / sizeof places[0]; k++)
      digest = digest_number(digest, places[k]);
  }
  return digest;
}

static uint64_t digest_drill(uint64_t digest, const struct drill *drill) {
  const struct wording *const texts[] = {&drill->aim,      &drill->setup,  &drill->dose,
                                         &drill->seen,     &drill->spoils, &drill->fallback,
                                         &drill->drop_when};
  for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
    digest = digest_wording(digest, texts[i]);
  for (size_t i = 0; i < drill->n_cautions; i++)
    digest = digest_wording(digest, &drill->cautions[i]);
  return digest_objects(digest, drill);
}

static uint64_t digest_claim(uint64_t digest, const struct model *model,
                             const struct claim *claim) {
  digest = digest_wording(digest, &claim->title);
  digest = digest_wording(digest, &claim->about);
  digest = digest_wording(digest, &claim->red_flag);
  digest = digest_wording(digest, &claim->tell_apart);
  digest = digest_string(digest, claim->area);
  digest = digest_string(digest, source_word(model, claim->source));
  return claim->drill ? digest_drill(digest, claim->drill) : digest;
}

static uint64_t digest_evidence(uint64_t digest, const struct model *model,
                                const struct evidence *evidence) {
  digest = digest_string(digest, evidence->title);
  digest = digest_wording(digest, &evidence->about);
  digest = digest_wording(digest, &evidence->ask);
  digest = digest_string(digest, evidence->minus);
  digest = digest_string(digest, evidence->plus);
  for (size_t i = 0; i < evidence->n_choices; i++)
    digest = digest_wording(digest, &evidence->choices[i].title);
  for (size_t i = 0; i < evidence->n_formulas; i++)
    digest = digest_number(digest, evidence->formulas[i]->error);
  return digest_string(digest, source_word(model, evidence->source));
}

static uint64_t digest_column(uint64_t digest, const struct model *model,
                              const struct column *column) {
  char kind = (char)(2 * (int)column->means + column->rows);
  digest = digest_string(digest, column->name);
  digest = digest_string(digest, column->written);
  digest = digest_bytes(digest, &kind, 1);
  digest = digest_string(
      digest, column->evidence == NO_INDEX ? NULL : model->evidence[column->evidence].name);
  return digest_string(digest, column->unit ? column->unit->name : NULL);
}

static uint64_t digest_sorting(uint64_t digest, const struct sorting *sorting) {
  for (size_t i = 0; i < sorting->n_of; i++)
    digest = digest_string(digest, sorting->of[i]->printed);
  return digest_number(digest, sorting->within);
}

static uint64_t digest_window(uint64_t digest, const struct model *model,
                              const struct window *window) {
  digest = digest_string(digest, window->name);
  digest = digest_string(digest, window->title);
  digest = digest_sorting(digest, &window->start);
  digest = digest_sorting(digest, &window->curve);
  digest = digest_sorting(digest, &window->finish);
  for (size_t i = 0; i < FLIGHTS; i++) digest = digest_wording(digest, &window->flights[i]);
  for (size_t i = 0; i < window->n_ellipses; i++)
    for (size_t k = 0; k < 2; k++)
      digest = digest_string(digest, model->evidence[window->ellipses[i][k]].name);
  for (size_t i = 0; i < window->n_scatters; i++) {
    digest = digest_string(digest, model->evidence[window->scatters[i].evidence].name);
    digest = digest_string(digest, model->evidence[window->scatters[i].of].name);
  }
  if (window->both_ways != NO_INDEX)
    digest = digest_string(digest, model->evidence[window->both_ways].name);
  return digest_string(digest, source_word(model, window->source));
}

uint64_t network_digest(const struct network *network, const char *printed, size_t n) {
  const struct model *model = network->model;
  uint64_t digest = digest_bytes(DIGEST_START, printed, n);
  for (size_t i = 0; i < model->n_evidence; i++)
    digest = digest_evidence(digest, model, &model->evidence[i]);
  for (size_t i = 0; i < model->n_claims; i++)
    digest = digest_claim(digest, model, &model->claims[i]);
  for (size_t i = 0; i < model->n_rules; i++) {
    digest = digest_wording(digest, &model->rules[i].because);
    digest = digest_wording(digest, &model->rules[i].learner);
    digest = digest_string(digest, rule_kind_word(model->rules[i].kind));
    digest = digest_string(digest, source_word(model, model->rules[i].source));
  }
  for (size_t i = 0; i < model->n_columns; i++)
    digest = digest_column(digest, model, &model->columns[i]);
  for (size_t i = 0; i < model->n_windows; i++)
    digest = digest_window(digest, model, &model->windows[i]);
  return digest;
}
