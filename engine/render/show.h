/* An entry of the knowledge as it stands, without a case: text and JSON.
 * Title, meaning, ranges, who reads it, who concludes it, what it is for, source in full, place in
 * its file. Writes into the caller's text, temporaries go into its arena; the network is only read.
 */
#ifndef WM_RENDER_SHOW_H
#define WM_RENDER_SHOW_H

#include "explain/explain.h"
#include "render/json.h"

/* Sides are spoken for the hand given. */
void show_text(struct text *out, const struct network *network, struct subject subject,
               enum hand hand);
void show_json(struct json *json, const struct network *network, struct subject subject,
               enum hand hand);
/* The trade's functions a formula may call, one a line. */
void show_functions_text(struct text *out);
void show_functions_json(struct json *json);

#endif
