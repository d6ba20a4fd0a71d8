/* A session on paper: what was understood of the table, then a section for each club; as text or as
 * JSON. Says what session/ found; decides nothing. Writes into the caller's text, temporaries go
 * into its arena; the session is only read and must have been diagnosed. One thread at a time for a
 * text. */
#ifndef WM_RENDER_SESSION_H
#define WM_RENDER_SESSION_H

#include "render/json.h"
#include "session/session.h"

/* 79 columns; emphasis: labels in bold by terminal codes. */
void session_text(struct text *out, const struct session *session, bool emphasis);
/* One object, docs/schemas/session.schema.json. */
void session_json(struct json *json, const struct session *session);

#endif
