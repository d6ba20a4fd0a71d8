/* The table of coverage and what is not covered, as text and as JSON. Writes into the caller's
 * text. */
#ifndef WM_RENDER_COVERAGE_H
#define WM_RENDER_COVERAGE_H

#include "render/json.h"
#include "workshop/coverage.h"

/* A table of whole percents, then a line for each that is not covered: file:line:column first. */
void coverage_text(struct text *out, const struct coverage *coverage, size_t n_cases);
/* A row of such a table: words, n of so many, whole percent. */
void coverage_row(struct text *out, const char *words, size_t n, size_t of);
/* One object. */
void coverage_json(struct json *json, const struct coverage *coverage, size_t n_cases);

#endif
