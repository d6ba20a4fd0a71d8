/* What an edit changes, as text and as JSON. Writes into the caller's text. */
#ifndef WM_RENDER_COMPARISON_H
#define WM_RENDER_COMPARISON_H

#include "render/json.h"
#include "workshop/compare.h"

void comparison_text(struct text *out, const struct comparison *comparison);
/* One object. */
void comparison_json(struct json *json, const struct comparison *comparison);

#endif
