/* Formulas of the rule language: read once, evaluated often.
 * A formula knows the evidence it reads; its value is computed from their values. It knows nothing
 * of errors: see run/derive.c. */
#ifndef WM_MODEL_FORMULA_H
#define WM_MODEL_FORMULA_H

#include "model/model.h"

#define FORMULA_INPUTS_MAX 16

struct formula_node;

struct formula {
  const char *text;    /* as written */
  const char *printed; /* the canonical form */
  const struct formula_node *root;
  size_t *inputs; /* indices of evidence, each once, sorted */
  size_t n_inputs;
  double error; /* of the formula itself, one standard error in the unit of the evidence it fills */
  const struct formula
      *doubt;      /* that error as a formula of its own, whose size counts; NULL: error is it */
  bool comparison; /* the value is left - right of a >, or right - left of a < */
  struct span at;
};

/* Reads a formula; names are looked up among the model's evidence. NULL after a diagnostic placed
 * inside the text. */
struct formula *formula_read(struct arena *arena, struct diags *diags, const struct model *model,
                             const char *text, struct span at, bool comparison);
/* The value for the inputs, given in the order of formula->inputs; NaN outside a function's domain.
 */
double formula_value(const struct formula *formula, const double *inputs);

#endif
