/* The chain of steps as text and as JSON: what was read, what was derived from it, which rules
 * fired, what they came to. Prints every number a reader needs to redo each step; decides nothing.
 * Writes into the caller's text, temporaries go into its arena. One thread at a time for a text;
 * the run is only read. */
#ifndef WM_RENDER_STEPS_H
#define WM_RENDER_STEPS_H

#include "explain/explain.h"
#include "render/json.h"

/* The numbered chain behind the answer; with `all` also what did not matter for it, the rules that
 * failed and those not known. */
void steps_text(struct text *out, const struct run *run, bool all);
/* The same as one JSON object, numbers in full. */
void steps_json(struct json *json, const struct run *run, bool all);
/* A chain made by explain/, numbered from 1, and its JSON list. */
void steps_chain_text(struct text *out, const struct run *run, const struct chain *chain);
void steps_chain_json(struct json *json, const struct run *run, const struct chain *chain);

#endif
