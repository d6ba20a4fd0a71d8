/* Any bytes as a formula: a fault with a place inside them, or a formula that has the same print
 * and the same value when its print is read again. */
#include <math.h>

#include "fixture.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

static const struct model *fixture_model(void) {
  static const struct model *model;
  static struct diags diags;
  if (model == NULL) model = fixture_read(arena_new(NULL), NULL, &diags);
  require(model != NULL);
  return model;
}

static double value_of(const struct formula *formula) {
  double inputs[FORMULA_INPUTS_MAX];
  for (size_t i = 0; i < formula->n_inputs; i++) inputs[i] = 1.5 * (double)formula->inputs[i] - 4;
  return formula_value(formula, inputs);
}

static void check_formula(struct arena *arena, struct diags *diags, const struct formula *formula) {
  struct span nowhere = {0};
  require(formula->n_inputs <= FORMULA_INPUTS_MAX);
  for (size_t i = 1; i < formula->n_inputs; i++)
    require(formula->inputs[i - 1] < formula->inputs[i]);
  const struct formula *again =
      formula_read(arena, diags, fixture_model(), formula->printed, nowhere, formula->comparison);
  if (again == NULL) { /* the print may go past the limits of depth, never past anything else */
    require(diags->errors == 1 && strstr(diags->list.at[0].message, "too") != NULL);
    return;
  }
  double once = value_of(formula), twice = value_of(again);
  require(once == twice || (isnan(once) && isnan(twice)));
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
  if (n == 0) return 0;
  struct arena *arena = arena_new(NULL);
  char *text = arena_copy(arena, (const char *)bytes + 1, n - 1);
  struct source source = {.name = "formula", .bytes = text, .n = strlen(text)};
  struct span at = {&source, 1, 1, 1, 1 + (uint32_t)source.n};
  struct diags diags;
  diags_init(&diags, arena);
  const struct formula *formula =
      formula_read(arena, &diags, fixture_model(), text, at, bytes[0] % 2 != 0);
  require((formula != NULL) == (diags.errors == 0));
  if (formula) check_formula(arena, &diags, formula);
  else fixture_check_printed(arena, &diags);
  arena_free(arena);
  return 0;
}
