/* Finding names in a finished model, and the words for its kinds. */
#include "model/model.h"

#include <string.h>

static size_t find(const struct names *names, const char *name) {
  uint32_t index = names ? names_find(names, name, strlen(name)) : NAMES_NONE;
  return index == NAMES_NONE ? NO_INDEX : index;
}

size_t model_find_evidence(const struct model *model, const char *name) {
  return find(model->evidence_names, name);
}

size_t model_find_claim(const struct model *model, const char *name) {
  return find(model->claim_names, name);
}

size_t model_find_rule(const struct model *model, const char *name) {
  return find(model->rule_names, name);
}

void model_nearest_evidence(const struct model *model, struct diags *diags, struct diag *diag,
                            const char *word) {
  if (diag == NULL) return;
  const char **names = arena_new_array(diags->arena, const char *, model->n_evidence + 1);
  if (names == NULL) return;
  for (size_t i = 0; i < model->n_evidence; i++) names[i] = model->evidence[i].name;
  diag_nearest(diags, diag, word, names, model->n_evidence);
}

const char *claim_kind_word(enum claim_kind kind) {
  static const char *const words[] = {"finding", "cause", "drill"};
  return words[kind];
}

const char *evidence_kind_word(enum evidence_kind kind) {
  static const char *const words[] = {"a number", "a choice of words", "yes or no", "a text",
                                      "a club"};
  return words[kind];
}

const char *rule_kind_word(enum rule_kind kind) {
  static const char *const words[] = {"geometry", "cause_effect", "experience", "convention"};
  return words[kind];
}

const char *effort_word(enum effort effort) {
  static const char *const words[] = {"know", "look", "video", "measure"};
  return words[effort];
}

const char *source_word(const struct model *model, struct source_ref source) {
  switch (source.kind) {
  case SOURCE_PRACTICE: return "practice";
  case SOURCE_MEMORY: return "memory";
  case SOURCE_PUBLISHED: return model->references[source.index].name;
  case SOURCE_NONE: break;
  }
  return "no source";
}
