/* Answers of worked cases accepted earlier: a file of lines "case: answer", as
 * render/case_answers.h words them, so that a change nobody expected is noticed whatever the cases
 * expect. Reads the lines; what a case comes to now is for the caller to word. The list lives in
 * the arena given and borrows the source and the model. */
#ifndef WM_WORKSHOP_ACCEPTED_H
#define WM_WORKSHOP_ACCEPTED_H

#include "diag/diag.h"
#include "model/model.h"

struct accepted {
  const char **answers; /* by worked case of the model; NULL: none accepted */
  size_t n;
};

/* Empty lines and those that start with '#' are passed over. False, and an error for each, when a
 * line is no answer, names no worked case or one a second time. */
bool accepted_read(struct arena *arena, struct diags *diags, const struct model *model,
                   const struct source *source, struct accepted *accepted);
/* The answer accepted for a case; NULL: none, or a case that is none of the model's. */
const char *accepted_answer(const struct accepted *accepted, const struct model *model,
                            const struct worked_case *worked);

#endif
