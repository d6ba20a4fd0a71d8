#include "workshop/translate.h"

#include <string.h>

bool translation_make(struct translation *translation, struct arena *arena,
                      const struct model *from, const struct model *to) {
  *translation = (struct translation){.from = from, .to = to};
  translation->evidence = arena_new_array(arena, size_t, from->n_evidence + 1);
  translation->claims = arena_new_array(arena, size_t, from->n_claims + 1);
  if (!translation->evidence || !translation->claims) return false;
  for (size_t i = 0; i < from->n_evidence; i++) {
    size_t found = model_find_evidence(to, from->evidence[i].name);
    bool same = found != NO_INDEX && to->evidence[found].kind == from->evidence[i].kind;
    translation->evidence[i] = same ? found : NO_INDEX;
  }
  for (size_t i = 0; i < from->n_claims; i++) {
    size_t found = model_find_claim(to, from->claims[i].name);
    bool same = found != NO_INDEX && to->claims[found].kind == from->claims[i].kind;
    translation->claims[i] = same ? found : NO_INDEX;
  }
  return true;
}

static size_t find_choice(const struct evidence *evidence, const char *name) {
  for (size_t i = 0; i < evidence->n_choices; i++)
    if (strcmp(evidence->choices[i].name, name) == 0) return i;
  return NO_INDEX;
}

bool translate_value(const struct translation *translation, const struct value *value,
                     struct value *out) {
  size_t evidence = translation->evidence[value->evidence];
  if (evidence == NO_INDEX) return false;
  const struct evidence *from = &translation->from->evidence[value->evidence];
  const struct evidence *to = &translation->to->evidence[evidence];
  *out = *value;
  out->evidence = evidence;
  if (from->kind == EVIDENCE_NUMBER) {
    out->number = golf_unit_convert(value->number, from->unit, to->unit);
    out->error = golf_unit_convert_error(value->error, from->unit, to->unit);
    return out->number == out->number; /* units of another dimension give no number */
  }
  if (from->kind == EVIDENCE_TEXT) return true;
  out->choice = find_choice(to, from->choices[value->choice].name);
  return out->choice != NO_INDEX;
}

/* The claims the other base has; *lost counts those it has not. */
static const size_t *translate_claims(struct arena *arena, const struct translation *translation,
                                      const size_t *claims, size_t *n, size_t *lost) {
  size_t *found = arena_new_array(arena, size_t, *n + 1), kept = 0;
  for (size_t i = 0; found && i < *n; i++) {
    size_t claim = translation->claims[claims[i]];
    if (claim == NO_INDEX) ++*lost;
    else found[kept++] = claim;
  }
  *n = kept;
  return found;
}

/* A claim expected, or none; *lost when the other base lacks it. */
static size_t translate_claim(const struct translation *translation, size_t claim, size_t *lost) {
  if (claim == NO_INDEX) return NO_INDEX;
  *lost += translation->claims[claim] == NO_INDEX;
  return translation->claims[claim];
}

bool translate_case(struct arena *arena, const struct translation *translation,
                    const struct worked_case *worked, struct worked_case *out, bool *impossible) {
  struct value *values = arena_new_array(arena, struct value, worked->n_values + 1);
  size_t n = 0, lost = 0, not_meant = 0;
  if (!values) return false;
  for (size_t i = 0; i < worked->n_values; i++)
    n += translate_value(translation, &worked->values[i], &values[n]);
  *out = *worked;
  out->values = values;
  out->n_values = n;
  out->leading = translate_claim(translation, worked->leading, &lost);
  out->drill = translate_claim(translation, worked->drill, &lost);
  out->believed = translate_claims(arena, translation, worked->believed, &out->n_believed, &lost);
  out->not_believed =
      translate_claims(arena, translation, worked->not_believed, &out->n_not_believed, &not_meant);
  *impossible = lost > 0;
  return out->believed && out->not_believed;
}
