/* An answer, or what is wrong with a question, as one line of JSON: what a stream of many cases
 * writes. The short form names what matters; the whole diagnosis is answer.h's. Writes into the
 * caller's text; decides nothing. One thread at a time for a text. */
#ifndef WM_RENDER_ANSWER_LINE_H
#define WM_RENDER_ANSWER_LINE_H

#include "input/node.h"
#include "render/json.h"
#include "run/run.h"

/* {"id": ..., "line": n, "verdict": ..., "leading": ..., ...}; id NULL: null. With `whole` the
 * member "diagnosis" holds all. */
void answer_line(struct json *json, const struct run *run, const struct node *id, size_t line,
                 bool whole);
/* {"id": ..., "line": n, "errors": [{"code", "column", "message", "hint"}]} */
void error_line(struct json *json, const struct diags *diags, const struct node *id, size_t line);

#endif
