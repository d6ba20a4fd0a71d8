/* What a case comes to, as plain lines that stay the same as long as the answer does: made to be
 * kept in a file and compared. Writes into the caller's text. */
#ifndef WM_RENDER_CASE_ANSWERS_H
#define WM_RENDER_CASE_ANSWERS_H

#include "run/run.h"

/* The name and the answer, then every certainty at two decimals that is not 0, by kind and name,
 * then the drills by value. The run is chained on the case. */
void case_answer(struct text *out, const struct run *run, const struct worked_case *worked);

/* The same in a few words, for a list of accepted answers: red flag, leading cause and drill with
 * certainty and value, then a digest of all that case_answer tells. No name, no newline. */
void case_answer_brief(struct text *out, const struct run *run, const struct worked_case *worked);

#endif
