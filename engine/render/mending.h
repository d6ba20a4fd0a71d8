/* The edits that would set a case right, as text and as JSON. Writes into the caller's text. */
#ifndef WM_RENDER_MENDING_H
#define WM_RENDER_MENDING_H

#include "render/json.h"
#include "workshop/mend.h"

void mending_text(struct text *out, const struct network *network, const struct mending *mending);
/* One object. */
void mending_json(struct json *json, const struct network *network, const struct mending *mending);

#endif
