/* What a change of the evidence changes in the answer, as text and JSON: readings, findings,
 * causes, drill. Both runs must be chained and of the same network (see change_run). Writes into
 * the caller's text, temporaries go into its arena. */
#ifndef WM_RENDER_WHATIF_H
#define WM_RENDER_WHATIF_H

#include "explain/explain.h"
#include "render/json.h"

void whatif_text(struct text *out, const struct run *before, const struct run *after);
void whatif_json(struct json *json, const struct run *before, const struct run *after);

#endif
