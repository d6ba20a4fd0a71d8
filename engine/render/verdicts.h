/* How worked cases came out: Test Anything Protocol version 14, or JSON.
 * A failing case tells what it expected, what it got, and why not what it should have got; the run
 * it is told with must be chained on that case. Decides nothing. Writes into the caller's text. */
#ifndef WM_RENDER_VERDICTS_H
#define WM_RENDER_VERDICTS_H

#include "render/json.h"
#include "workshop/cases.h"

/* "TAP version 14" and the plan. */
void verdicts_tap_start(struct text *out, size_t n);
/* The line of one case, numbered from 1; when it failed, a YAML block behind it. */
void verdict_tap(struct text *out, const struct run *run, const struct verdict *verdict,
                 size_t number);
/* The counts, as a comment. */
void verdicts_tap_end(struct text *out, const struct verdict *verdicts, size_t n);

/* One case as an object. */
void verdict_json(struct json *json, const struct run *run, const struct verdict *verdict);
/* The counts as the value of a key. */
void verdicts_counts_json(struct json *json, const struct verdict *verdicts, size_t n);

#endif
