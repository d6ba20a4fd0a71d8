/* Why something is as it is in this case, and why something else is not: text and JSON.
 * Writes into the caller's text, temporaries go into its arena; the run is only read and must have
 * been chained. Subjects are evidence, claims and rules (subject_find with in_case). Lines fit 80
 * columns. */
#ifndef WM_RENDER_WHY_H
#define WM_RENDER_WHY_H

#include "explain/explain.h"
#include "render/json.h"

void why_text(struct text *out, const struct run *run, struct subject subject);
/* One JSON object. */
void why_json(struct json *json, const struct run *run, struct subject subject);
/* Why it is not known, not believed, not leading, not chosen, has not fired: what was nearest and
 * by how much it missed. Where it is so after all, that is said. */
void whynot_text(struct text *out, const struct run *run, struct subject subject);
void whynot_json(struct json *json, const struct run *run, struct subject subject);

#endif
