/* What check found, as JSON and as SARIF 2.1.0; text is the diagnostics' own form. Each finding
 * with its places on all sides, its witness and, where an entry accepts it, the reason. Writes into
 * the caller's JSON; decides nothing. */
#ifndef WM_RENDER_INSPECTION_H
#define WM_RENDER_INSPECTION_H

#include "render/json.h"
#include "workshop/check.h"

struct inspection {
  const struct diags *diags;         /* faults found on loading, or NULL */
  const struct check_report *report; /* NULL: there is no knowledge to look at */
  const char *version;               /* of the program */
};

/* docs/schemas/check.schema.json */
void inspection_json(struct json *json, const struct inspection *inspection);
/* The published schema sarif-schema-2.1.0.json. */
void inspection_sarif(struct json *json, const struct inspection *inspection);
/* A code, its wording and its explanation. */
void explanation_text(struct text *out, enum diag_code code);
/* "error", "warning", "note" */
const char *level_word(enum diag_level level);

#endif
