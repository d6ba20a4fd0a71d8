/* A retest on paper: the verdict with its reason, the number that was to move, what got worse, what
 * was gained, and all figures before and after; as text or as JSON. Says what session/ found;
 * decides nothing. Writes into the caller's text; the retest is only read and must have been made.
 * One thread at a time for a text. */
#ifndef WM_RENDER_RETEST_H
#define WM_RENDER_RETEST_H

#include "render/json.h"
#include "session/retest.h"

/* 79 columns; emphasis: labels in bold by terminal codes. */
void retest_text(struct text *out, const struct retest *retest, bool emphasis);
/* One object, docs/schemas/retest.schema.json. looks: those of a stream of shots. */
void retest_json(struct json *json, const struct retest *retest, const struct look *looks,
                 size_t n_looks);

/* "keep", "progress", "change drill", "too early to say" */
const char *verdict_words(enum retest_verdict verdict);
/* Why, in one sentence. */
void verdict_reason_words(struct text *out, const struct retest *retest,
                          const struct club_retest *club);
/* A line for each shot of a stream: what it was, where the mean stands, go on or stop. before: the
 * block that the target is of. */
void look_words(struct text *out, const struct session *before, const struct block *block,
                const struct target *target, const struct look *look, double reading);

#endif
