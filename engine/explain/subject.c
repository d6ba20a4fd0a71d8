/* What a name given by the reader stands for. */
#include <string.h>

#include "explain/explain.h"

#define KINDS 6

/* Prefixes that ask for one kind; finding, cause and drill share one space of names. */
static const struct {
  const char *word;
  enum subject_kind kind;
} PREFIXES[] = {
    {"evidence", SUBJECT_EVIDENCE}, {"finding", SUBJECT_CLAIM}, {"cause", SUBJECT_CLAIM},
    {"drill", SUBJECT_CLAIM},       {"rule", SUBJECT_RULE},     {"club", SUBJECT_CLUB},
    {"source", SUBJECT_REFERENCE},  {"case", SUBJECT_CASE},
};

static size_t find_of_kind(const struct model *model, enum subject_kind kind, const char *name) {
  switch (kind) {
  case SUBJECT_EVIDENCE: return model_find_evidence(model, name);
  case SUBJECT_CLAIM: return model_find_claim(model, name);
  case SUBJECT_RULE: return model_find_rule(model, name);
  case SUBJECT_CLUB: {
    uint32_t i = names_find(model->club_names, name, strlen(name));
    return i == NAMES_NONE ? NO_INDEX : i;
  }
  case SUBJECT_REFERENCE: {
    uint32_t i = names_find(model->reference_names, name, strlen(name));
    return i == NAMES_NONE ? NO_INDEX : i;
  }
  case SUBJECT_CASE:
    for (size_t i = 0; i < model->n_cases; i++)
      if (strcmp(model->cases[i].name, name) == 0) return i;
    return NO_INDEX;
  }
  return NO_INDEX;
}

/* The kind asked for by "rule:..." and how much of the name that takes; 0 when there is no prefix.
 */
static size_t read_prefix(const char *name, enum subject_kind *kind) {
  for (size_t i = 0; i < sizeof PREFIXES / sizeof *PREFIXES; i++) {
    size_t n = strlen(PREFIXES[i].word);
    if (strncmp(name, PREFIXES[i].word, n) != 0 || name[n] != ':') continue;
    *kind = PREFIXES[i].kind;
    return n + 1;
  }
  return 0;
}

static size_t count_of_kind(const struct model *model, enum subject_kind kind) {
  const size_t counts[KINDS] = {model->n_evidence, model->n_claims,     model->n_rules,
                                model->n_clubs,    model->n_references, model->n_cases};
  return counts[kind];
}

static void report_unknown(const struct model *model, struct diags *diags, struct span at,
                           const char *name, bool in_case) {
  enum subject_kind last = in_case ? SUBJECT_RULE : SUBJECT_CASE;
  struct diag *diag =
      DIAG(diags, UNKNOWN_NAME, at,
           in_case ? "evidence, finding, cause, drill or rule" : "entry of the knowledge", name);
  size_t n = 0, room = 0;
  for (int kind = SUBJECT_EVIDENCE; kind <= (int)last; kind++)
    room += count_of_kind(model, (enum subject_kind)kind);
  const char **names = arena_new_array(diags->arena, const char *, room != 0 ? room : 1);
  if (diag == NULL || names == NULL) return;
  for (int kind = SUBJECT_EVIDENCE; kind <= (int)last; kind++) {
    for (size_t i = 0; i < count_of_kind(model, (enum subject_kind)kind); i++)
      names[n++] = subject_name(model, (struct subject){(enum subject_kind)kind, i});
  }
  diag_nearest(diags, diag, name, names, n);
}

bool subject_find(const struct model *model, struct diags *diags, struct span at, const char *name,
                  bool in_case, struct subject *subject) {
  enum subject_kind first = SUBJECT_EVIDENCE, last = in_case ? SUBJECT_RULE : SUBJECT_CASE;
  size_t skip = read_prefix(name, &first);
  if (skip != 0 && first <= last) last = first;
  for (int kind = (int)first; kind <= (int)last; kind++) {
    size_t index = find_of_kind(model, (enum subject_kind)kind, name + skip);
    if (index == NO_INDEX) continue;
    *subject = (struct subject){(enum subject_kind)kind, index};
    return true;
  }
  report_unknown(model, diags, at, name + skip, in_case);
  return false;
}

const char *subject_kind_word(const struct model *model, struct subject subject) {
  switch (subject.kind) {
  case SUBJECT_EVIDENCE: return "evidence";
  case SUBJECT_CLAIM: return claim_kind_word(model->claims[subject.index].kind);
  case SUBJECT_RULE: return "rule";
  case SUBJECT_CLUB: return "club";
  case SUBJECT_REFERENCE: return "source";
  case SUBJECT_CASE: return "case";
  }
  return "";
}

const char *subject_name(const struct model *model, struct subject subject) {
  switch (subject.kind) {
  case SUBJECT_EVIDENCE: return model->evidence[subject.index].name;
  case SUBJECT_CLAIM: return model->claims[subject.index].name;
  case SUBJECT_RULE: return model->rules[subject.index].name;
  case SUBJECT_CLUB: return model->clubs[subject.index].name;
  case SUBJECT_REFERENCE: return model->references[subject.index].name;
  case SUBJECT_CASE: return model->cases[subject.index].name;
  }
  return "";
}

struct span subject_span(const struct model *model, struct subject subject) {
  switch (subject.kind) {
  case SUBJECT_EVIDENCE: return model->evidence[subject.index].at;
  case SUBJECT_CLAIM: return model->claims[subject.index].at;
  case SUBJECT_RULE: return model->rules[subject.index].at;
  case SUBJECT_CLUB: return model->clubs[subject.index].at;
  case SUBJECT_REFERENCE: return model->references[subject.index].at;
  case SUBJECT_CASE: return model->cases[subject.index].at;
  }
  return (struct span){0};
}
