/* Two findings, causes or drills side by side, as text and JSON: what speaks for one and not for
 * the other, and which check would tell them apart. Writes into the caller's text, temporaries go
 * into its arena; the run is only read. */
#ifndef WM_RENDER_CONTRAST_H
#define WM_RENDER_CONTRAST_H

#include "explain/explain.h"
#include "render/json.h"

/* a and b are claim indices; a drill is set beside a drill. */
void contrast_text(struct text *out, const struct run *run, size_t a, size_t b);
void contrast_json(struct json *json, const struct run *run, size_t a, size_t b);

#endif
